"""Quotes that nobody issues: over an open question or a check that blocks, past their validity, twice in one place."""

from __future__ import annotations

import datetime
import uuid
from typing import Any

import orjson
import pytest

from estimating import snapshots
from estimating.actions import quote_issue
from rates.core.problems import Refused
from rates.refusals import ANY_STATE
from tests.cast import Api, Office, make_person
from tests.db.making import cost_golden, draft_quote, golden_request, issue_quote, sign_all

SHEET = "Mark,Qty,Width,Height,Access\nW1,6,48 in,48 in,ground\nW2,1,36 in,36 in,ground\n"


def codes(api: Api, quote: str) -> list[str]:
    """What keeps a draft from being issued."""
    return [block["code"] for block in api.get(f"/v1/quotes/{quote}").json()["blocks"]]


def issue(api: Api, quote: str) -> Any:
    return api.post(f"/v1/quotes/{quote}/issue", If_Match="*")


def test_an_open_question_keeps_it_until_the_answered_schedule_is_estimated(api: Api, office: Office) -> None:
    project = api.post("/v1/projects", {"name": "Clinic"}).json()["id"]
    path = f"/v1/projects/{project}/opening-schedules"
    asked = api.post(path, SHEET, Content_Type="text/csv").json()
    assert asked["questions"]["blocks_costing"] == 0 and asked["questions"]["blocks_issue"] > 0
    request = {name: value for name, value in golden_request(office).items() if name != "openings"}
    estimate = api.estimate(request | {"schedule": asked["id"]}).json()["id"]
    sign_all(office, estimate)
    quote = draft_quote(office, estimate)
    assert codes(api, quote) == ["questions_open"]
    refused = issue(make_person(office, "principal", "p@office.example"), quote)
    assert refused.status_code == 422 and "(estimator)" in refused.json()["errors"][0]["detail"]
    approved = api.post(f"/v1/quotes/{quote}/approve", {"reason": "never mind"}, If_Match="*").json()
    assert [block["code"] for block in approved["blocks"]] == ["questions_open"], "no approval passes by a question"
    questions = api.get(f"/v1/opening-schedules/{asked['id']}/questions").json()["items"]
    answers = {q["id"]: q["choices"][0] for q in questions if q["open"] and q["severity"] == "blocks_issue"}
    tag = api.get(f"/v1/opening-schedules/{asked['id']}").headers["ETag"]
    answered = api.post(f"/v1/opening-schedules/{asked['id']}/answers", {"answers": answers}, If_Match=tag).json()
    assert answered["questions"]["blocks_issue"] == 0
    assert codes(api, quote) == ["questions_open"], "its own estimate is of the schedule that asks"
    again = api.estimate(request | {"schedule": answered["id"]}).json()["id"]
    sign_all(office, again)
    assert issue(api, draft_quote(office, again)).status_code == 200


def test_a_validity_that_has_passed(api: Api, office: Office) -> None:
    estimate = cost_golden(office)
    sign_all(office, estimate)
    quote = draft_quote(office, estimate)
    last = datetime.date.fromisoformat(api.get(f"/v1/quotes/{quote}").json()["valid_until"])
    who: dict[str, Any] = {"company": office.company, "member": office.drafter, "expected": ANY_STATE}
    late = datetime.datetime.combine(last, datetime.time(), datetime.UTC) + datetime.timedelta(days=1, seconds=1)
    with pytest.raises(Refused) as refused:
        quote_issue.issue(**who, id=uuid.UUID(quote), now=late)
    assert [problem.code for problem in refused.value.problems] == ["validity_passed"]
    assert quote_issue.issue(**who, id=uuid.UUID(quote), now=late - datetime.timedelta(seconds=2)).number == 1


def test_a_check_that_blocks_the_issue(api: Api, office: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    estimate = cost_golden(office)
    sign_all(office, estimate)
    quote = draft_quote(office, estimate)
    read = snapshots.read_summary

    def with_check(**whose: uuid.UUID) -> bytes | None:
        body = read(**whose)
        check = {"code": "too_few", "severity": "blocks_issue", "sentence": "Too few openings.", "lines": []}
        return body and orjson.dumps(orjson.loads(body) | {"checks": [check, check | {"severity": "warning"}]})

    monkeypatch.setattr(snapshots, "read_summary", with_check)
    assert codes(api, quote) == ["too_few"] and issue(api, quote).status_code == 422


def test_two_quotes_in_the_place_of_one(api: Api, office: Office) -> None:
    estimate = cost_golden(office)
    sign_all(office, estimate)
    first = issue_quote(office, draft_quote(office, estimate))["id"]
    body = {"estimate": str(estimate)}
    second, third = (api.post(f"/v1/quotes/{first}/requote", body).json()["id"] for _ in "ab")
    assert issue(api, second).status_code == 200
    assert codes(api, third) == ["replaces_closed"] and issue(api, third).status_code == 422
    numbers = [item["number"] for item in api.get("/v1/quotes").json()["items"]]
    assert numbers == [1, 2, None]


def test_an_issue_that_was_read_otherwise_is_stale(api: Api, office: Office) -> None:
    estimate = cost_golden(office)
    sign_all(office, estimate)
    path = f"/v1/quotes/{draft_quote(office, estimate)}"
    read = api.get(path).headers["ETag"]
    assert api.send("PATCH", path, {"terms": "Cash."}, If_Match=read).status_code == 200
    assert api.post(f"{path}/issue", If_Match=read).status_code == 412
    assert api.post(f"{path}/issue").status_code == 428
