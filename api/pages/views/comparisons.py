"""Two estimates side by side: what caused the change in price, to the cent."""

from __future__ import annotations

import uuid
from typing import Any

from django.conf import settings

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Input, make_form
from estimating.actions import comparisons as actions
from estimating.outputs.pictures.of_documents import picture_of_causes
from estimating.queries import comparisons as queries
from estimating.queries import estimate_lists, estimates, projects
from estimating.states import UNFINISHED
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.paging import Wanted

MOST_ESTIMATES, MOST_LINES = 100, 300


def choose(visit: Visit) -> Show:
    """GET /projects/{id}/compare: which two estimates."""
    found = costed(visit)
    choices = [
        (str(one.id), f"Estimate {one.number}: {visit.reader.money(one.price, one.currency)} {one.currency}")
        for one in found
    ]
    before, after = (choices[1][0], choices[0][0]) if len(choices) > 1 else ("", "")
    inputs = (
        Input("before", "Earlier", "choice", choices=choices, value=before),
        Input("after", "Later", "choice", choices=choices, value=after),
    )
    form = make_form(inputs, typed=visit.typed, faults=visit.faults)
    project = projects.project(company=visit.company, id=visit.id)
    return Show("comparisons/choose.html", {"form": form, "project": project, "enough": len(choices) > 1})


def costed(visit: Visit) -> tuple[estimate_lists.EstimateLine, ...]:
    """The costed estimates of the project, the newest first; NotThere."""
    wanted = Wanted(MOST_ESTIMATES, None, "-number")
    return estimate_lists.of_project(company=visit.company, project=visit.id, wanted=wanted, state="costed").items


def compare(visit: Visit) -> Change:
    """POST /projects/{id}/compare."""
    before, after = (read_id(visit.typed.get(name, "")) for name in ("before", "after"))
    faults = [
        Problem(f"/{name}", "missing", "choose an estimate")
        for name, id in (("before", before), ("after", after))
        if id is None
    ]
    if before is not None and before == after:
        faults.append(Problem("/after", "same_estimate", "choose two different estimates"))
    if faults or before is None or after is None:
        raise Refused(faults)
    wanted = actions.Wanted(before, after, "even_handed", None, False)
    ready = actions.prepare(company=visit.company, wanted=wanted)

    def act() -> Made:
        small = ready.lines <= settings.SMALL_RUN_LINES
        run = actions.submit(
            company=visit.company, member=visit.caller.member, prepared=ready, at_once=small, now=visit.now
        )
        return Made(f"/comparisons/{run.id}", run.id, claim=run.claim)

    return Change("make-comparison", act)


def show(visit: Visit) -> Show:
    """GET /comparisons/{id}."""
    found = visit.see("comparison", queries.comparison(company=visit.company, id=visit.id))
    document: dict[str, Any] = dict(found.document if isinstance(found, queries.Comparison) else found)
    project = estimates.project_of(company=visit.company, id=uuid.UUID(document["estimates"]["after"]))
    lines = document.get("lines", ())
    values = {
        "comparison": document,
        "project": projects.project(company=visit.company, id=project) if project else None,
        "currency": document.get("currency", ""),
        "picture": picture_of_causes(document["causes"], document["currency"]) if document.get("causes") else None,
        "lines": lines[:MOST_LINES],
        "left_out": max(len(lines) - MOST_LINES, 0),
        "is_finished": document["state"] not in UNFINISHED,
    }
    waits = visit.is_part and not values["is_finished"]
    return Show("comparisons/progress.html" if waits else "comparisons/comparison.html", values)
