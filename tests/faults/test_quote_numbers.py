"""Quotes issued, and change orders proposed, by many senders at once over real HTTP: every number once, none left out.

QUOTES=500 is the long form of both; on SQLite in one process group, and on PostgreSQL in the shared deployment.
"""

from __future__ import annotations

import os
import time
import uuid
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from tests.deployment import deployed
from tests.faults.test_killed_workers import golden_of_demo
from tests.service import Remote, started

pytestmark = pytest.mark.campaign

QUOTES = int(os.environ.get("QUOTES", "48"))
SENDERS = 16


def signed_estimate(client: Remote, request: Any) -> str:
    """The id of a costed estimate whose assumptions are signed off."""
    status, made, _ = client.estimate(request, wait=20)
    assert status == 201, made
    path = f"/v1/estimates/{made['id']}/sign-offs"
    _, listed, _ = client.get(path)
    waiting = [item["assumption"] for item in listed["items"] if item["state"] == "open"]
    status, signed, _ = client.send("POST", path, {"sign": waiting})
    assert status == 200 and signed["open"] == 0, signed
    return str(made["id"])


def send(client: Remote, path: str, body: Any = None, **fields: str) -> tuple[int, Any, Any]:
    """The answer to a POST, sent again while the database is held by others for longer than is waited for."""
    for _ in range(100):
        answer = client.send("POST", path, body, **fields)
        if answer[0] != 503:
            return answer
        time.sleep(1)
    raise AssertionError(answer)


def issue_all(client: Remote, request: Any) -> None:
    """Drafts the quotes, then has each issued by whichever sender comes first to it; every second one is sent twice."""
    estimate = signed_estimate(client, request)
    body = {"estimate": estimate, "customer": {"name": "Northfield Builders"}}

    def draft(_: int) -> tuple[str, str]:
        status, made, fields = send(client, "/v1/quotes", body, Idempotency_Key=str(uuid.uuid4()))
        assert status == 201, made
        return made["id"], fields["ETag"]

    def issue(given: tuple[str, str]) -> tuple[int, Any]:
        status, made, _ = send(client, f"/v1/quotes/{given[0]}/issue", If_Match=given[1])
        return status, made.get("number")

    with ThreadPoolExecutor(SENDERS) as senders:
        drafts = list(senders.map(draft, range(QUOTES)))
        answers = list(senders.map(issue, [*drafts, *drafts[::2]]))
    numbers = sorted(number for status, number in answers if status == 200)
    assert numbers == list(range(1, QUOTES + 1))
    assert {status for status, _ in answers} <= {200, 409, 412}
    _, shown, _ = client.get("/v1/quotes?state=issued&limit=500")
    assert sorted(item["number"] for item in shown["items"]) == numbers


def change_all(client: Remote, request: Any) -> None:
    """Change orders of one contract by all senders, the unit prices of each mark used up by whoever comes first."""
    _, project, _ = send(client, "/v1/projects", {"name": "Changed by many"})
    asked = [{"mark": "A", "quantity": SENDERS // 2}]
    estimate = signed_estimate(client, request | {"project": project["id"], "unit_prices": asked})
    body = {"estimate": estimate, "customer": {"name": "Northfield Builders"}}
    _, quote, fields = send(client, "/v1/quotes", body, Idempotency_Key=str(uuid.uuid4()))
    for step in ("issue", "award"):
        _, quote, fields = send(client, f"/v1/quotes/{quote['id']}/{step}", If_Match=fields["ETag"])
    path = f"/v1/projects/{project['id']}/change-orders"
    one_more = {"unit_prices": [{"mark": "A", "openings": 1}], "work_date": request["work_date"]}

    def propose(place: int) -> tuple[int, Any]:
        said = {"title": f"change {place}"} | (one_more if place < SENDERS else {})
        status, made, _ = send(client, path, said)
        return status, made.get("number")

    with ThreadPoolExecutor(SENDERS) as senders:
        answers = list(senders.map(propose, range(QUOTES)))
    numbers = sorted(number for status, number in answers if status == 201)
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) == QUOTES - SENDERS // 2, "half of those who ask for one more opening of A find the range used"
    assert {status for status, _ in answers} == {201, 422}
    _, shown, _ = client.get(f"{path}?limit=500")
    assert [item["number"] for item in shown["items"]] == numbers


def test_numbers_without_gap_or_double_on_sqlite(tmp_path: Path) -> None:
    with started(tmp_path / "data", RATE_LIMIT="1000000", LOG_LEVEL="WARNING") as (client, _):
        issue_all(client, golden_of_demo(client))
        change_all(client, golden_of_demo(client))


def test_numbers_without_gap_or_double_on_postgresql(tmp_path: Path) -> None:
    with deployed(tmp_path) as deployment:
        issue_all(deployment.client("golden"), deployment.request("golden"))
        change_all(deployment.client("golden"), deployment.request("golden"))
