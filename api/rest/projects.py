"""Projects and their opening schedules."""

from __future__ import annotations

from api.rest.company import as_given
from api.rest.exchange import Answer, Call, File, listing
from api.rest.pieces import id_text, note
from estimating.actions import projects as actions
from estimating.queries import estimates as estimate_queries
from estimating.queries import projects as queries
from rates.core.fields import Field, Record, text

NEW_PROJECT = Record(
    as_given,
    (
        Field("name", text(200), "its name", required=True),
        Field("number", text(60), "its number in the office"),
        Field("note", note, "a note"),
        Field("rate_book", id_text, "the rate book that prices it where a request names none"),
    ),
)
CHANGE_PROJECT = Record(
    as_given,
    (
        Field("name", text(200), "its name"),
        Field("number", text(60), "its number"),
        Field("note", note, "a note"),
        Field("rate_book", id_text, "the rate book that prices it where a request names none"),
    ),
)


def projects(call: Call) -> Answer:
    """GET /v1/projects."""
    return listing(queries.projects(company=call.company, wanted=call.wanted))


def make(call: Call) -> Answer:
    """POST /v1/projects."""
    project = actions.make_project(company=call.company, now=call.now, **call.body)
    return Answer(project, status=201, tag=project.tag, location=f"/v1/projects/{project.id}")


def show(call: Call) -> Answer:
    """GET /v1/projects/{id}."""
    project = queries.project(company=call.company, id=call.id)
    return Answer(project, tag=project.tag)


def change(call: Call) -> Answer:
    """PATCH /v1/projects/{id}."""
    project = actions.change_project(company=call.company, id=call.id, changes=call.body, expected=call.expected)
    return Answer(project, tag=project.tag)


def schedules(call: Call) -> Answer:
    """GET /v1/projects/{id}/opening-schedules."""
    return listing(queries.schedules(company=call.company, project=call.id, wanted=call.wanted))


def show_schedule(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}."""
    schedule = queries.schedule(company=call.company, id=call.id)
    return Answer(schedule, tag=schedule.tag)


def openings(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}/openings."""
    return listing(queries.openings(company=call.company, id=call.id, wanted=call.wanted))


def source(call: Call) -> Answer:
    """GET /v1/opening-schedules/{id}/source."""
    file = queries.source_file(company=call.company, id=call.id)
    return Answer(File(file.content, file.media_type, file.name), tag=file.digest)


def estimates(call: Call) -> Answer:
    """GET /v1/projects/{id}/estimates."""
    page = estimate_queries.of_project(
        company=call.company, project=call.id, wanted=call.wanted, state=call.query.get("state")
    )
    return listing(page)
