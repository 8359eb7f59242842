"""The life of an edition: two people, the digest that was reviewed, and nothing changes once approved."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tests.cast import Api, Office
from tests.db.making import golden_request
from tests.worked_cases import read_case


@pytest.fixture
def approver(office: Office) -> Api:
    return Api(office.approver_key)


def draft(api: Api, office: Office, **changes: Any) -> Any:
    document = read_case("golden", "edition.json") | {"effective_from": "2027-06-01"} | changes
    response = api.post(f"/v1/rate-books/{office.rate_book}/editions", document)
    assert response.status_code == 201, response.content
    return response


def step(api: Api, response: Any, name: str, body: Any = None) -> Any:
    """The response to a step of the edition that `response` shows."""
    return api.post(f"/v1/editions/{response.json()['id']}/{name}", body, If_Match=response.headers["ETag"])


def test_from_draft_to_withdrawn(api: Api, approver: Api, office: Office) -> None:
    made = draft(api, office)
    assert (made.json()["number"], made.json()["state"], made.json()["tables"]["labour"][0]["wage"]) == (
        2,
        "draft",
        "32.00",
    )
    submitted = step(api, made, "submit")
    assert submitted.json()["state"] == "submitted"
    approved = step(approver, submitted, "approve", {"digest": submitted.json()["digest"]})
    assert (approved.status_code, approved.json()["state"]) == (200, "approved")
    path = f"/v1/rate-books/{office.rate_book}/in-force?work_date="
    assert api.get(path + "2027-06-01").json()["id"] == made.json()["id"]
    assert api.get(path + "2027-05-31").json()["id"] == str(office.edition)
    withdrawn = step(approver, approved, "withdraw", {"reason": "wrong wage"})
    assert (withdrawn.json()["state"], withdrawn.json()["reason"]) == ("withdrawn", "wrong wage")
    assert api.get(path + "2027-06-01").json()["id"] == str(office.edition)
    known = withdrawn.json()["approved_at"]
    assert api.get(f"{path}2027-06-01&known_at={known}").json()["id"] == made.json()["id"]


def test_the_drafter_does_not_approve_with_any_key(api: Api, office: Office) -> None:
    submitted = step(api, draft(api, office), "submit")
    second = api.post("/v1/access-keys", {"title": "second", "scopes": ["rates.approve"]}).json()["access_key"]
    for key in (api, Api(second)):
        refused = step(key, submitted, "approve", {"digest": submitted.json()["digest"]})
        assert (refused.status_code, refused.json()["errors"][0]["code"]) == (403, "own_edition")


def test_whoever_changed_a_draft_is_its_drafter(api: Api, approver: Api, office: Office) -> None:
    made = draft(api, office)
    rows = made.json()["tables"]["labour"]
    rows[0]["wage"] = "33.00"
    changed = approver.send("PUT", f"/v1/editions/{made.json()['id']}/labour", rows, If_Match=made.headers["ETag"])
    assert (changed.status_code, changed.json()[0]["wage"]) == (200, "33.00")
    current = api.get(f"/v1/editions/{made.json()['id']}")
    submitted = step(api, current, "submit")
    refused = step(approver, submitted, "approve", {"digest": submitted.json()["digest"]})
    assert refused.status_code == 403


def test_approval_binds_to_the_digest_that_was_reviewed(api: Api, approver: Api, office: Office) -> None:
    made = draft(api, office)
    submitted = step(api, made, "submit")
    refused = step(approver, submitted, "approve", {"digest": "0" * 64})
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (409, "digest_differs")


def test_sent_back_it_is_a_draft_again(api: Api, approver: Api, office: Office) -> None:
    submitted = step(api, draft(api, office), "submit")
    back = step(approver, submitted, "send_back", {"reason": "lift rate?"})
    assert (back.json()["state"], back.json()["reason"], back.json()["submitted_by"]) == ("draft", "lift rate?", None)


def test_an_approved_edition_takes_no_change(api: Api, office: Office) -> None:
    path = f"/v1/editions/{office.edition}"
    tag = api.get(path).headers["ETag"]
    table = api.send("PUT", f"{path}/labour", [], If_Match=tag)
    assert (table.status_code, table.json()["errors"][0]["code"]) == (409, "wrong_state")
    assert api.send("DELETE", path, If_Match=tag).status_code == 409
    for name, body in (("submit", None), ("approve", {"digest": "0" * 64}), ("send_back", {"reason": "x"})):
        assert api.post(f"{path}/{name}", body, If_Match=tag).status_code == 409


def test_a_copy_holds_the_tables_and_its_number_is_never_given_again(api: Api, office: Office) -> None:
    path = f"/v1/rate-books/{office.rate_book}/editions"
    copy = api.post(path, {"from": str(office.edition), "effective_from": "2028-01-01", "note": "next year"})
    assert copy.status_code == 201
    source = api.get(f"/v1/editions/{office.edition}").json()
    assert (copy.json()["tables"], copy.json()["effective_from"]) == (source["tables"], "2028-01-01")
    assert api.send("DELETE", copy.headers["Location"], If_Match=copy.headers["ETag"]).status_code == 204
    assert api.post(path, {"from": str(office.edition)}).json()["number"] == 3


def test_every_fault_of_a_table_is_told_with_its_place(api: Api, office: Office) -> None:
    made = draft(api, office)
    rows = '[{"code": "a", "title": "A", "wage": "-1"},\n {"code": "a", "title": "", "wage": "1e5"}]'
    refused = api.send("PUT", f"/v1/editions/{made.json()['id']}/labour", rows, If_Match=made.headers["ETag"])
    assert refused.status_code == 422
    found = {(error["pointer"], error["line"]) for error in refused.json()["errors"]}
    assert {("/0/wage", 1), ("/1/title", 2), ("/1/wage", 2)} <= found


def test_every_fault_of_a_new_edition_is_told_with_its_line(api: Api, office: Office) -> None:
    document = read_case("golden", "edition.json") | {"effective_from": "2027-13-01", "strange": 1}
    document["tables"]["labour"][0]["wage"] = "-32"
    text = json.dumps(document, indent=1)
    refused = api.send("POST", f"/v1/rate-books/{office.rate_book}/editions", text)
    assert refused.status_code == 422
    lines = text.split("\n")
    found = {e["pointer"]: (e["document"], lines[e["line"] - 1].strip(" ,")) for e in refused.json()["errors"]}
    assert found == {
        "/strange": ("request", '"strange": 1'),
        "/effective_from": ("request", '"effective_from": "2027-13-01"'),
        "/tables/labour/0/wage": ("request", '"wage": "-32"'),
    }


def test_an_estimate_stays_what_it_was_when_rates_change_later(api: Api, approver: Api, office: Office) -> None:
    request = {k: v for k, v in golden_request(office).items() if k != "edition"} | {"rate_book": str(office.rate_book)}
    first = api.estimate(request).json()
    document = read_case("golden", "edition.json")
    document["tables"]["labour"][0]["wage"] = "99.00"
    submitted = step(api, draft(api, office, **document), "submit")
    step(approver, submitted, "approve", {"digest": submitted.json()["digest"]})
    again = api.estimate(request | {"known_at": first["known_at"]}).json()
    assert again["input_digest"] == first["input_digest"]
    assert json.dumps(again["build_up"]) == json.dumps(first["build_up"])
    assert api.estimate(request).json()["totals"]["price"] != first["totals"]["price"]
    assert api.get(f"/v1/estimates/{first['id']}").json() == first
