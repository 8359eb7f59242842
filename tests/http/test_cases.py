"""The worked cases over HTTP, to the cent (tests/data: computed by an independent program, prices again by hand)."""

from __future__ import annotations

from typing import Any

import pytest

from tests.cast import Api, Office, approve, make_office
from tests.expected import PARTS, check_laws, comparable, differences
from tests.worked_cases import CASES, read_case


def gather(api: Api, id: str) -> dict[str, Any]:
    """The estimate document with its parts, as a worked case gathers them."""
    document: dict[str, Any] = api.get(f"/v1/estimates/{id}").json()
    for part in PARTS:
        answer = api.get(f"/v1/estimates/{id}/{part}").json()
        document[part] = answer["items"] if set(answer) - {"cautions"} == {"items", "next"} else answer
    return document


def cost_case(name: str) -> tuple[Api, Any]:
    """A client and the response to a case's request, costed in an office of the case's own."""
    office = make_office(document=read_case(name, "edition.json"))
    api = Api(office.key)
    return api, api.estimate(read_case(name, "request.json") | {"edition": str(office.edition)})


@pytest.mark.parametrize("name", CASES)
def test_a_worked_case_comes_out_to_the_cent(rules: None, name: str) -> None:
    api, response = cost_case(name)
    assert response.status_code == 201, response.content
    assert response.headers["Preference-Applied"] == "wait=10"
    document = gather(api, response.json()["id"])
    assert differences(comparable(read_case(name, "expected.json")), comparable(document)) == []
    check_laws(document, api.get(f"/v1/estimates/{document['id']}/cost-codes").json()["items"])


def test_a_stored_schedule_gives_what_its_openings_give_inline(office: Office, api: Api) -> None:
    request = read_case("golden", "request.json") | {"edition": str(office.edition)}
    project = api.post("/v1/projects", {"name": "Clinic"}).json()
    file = {"openings": request.pop("openings")}
    made = api.post(f"/v1/projects/{project['id']}/opening-schedules?drawing_issue=ASI-1", file)
    assert (made.status_code, made.json()["revision"], made.json()["drawing_issue"]) == (201, 1, "ASI-1")
    stored = api.estimate(request | {"schedule": made.json()["id"]})
    inline = api.estimate(read_case("golden", "request.json") | {"edition": str(office.edition)})
    assert (stored.status_code, inline.status_code) == (201, 201)
    own = ("id", "created_at", "known_at", "costed_at", "project", "schedule", "number")
    left, right = ({k: v for k, v in r.json().items() if k not in own} for r in (stored, inline))
    assert left == right
    assert stored.json()["schedule"] == {"id": made.json()["id"], "revision": 1, "drawing_issue": "ASI-1"}
    history = api.get(f"/v1/projects/{project['id']}/estimates").json()["items"]
    assert [(line["number"], line["price"]) for line in history] == [(1, "1655.00")]


def test_the_edition_in_force_on_the_work_date_prices(office: Office, api: Api) -> None:
    later = read_case("golden", "edition.json") | {"effective_from": "2027-03-15"}
    later["tables"]["labour"][0]["wage"] = "40.00"
    second = approve(office.company, office.rate_book, office.drafter, office.approver, later)
    request = read_case("golden", "request.json") | {"rate_book": str(office.rate_book)}
    del request["edition"]
    used = [api.estimate(request | {"work_date": day}).json()["edition"]["id"] for day in ("2027-03-14", "2027-03-15")]
    assert used == [str(office.edition), str(second)]
    refused = api.estimate(request | {"work_date": "2026-12-31"})
    assert (refused.status_code, [e["code"] for e in refused.json()["errors"]]) == (422, ["no_edition_in_force"])
