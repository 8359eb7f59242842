"""Opening schedules taken in, their questions and answers, what was read from where, what changed."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from functools import partial

from api.rest.common_fields import id_text
from api.rest.exchange import Answer, Call, listing
from estimating.actions import intake as actions
from estimating.actions import stakes
from estimating.actions.intake import Told
from estimating.queries import intake as queries
from estimating.queries import projects as project_queries
from estimating.queries.projects import Schedule
from rates.core.fields import Field, measure, text
from rates.core.units import AREA_NM2, read_area
from rates.paging import Page

WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
MEDIA = ("application/json", "text/csv", "text/plain", WORKBOOK, "application/x-step", "application/octet-stream")
ENDS = {
    "application/json": ".json",
    "text/csv": ".csv",
    WORKBOOK: ".xlsx",
    "application/x-step": ".ifc",
    "application/octet-stream": ".bin",
}
clouds = Field("clouds", text(4000), "marks that the drawing issue clouds, with commas between them")
MOST_WALL = 10**7 * AREA_NM2["m2"]
wall_area = Field(
    "wall_area",
    measure(read_area, high=MOST_WALL, title="Area"),
    "gross exterior wall area, to compare density with past jobs",
)
estimate = Field("estimate", id_text, "the costed estimate whose assumptions and rates price it")
since = Field("from", id_text, "the revision to compare with", required=True)


def add(call: Call) -> Callable[[], Answer]:
    """POST /v1/projects/{id}/opening-schedules: the file is read before the transaction that stores it."""
    project_queries.project(company=call.company, id=call.id)
    name = call.query["file_name"] or f"schedule{ENDS.get(call.media_type, '.txt')}"
    received = actions.receive(
        company=call.company,
        project=call.id,
        data=call.data,
        told=Told(
            name,
            call.query["length_unit"],
            tuple(mark.strip() for mark in (call.query["clouds"] or "").split(",") if mark.strip()),
            call.query["wall_area"],
        ),
    )
    return partial(store, call, received)


def store(call: Call, received: actions.Received) -> Answer:
    """The new revision of the file."""
    schedule = actions.store(
        company=call.company,
        project=call.id,
        member=call.caller.member,
        received=received,
        media_type=call.media_type,
        now=call.now,
        drawing_issue=call.query["drawing_issue"] or "",
    )
    return created(schedule)


def created(schedule: Schedule) -> Answer:
    """A revision that was made."""
    return Answer(schedule, status=201, tag=schedule.tag, location=f"/v1/opening-schedules/{schedule.id}")


def received(call: Call) -> queries.Received:
    """The revision that the address names; NotThere."""
    return queries.received(company=call.company, id=call.id)


def questions(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}/questions."""
    page = queries.questions(received(call), call.wanted, call.query["severity"], bool(call.query["open"]))
    return listing(page)


def at_stake(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}/stakes?estimate=."""
    found = stakes.at_stake(company=call.company, id=call.id, estimate=call.query["estimate"])
    return listing(Page(found, None))


def reading(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}/reading."""
    return listing(queries.reading(received(call), call.wanted))


def beside(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}/report."""
    return Answer(queries.beside(received(call)))


def changes(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}/changes?from=."""
    start: uuid.UUID = call.query["from"]
    return Answer(queries.changes(company=call.company, id=call.id, since=start))
