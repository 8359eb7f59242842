"""Over HTTP: an estimate tells first which openings it prices and what its schedule leaves open."""

from __future__ import annotations

from typing import Any

import pytest

from estimating import snapshots
from estimating.models import EstimatePart
from rates.documents import decompress, pack, unpack
from tests.cast import Api, Office, make_person
from tests.db.making import golden_request

HEAD = "MARK,QTY,WIDTH (IN),HEIGHT (IN),STOREY,ACCESS,ELEV\n"
SHEET = HEAD + "W1,2,36,48,1,ground,1\nW2,1,36,36,1,,1\nW4,3,36,60,2,ground,1\n"
SAME = ("id", "number", "project", "schedule", "known_at", "created_at", "costed_at")


@pytest.fixture
def path(api: Api) -> str:
    """The address of a new project's schedules."""
    return f"{api.post('/v1/projects', {'name': 'Hall'}).headers['Location']}/opening-schedules"


def price(api: Api, office: Office, schedule: str, **fields: Any) -> dict[str, Any]:
    """The costed estimate of a schedule."""
    request = {k: v for k, v in golden_request(office).items() if k != "openings"}
    made = api.estimate(request | fields | {"schedule": schedule})
    assert made.status_code == 201, made.content
    document: dict[str, Any] = made.json()
    return document


def open_questions(api: Api, schedule: str) -> list[dict[str, Any]]:
    """Every question of a revision that is open or to be known."""
    items: list[dict[str, Any]] = api.get(f"/v1/opening-schedules/{schedule}/questions?limit=500").json()["items"]
    return [q for q in items if q["open"] or q["severity"] == "to_know"]


def test_inline_openings_ask_nothing(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office))
    assert made.content.startswith(b'{"scope":')
    assert made.json()["scope"] == {
        "in_file": 16, "priced": 16, "set_aside": [], "alternates": [], "questions": {"blocks_issue": 0, "to_know": 0},
    }  # fmt: skip


def test_each_open_question_of_the_schedule_is_a_remark(api: Api, office: Office, path: str) -> None:
    made = api.post(path, SHEET.encode(), Content_Type="text/csv").json()
    asked = open_questions(api, made["id"])
    assert {q["code"] for q in asked} >= {"columns", "gap_in_marks", "access_missing"}
    document = price(api, office, made["id"])
    counts = {name: made["questions"][name] for name in ("blocks_issue", "to_know")}
    assert document["scope"]["questions"] == counts and counts["blocks_issue"] > 2
    severity = {"blocks_issue": "question", "to_know": "to_know"}
    told = {(r["code"], r["severity"], r["detail"]) for r in document["remarks"]}
    assert {(q["code"], severity[q["severity"]], q["sentence"]) for q in asked} <= told
    of_line = [r for r in document["remarks"] if r["code"] == "access_missing"]
    assert [r["pointer"] for r in of_line] == ["/openings/1"]
    assert "access_missing" in api.get(f"/v1/estimates/{document['id']}/openings").json()["items"][1]["remarks"]


def test_an_answer_takes_its_remark_away_and_the_same_input_gives_the_same_bytes(
    api: Api, office: Office, path: str
) -> None:
    made = api.post(path, SHEET.encode(), Content_Type="text/csv").json()
    first, again = (price(api, office, made["id"]) for _ in range(2))
    assert first["input_digest"] == again["input_digest"]
    assert {**first, **dict.fromkeys(SAME)} == {**again, **dict.fromkeys(SAME)}
    access = next(q for q in open_questions(api, made["id"]) if q["code"] == "access_missing")
    answers = {"answers": {access["id"]: "ground"}}
    answered = api.post(f"/v1/opening-schedules/{made['id']}/answers", answers).json()
    later = price(api, office, answered["id"])
    assert "access_missing" not in {r["code"] for r in later["remarks"]}
    assert later["scope"]["questions"]["blocks_issue"] == first["scope"]["questions"]["blocks_issue"] - 1
    assert (later["totals"]["price"], later["input_digest"] == first["input_digest"]) == (
        first["totals"]["price"],
        False,
    )


def test_the_worker_reads_the_same_questions_as_the_request_did(api: Api, office: Office, path: str) -> None:
    from_work = price(api, office, api.post(path, SHEET.encode(), Content_Type="text/csv").json()["id"])
    found = api.get(f"/v1/estimates/{from_work['id']}/derivations/price")
    assert found.status_code == 200
    assert len(from_work["remarks"]) > 3


def test_a_schedule_report_tells_what_becomes_of_its_openings(api: Api, office: Office, path: str) -> None:
    lines = golden_request(office)["openings"]
    aside = [lines[0] | {"excluded": {"reason": "by others"}}, lines[1] | {"alternate": "2"}, *lines[2:]]
    made = api.post(path, aside).json()
    told = api.get(f"/v1/opening-schedules/{made['id']}/report").json()["scope"]
    assert told == {
        "in_file": 16,
        "priced": 2,
        "set_aside": [{"reason": "by others", "openings": 10}],
        "alternates": [{"name": "2", "openings": 4}],
        "questions": {name: made["questions"][name] for name in ("blocks_costing", "blocks_issue", "to_know")},
        "unread": {"lines": 0, "openings": 0},
    }
    assert price(api, office, made["id"])["scope"]["set_aside"] == told["set_aside"]


def test_an_estimate_stored_before_scopes_is_read_with_none(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office)).json()
    row = EstimatePart.objects.of(office.company).get(estimate_id=made["id"], name=snapshots.SUMMARY)
    old = {name: value for name, value in unpack(row.body).items() if name != "scope"} | {"engine_version": "1"}
    assert snapshots.with_scope(pack_and_read(old)) == pack_and_read({"scope": None} | old)
    assert snapshots.with_scope(pack_and_read(made)) == pack_and_read(made)


def pack_and_read(document: dict[str, Any]) -> bytes:
    """A document as it comes back from the database."""
    return decompress(pack(document))


@pytest.mark.parametrize("role", ["viewer", "sales"])
def test_those_without_costs_see_the_scope(office: Office, api: Api, role: str) -> None:
    made = api.estimate(golden_request(office)).json()
    person = make_person(office, role, "p@office.example")
    assert person.get(f"/v1/estimates/{made['id']}").json()["scope"] == made["scope"]
