"""What is said of a project: its name and number, when the bid has to be in, whether it is kept apart."""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.quote_drafts import read_form
from api.project_fields import CHANGE_PROJECT
from estimating.actions import projects as actions
from estimating.queries import projects
from estimating.states import ProjectState
from rates.core.problems import Problem, Refused
from rates.refusals import Expected

STATES = ((ProjectState.OPEN, "open"), (ProjectState.ARCHIVED, "archived: kept, and out of the lists"))
INPUTS = (
    Input("name", "Name of the project", needed=True),
    Input("number", "Job number"),
    Input("due_day", "Day", "date", pointer="/due_at"),
    Input("due_time", "Time", "time"),
    Input("due_zone", "Time zone"),
    Input("note", "Note", "area", wide=True),
    Input("state", "State", "radio", choices=STATES, needed=True),
)


def show(visit: Visit) -> Show:
    """GET /projects/{id}/edit."""
    project = projects.project(company=visit.company, id=visit.id)
    zone = visit.caller.time_zone
    stored: dict[str, Any] = {name: getattr(project, name) for name in ("name", "number", "note", "state", "due_zone")}
    if project.due_at is not None:
        there = project.due_at.astimezone(ZoneInfo(project.due_zone or zone))
        stored |= {"due_day": there.date().isoformat(), "due_time": f"{there:%H:%M}"}
    stored["due_zone"] = stored["due_zone"] or zone
    hint = f"{zone} is the company's. Another place's reads like America/Chicago."
    if zone == "UTC":
        hint = "The company has not said its own, so UTC stands here: put the place's, such as America/Chicago."
    inputs = [replace(one, hint=hint) if one.name == "due_zone" else one for one in INPUTS]
    typed, faults = visit.typed, visit.faults
    form = make_form(inputs, stored=stored, typed=typed, faults=faults, tag=project.tag, stale=visit.stale)
    return Show("projects/edit.html", {"project": project, "form": form})


def change(visit: Visit) -> Change:
    """POST /projects/{id}/edit."""
    typed = {one.name: visit.typed.get(one.name, "").strip() for one in INPUTS}
    body: dict[str, str | None] = {name: typed[name] for name in ("name", "state") if typed[name]}
    due = read_due(typed, visit.caller.time_zone)
    body |= {"note": typed["note"].replace("\r\n", "\n"), "due_zone": typed["due_zone"] or None if due else None}
    body |= {"number": typed["number"] or None, "due_at": due}
    said = read_form(CHANGE_PROJECT, {name: value for name, value in body.items() if value is not None})
    if not typed["name"]:
        raise Refused([Problem("/name", "missing", "a project needs a name")])
    blank = {"number": "", "due_at": None, "due_zone": ""}
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        made = actions.change_project(company=visit.company, id=visit.id, changes=blank | said, expected=expected)
        return Made(f"/projects/{visit.id}", visit.id, before=expected.seen, after=made)

    return Change("change-project", act)


def read_due(typed: dict[str, str], zone: str) -> str | None:
    """The due time as the field table reads it; None where none is typed; Refused."""
    day, clock = typed["due_day"], typed["due_time"]
    if not day and not clock:
        return None
    faults = [Problem("/due_at", "missing", "the day is missing")] if not day else []
    faults += [Problem("/due_time", "missing", "the time of day is missing, such as 14:00")] if not clock else []
    if faults:
        raise Refused(faults)
    named = typed["due_zone"] or zone
    if named not in available_timezones():
        detail = "a time zone such as America/Chicago is expected"
        raise Refused([Problem("/due_zone", "unknown_choice", detail)])
    try:
        there = datetime.datetime.fromisoformat(f"{day}T{clock}").replace(tzinfo=ZoneInfo(named))
    except ValueError:
        raise Refused([Problem("/due_at", "not_a_time", "a day and a time such as 14:00 are expected")]) from None
    if there.astimezone(datetime.UTC).astimezone(there.tzinfo).replace(tzinfo=None) != there.replace(tzinfo=None):
        detail = f"the clocks of {named} leave this time out on that day"
        raise Refused([Problem("/due_time", "not_a_time", detail)])
    return there.isoformat()
