"""Projects and their opening schedules."""

from __future__ import annotations

from api.rest.exchange import Answer, Call, File, listing
from estimating.actions import projects as actions
from estimating.queries import estimate_lists
from estimating.queries import projects as queries
from estimating.queries.bids_due import bids_due
from estimating.states import ProjectState
from rates.core.fields import Field, choice, text

ANY = "any"
search = Field("search", text(100), "words that stand in the name or the number, in any order and any case")
state = Field("state", choice(*ProjectState.values, ANY), "only projects in this state", default=ProjectState.OPEN)


def projects(call: Call) -> Answer:
    """GET /v1/projects: archived ones only where they are asked for."""
    wanted, told = call.query["state"], call.query["search"]
    state = None if wanted == ANY else wanted
    return listing(queries.projects(company=call.company, wanted=call.wanted, search=told, state=state))


def make(call: Call) -> Answer:
    """POST /v1/projects."""
    project = actions.make_project(company=call.company, now=call.now, **call.body)
    return Answer(project, status=201, tag=project.tag, location=f"/v1/projects/{project.id}")


def due(call: Call) -> Answer:
    """GET /v1/bids-due."""
    return listing(bids_due(company=call.company, wanted=call.wanted, now=call.now))


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
    page = estimate_lists.of_project(
        company=call.company, project=call.id, wanted=call.wanted, state=call.query.get("state")
    )
    return listing(page)
