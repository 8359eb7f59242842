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
from tests.cast import IN_A_MONTH, NOW, Api, Office
from tests.worked_cases import read_case


def golden_request(office: Office, **changes: Any) -> dict[str, Any]:
    """The golden request under the office's edition."""
    golden: dict[str, Any] = read_case("golden", "request.json")
    return golden | {"edition": str(office.edition)} | changes


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


def draft_quote(office: Office, estimate: uuid.UUID, **said: Any) -> str:
    """The id of a new quote of an estimate, not yet issued."""
    body = {"estimate": str(estimate), "customer": {"name": "Northfield Builders"}} | said
    made = Api(office.key).post("/v1/quotes", body, Idempotency_Key=str(uuid.uuid4()))
    assert made.status_code == 201, made.content
    return str(made.json()["id"])


def sign_all(office: Office, estimate: uuid.UUID | str) -> None:
    """Every assumption of an estimate signed off."""
    api, path = Api(office.key), f"/v1/estimates/{estimate}/sign-offs"
    waiting = [item["assumption"] for item in api.get(path).json()["items"] if item["state"] == "open"]
    signed = api.post(path, {"sign": waiting})
    assert signed.status_code == 200 and signed.json()["open"] == 0, signed.content


def issue_quote(office: Office, quote: str) -> Any:
    """The issued quote."""
    api, path = Api(office.key), f"/v1/quotes/{quote}"
    issued = api.post(f"{path}/issue", If_Match=api.get(path).headers["ETag"])
    assert issued.status_code == 200, issued.content
    return issued.json()


def award_quote(office: Office, estimate: uuid.UUID | str, **said: Any) -> str:
    """The id of an awarded quote of an estimate, its assumptions signed off."""
    sign_all(office, estimate)
    quote = draft_quote(office, uuid.UUID(str(estimate)), **said)
    issue_quote(office, quote)
    api, path = Api(office.key), f"/v1/quotes/{quote}"
    taken = api.post(f"{path}/award", {}, If_Match=api.get(path).headers["ETag"])
    assert taken.status_code == 200, taken.content
    return quote


def make_contract(office: Office, **changes: Any) -> tuple[str, str]:
    """(the address of a new project, the id of its awarded quote of the golden estimate, 1,655.00)."""
    api = Api(office.key)
    project = str(api.post("/v1/projects", {"name": "Clinic"}).headers["Location"])
    made = api.estimate(golden_request(office, project=project.rpartition("/")[2], **changes))
    assert made.status_code == 201, made.content
    return project, award_quote(office, made.json()["id"])


def propose_change(office: Office, project: str, **said: Any) -> Any:
    """A new change order of the contract of a project, by default with 8 h of a journeyman."""
    hours = {"time_and_material": {"labour": [{"labour": "journeyman", "hours": "8"}]}}
    priced = any(name in said for name in ("comparison", "unit_prices", "time_and_material"))
    body = {"title": "Sill pans at the stair"} | ({} if priced else hours) | said
    made = Api(office.key).post(f"{project}/change-orders", body)
    assert made.status_code == 201, made.content
    return made.json()


def record_job(office: Office, estimate: uuid.UUID | str, **said: Any) -> dict[str, Any]:
    """A new job record of an estimate's first zone: an opening of its first mark in an hour."""
    api = Api(office.key)
    first = api.get(f"/v1/estimates/{estimate}/progress").json()["items"][0]
    mark = api.get(f"/v1/estimates/{estimate}/openings").json()["items"][0]["mark"]
    counts = [{"mark": mark, "openings": 1}]
    work = {"estimate": str(estimate), "day": "2026-03-02", "zone": 1, "step": first["step"], "hours": "1"}
    made = api.post("/v1/job-records", work | {"counts": counts} | said, Idempotency_Key=str(uuid.uuid4()))
    assert made.status_code == 201, made.content
    return dict(made.json())


def give_link(office: Office, estimate: uuid.UUID | str, **said: Any) -> dict[str, Any]:
    """A new link for a crew, with its address."""
    asked = {"estimate": str(estimate), "title": "Crew of two", "expires_at": IN_A_MONTH}
    made = Api(office.key).post("/v1/site-links", asked | said)
    assert made.status_code == 201, made.content
    return dict(made.json())
