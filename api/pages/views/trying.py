"""What an estimate would be under other fields: shown beside it, marked as a trial, stored nowhere."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any

from api.pages.exchange import Show, Visit
from api.pages.forms import Input, make_form
from api.pages.views.estimates import head
from api.pages.views.site_fields import CREW, FIELDS, as_typed, crew_inputs, request_typed
from estimating.actions.what_if import what_if
from estimating.queries import requests
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.queries import choices

TRIED = ("method", "wall_barrier", "treated_depth", "substrate", "work_date", "experience", "mobilisations")


def show(visit: Visit) -> Show:
    """GET /estimates/{id}/what-if."""
    return Show("estimates/what_if.html", page_of(visit, None))


def page_of(visit: Visit, found: Any) -> dict[str, Any]:
    """The form with what the estimate was asked for with, or what was tried."""
    values = head(visit)
    stored = as_typed(requests.request_of(company=visit.company, id=visit.id))
    form = make_form(
        inputs_of(visit, stored, values["estimate"]), stored=stored, typed=visit.typed, faults=visit.faults
    )
    crew = [one for one in form.inputs if one.name.startswith(CREW)]
    return values | {"form": form, "crew": crew, "found": found, "part": "what-if"}


def inputs_of(visit: Visit, stored: Mapping[str, str], estimate: Mapping[str, Any]) -> list[Input]:
    """The fields that can be tried, the crew by what is in force."""
    fields = [one for one in FIELDS if one.name in TRIED]
    book, known = read_id(stored.get("rate_book", "")), visit.now
    if book is None:
        return fields
    day = datetime.date.fromisoformat(estimate["work_date"])
    offered = choices.choices(company=visit.company, rate_book=book, work_date=day, known_at=known)
    return [*fields, *crew_inputs(offered.labour)]


def attempt(visit: Visit) -> Show:
    """POST /estimates/{id}/what-if: both prices; nothing is stored. Refused with each field that can't be read."""
    stored = as_typed(requests.request_of(company=visit.company, id=visit.id))
    before, after = (request_typed(one, visit.caller.name) for one in (stored, dict(visit.typed.items())))
    patch = {name: after.get(name) for name in (*TRIED, "crew") if after.get(name) != before.get(name)}
    patch.pop("experience", None)
    if not patch:
        raise Refused([Problem("", "nothing_changed", "change a field to see what it does")])
    found = what_if(company=visit.company, id=visit.id, patch=patch, units=visit.caller.unit_system, now=visit.now)
    return Show("estimates/what_if.html", page_of(visit, visit.see("try-what-if", found, "estimate")))
