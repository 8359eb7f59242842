"""Two companies with twin data: every operation that takes an id answers a foreign one exactly like an unknown one.

Walks the table of operations; an operation with an id that this test does not know fails it.
"""

from __future__ import annotations

import json
from typing import Any

import pytest

from api.rest.examples import examples
from api.rest.exchange import Operation
from api.rest.routes import OPERATIONS
from rates.identity import new_id
from tests.cast import IN_A_MONTH, Api, Office, make_office
from tests.db.making import (
    add_schedule,
    compare,
    cost_golden,
    draft_quote,
    give_link,
    make_contract,
    propose_change,
    record_job,
)

MAY_LACK = (
    "estimate-per-area", "schedule-stakes", "quote-changes-pdf", "quote-changes-html", "quote-ubl", "quote-cost-codes",
    "quote-budget",
)  # fmt: skip
WITH_ID = [operation for operation in OPERATIONS if "{id}" in operation.path]
BODIES: dict[str, Any] = {
    "change-member": {"name": "x"},
    "change-rate-book": {"name": "x"},
    "draft-edition": {"from": "01a214f1-cadc-707f-9454-a38905726110"},
    "approve-edition": {"digest": "0" * 64},
    "send-back-edition": {"reason": "x"},
    "withdraw-edition": {"reason": "x"},
    "change-prices": {"formula": {"table": "labour", "price": "wage", "change": "+1 %"}},
    "change-project": {"name": "x"},
    "try-what-if": {"congestion": None},
    "answer-schedule-questions": {"answers": {}},
    "edit-schedule": {"edits": [{"line": 0, "set_aside": True, "reason": "x"}]},
    "decide-schedule-matches": {
        "from": "01a214f1-cadc-707f-9454-a38905726110",
        "pairs": [{"before": 0, "after": 0, "same": True}],
    },
    "make-quote": {"estimate": "01a214f1-cadc-707f-9454-a38905726110", "customer": {"name": "x"}},
    "change-quote": {"note": "x"},
    "requote": {"basis": "today"},
    "approve-quote": {"reason": "x"},
    "award-quote": {"reason": "x"},
    "close-quote": {"reason": "x"},
    "make-change-order": {"title": "x"},
    "revise-change-order": {"title": "x"},
    "direct-change-order": {"by": "x", "on": "2027-03-15"},
    "dispute-change-order": {"reason": "x"},
    "withdraw-change-order": {"reason": "x"},
    "sign-assumptions": {"sign": []},
    "withdraw-job-record": {"reason": "x"},
    "make-job-record": {
        "estimate": "01a214f1-cadc-707f-9454-a38905726110",
        "day": "2026-03-02",
        "zone": 1,
        "step": "set_up",
        "hours": "1",
    },
    "add-job-records": {"items": [{"day": "2026-03-02", "zone": 1, "step": "set_up", "hours": "1"}]},
    "make-site-link": {
        "estimate": "01a214f1-cadc-707f-9454-a38905726110",
        "title": "x",
        "expires_at": IN_A_MONTH,
    },
    "add-opening-schedule": [{"mark": "A", "quantity": 1, "width": "48 in", "height": "48 in"}],
}


def ids_of(office: Office) -> dict[str, str]:
    """An id of everything, by the collection that its address names."""
    api = Api(office.key)
    estimate = cost_golden(office)
    schedule = add_schedule(office)
    return {
        "access-keys": api.get("/v1/access-keys").json()["items"][0]["id"],
        "members": str(office.approver),
        "rate-books": str(office.rate_book),
        "editions": str(office.edition),
        "projects": api.get(f"/v1/opening-schedules/{schedule}").json()["project"],
        "opening-schedules": str(schedule),
        "estimates": str(estimate),
        "comparisons": str(compare(office, estimate, estimate)),
        "quotes": draft_quote(office, estimate),
        "change-orders": propose_change(office, make_contract(office)[0])["id"],
        "job-records": record_job(office, estimate)["id"],
        "site-links": give_link(office, estimate)["id"],
    }


def body_of(operation: Operation) -> Any:
    """A body that the operation takes: of one with an id that has none above, that of its example."""
    if operation.name.startswith("put-"):
        return {} if operation.name in ("put-production-table", "put-edition-tables") else []
    example = examples().get(operation.name, {}) if "{id}" in operation.path else {}
    return BODIES.get(operation.name, example.get("body"))


def ask(api: Api, operation: Operation, id: str) -> tuple[int, Any, dict[str, str]]:
    """Status, body and telling header fields of the operation on an id, without what names the request itself."""
    path = operation.path.replace("{id}", id).replace("{figure}", "price")
    since = f"?from={id}"
    asked = {"in-force": "?work_date=2027-03-15", "schedule-changes": since, "edition-changes": since}
    asked["schedule-stakes"] = f"?estimate={id}"
    query = asked.get(operation.name, "")
    fields = {"If_Match": "*"} if operation.if_match else {}
    if operation.idempotency == "required":
        fields["Idempotency_Key"] = str(new_id())
    response = api.send(operation.method, path + query, body_of(operation), **fields)
    headers = {name: response.headers[name] for name in ("Content-Type", "ETag", "Allow") if name in response.headers}
    if response.headers.get("Content-Type") != "application/problem+json":
        return response.status_code, response.content, headers
    document = {k: v for k, v in json.loads(response.content).items() if k not in ("instance", "request_id")}
    return response.status_code, document, headers


@pytest.fixture
def twins(rules: None) -> tuple[Office, Office]:
    return make_office("Twin"), make_office("Twin")


def test_a_foreign_id_is_answered_like_an_unknown_one(twins: tuple[Office, Office]) -> None:
    mine, other = twins
    foreign, api = ids_of(other), Api(mine.key)
    own = ids_of(mine)
    before = {path: Api(other.key).get(path).content for path in watched(foreign)}
    for operation in WITH_ID:
        collection = operation.path.split("/")[2]
        assert collection in foreign, f"{operation.path}: this test knows no id of it"
        unknown = ask(api, operation, str(new_id()))
        assert unknown[0] == 404, operation.name
        assert ask(api, operation, foreign[collection]) == unknown, operation.name
        if operation.method == "GET" and operation.name not in MAY_LACK:
            assert ask(api, operation, own[collection])[0] == 200, operation.name
    assert {path: Api(other.key).get(path).content for path in before} == before


def watched(ids: dict[str, str]) -> list[str]:
    """What must not change in the other company."""
    return [f"/v1/{collection}/{id}" for collection, id in ids.items() if collection != "access-keys"]


def test_foreign_ids_in_bodies_are_unknown_too(twins: tuple[Office, Office]) -> None:
    mine, other = twins
    foreign, api = ids_of(other), Api(mine.key)
    own = ids_of(mine)
    unknown = str(new_id())
    base = {"work_date": "2027-03-15", "method": "fluid", "crew": {"members": [{"labour": "journeyman", "count": 2}]}}

    def estimate(**fields: str) -> tuple[int, Any]:
        response = api.estimate(base | {"edition": own["editions"], "schedule": own["opening-schedules"]} | fields)
        return response.status_code, response.json().get("errors")

    def comparison(before: str) -> tuple[int, Any]:
        response = api.post("/v1/comparisons", {"before": before, "after": own["estimates"]})
        return response.status_code, response.json().get("errors")

    for name, collection in (("edition", "editions"), ("schedule", "opening-schedules"), ("project", "projects")):
        answer = estimate(**{name: foreign[collection]})
        assert answer == estimate(**{name: unknown})
        assert answer[0] == 422 and answer[1][0]["code"] == "not_found"
    assert comparison(foreign["estimates"]) == comparison(unknown)
    assert comparison(unknown)[0] == 422
    copy = {"from": foreign["editions"]}
    assert api.post(f"/v1/rate-books/{own['rate-books']}/editions", copy).status_code == 404


def test_lists_show_own_rows_alone(twins: tuple[Office, Office]) -> None:
    mine, other = twins
    foreign = ids_of(other)
    ids_of(mine)
    for operation in OPERATIONS:
        if operation.method == "GET" and "{" not in operation.path:
            content = Api(mine.key).get(operation.path).content.decode()
            assert not any(id in content for id in foreign.values()), operation.name
