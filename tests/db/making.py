"""Short ways to rows that tests need: a costed estimate, a queued one, a schedule, a comparison."""

from __future__ import annotations

import datetime
import json
import uuid
from typing import Any

from estimating.actions import comparisons, projects
from estimating.actions.estimates import Submitted, submit
from estimating.actions.preparation import prepare
from estimating.work.execute import execute
from tests.cast import NOW, Api, Office
from tests.worked_cases import read_case


def golden_request(office: Office, **changes: Any) -> dict[str, Any]:
    """The golden request under the office's edition."""
    return read_case("golden", "request.json") | {"edition": str(office.edition)} | changes


def submit_golden(office: Office, *, at_once: bool = False, now: datetime.datetime = NOW, **changes: Any) -> Submitted:
    """A stored run of the golden request."""
    ready = prepare(company=office.company, request=golden_request(office, **changes), units="imperial", now=now)
    return submit(company=office.company, member=office.drafter, prepared=ready, at_once=at_once, now=now)


def cost_golden(office: Office, **changes: Any) -> uuid.UUID:
    """The id of a costed golden estimate."""
    submitted = submit_golden(office, at_once=True, **changes)
    assert submitted.claim is not None and execute(submitted.claim) == "costed"
    return submitted.id


def add_schedule(office: Office) -> uuid.UUID:
    """The id of a stored schedule of a new project."""
    openings = read_case("golden", "request.json")["openings"]
    project = projects.make_project(company=office.company, name="Clinic", now=NOW)
    schedule = projects.add_schedule(
        company=office.company,
        project=project.id,
        member=office.drafter,
        openings=openings,
        source=json.dumps(openings).encode(),
        file_name="schedule.json",
        media_type="application/json",
        now=NOW,
    )
    return schedule.id


def decide_match(office: Office) -> uuid.UUID:
    """The id of a revision whose first line is said to be that of the revision before, under a new mark."""
    api, openings = Api(office.key), read_case("golden", "request.json")["openings"]
    path = f"{api.post('/v1/projects', {'name': 'Renumbered'}).headers['Location']}/opening-schedules"
    first = api.post(path, openings).json()["id"]
    second = str(api.post(path, [openings[0] | {"mark": "R1"}, *openings[1:]]).json()["id"])
    said = {"from": first, "pairs": [{"before": 0, "after": 0, "same": True}]}
    assert api.post(f"/v1/opening-schedules/{second}/matches", said).status_code == 200
    return uuid.UUID(second)


def compare(office: Office, before: uuid.UUID, after: uuid.UUID) -> uuid.UUID:
    """The id of a computed comparison."""
    wanted = comparisons.Wanted(before, after, "even_handed", None, False)
    ready = comparisons.prepare(company=office.company, wanted=wanted)
    submitted = comparisons.submit(company=office.company, member=office.drafter, prepared=ready, at_once=True, now=NOW)
    assert submitted.claim is not None and execute(submitted.claim) == "costed"
    return submitted.id
