"""What an estimate would be under other fields: shown beside it, marked as a trial, stored nowhere."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from typing import Any

from api.pages.exchange import Show, Visit
from api.pages.forms import Input, make_form
from api.pages.reader import Reader
from api.pages.trade_words import in_words
from api.pages.views.estimates import head
from api.pages.views.line_words import said_words
from api.pages.views.site_fields import CREW, FIELDS, as_typed, condition_inputs, crew_inputs, request_typed
from estimating.actions.what_if import LINES, what_if
from estimating.intake.line_values import Said
from estimating.queries import requests
from estimating.queries.brief import access_said
from rates.core.problems import Problem, Refused
from rates.core.tables import ACCESS
from rates.identity import read_id
from rates.queries import choices

ACCESS_OF_ALL = "access"
TRIED = (
    "method", "wall_barrier", "treated_depth", "substrate", "temperature", "congestion", "rework", "work_date",
    "experience", "mobilisations",
)  # fmt: skip


def show(visit: Visit) -> Show:
    """GET /estimates/{id}/what-if."""
    return Show("estimates/what_if.html", page_of(visit, None))


def page_of(visit: Visit, found: Any) -> dict[str, Any]:
    """The form with what the estimate was asked for with, or what was tried."""
    values = head(visit)
    stored = as_typed(requests.request_of(company=visit.company, id=visit.id))
    inputs = inputs_of(visit, stored, values["estimate"])
    said = access_said(company=visit.company, id=visit.id) if values["estimate"]["state"] == "costed" else ()
    inputs.append(access_input(said))
    form = make_form(inputs, stored=stored, typed=visit.typed, faults=visit.faults)
    crew = [one for one in form.inputs if one.name.startswith(CREW)]
    changed = changes_in_words(found.changed, form.inputs, visit.reader) if found else []
    return values | {"form": form, "crew": crew, "found": found, "changed": changed, "part": "what-if"}


def inputs_of(visit: Visit, stored: Mapping[str, str], estimate: Mapping[str, Any]) -> list[Input]:
    """The fields of the request that can be tried, crew and conditions by what is in force."""
    fields = [one for one in FIELDS if one.name in TRIED]
    book, known = read_id(stored.get("rate_book", "")), visit.now
    if book is None:
        return fields
    day = datetime.date.fromisoformat(estimate["work_date"])
    offered = choices.choices(company=visit.company, rate_book=book, work_date=day, known_at=known)
    return [*fields, *condition_inputs(offered.conditions or {}), *crew_inputs(offered.labour)]


def access_input(said: Sequence[Said]) -> Input:
    """How every opening is reached; lines alone say it, so a choice takes the place of what they say."""
    now = said_words([(one.value, one.openings) for one in said]) or "nothing"
    return Input(
        ACCESS_OF_ALL, "How the work is reached, for every opening", "choice", pointer=f"/{LINES}/access",
        choices=[("", "as each line says"), *((one, in_words(one)) for one in ACCESS)],
        hint=f"The lines say: {now}. A choice here takes the place of what each line says.",
    )  # fmt: skip


def attempt(visit: Visit) -> Show:
    """POST /estimates/{id}/what-if: both prices; nothing is stored. Refused with each field that can't be read."""
    stored = as_typed(requests.request_of(company=visit.company, id=visit.id))
    typed = stored | dict(visit.typed.items())  # what the form has no field for stays as it was asked for
    before, after = (request_typed(one, visit.caller.name) for one in (stored, typed))
    patch = {name: after.get(name) for name in TRIED if after.get(name) != before.get(name)}
    crew = {name: value for name, value in after["crew"].items() if value != before["crew"][name]}
    patch |= {"crew": crew} if crew else {}
    patch |= {LINES: {"access": typed[ACCESS_OF_ALL]}} if typed.get(ACCESS_OF_ALL) else {}
    if not patch:
        raise Refused([Problem("", "nothing_changed", "change a field to see what it does")])
    found = what_if(company=visit.company, id=visit.id, patch=patch, units=visit.caller.unit_system, now=visit.now)
    return Show("estimates/what_if.html", page_of(visit, visit.see("try-what-if", found, "estimate")))


def changes_in_words(changed: Sequence[Any], inputs: Sequence[Input], reader: Reader) -> list[tuple[str, str, str]]:
    """(field, before, after) of each value that a trial changed, as a person reads it."""
    labels = {one.pointer or f"/{one.name}": one.label for one in inputs} | {"/crew/members": "Crew"}
    crew = {one.name.removeprefix(CREW): one.label for one in inputs if one.name.startswith(CREW)}
    found = []
    for one in changed:
        label = labels.get(one.pointer) or in_words(one.pointer.strip("/"))
        if one.pointer == "/work_date":
            found.append((label, reader.date(one.before), reader.date(one.after)))
        else:
            found.append((label, in_text(one.before, crew), in_text(one.after, crew)))
    return found


def in_text(value: Any, crew: Mapping[str, str]) -> str:
    """A value of a request as a person reads it: members of a crew and what lines say one after the other."""
    if value is None or value == "":
        return "not stated"
    if not isinstance(value, list):
        return in_words(str(value))
    if value and "labour" in value[0]:
        return ", ".join(f"{crew.get(one['labour'], in_words(one['labour']))}: {one['count']}" for one in value)
    return said_words([(one["access"], one["openings"]) for one in value])
