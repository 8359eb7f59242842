"""Idempotency keys sent eight times at once over real HTTP: as many runs as keys, one answer for each.

FAULT_KEYS sets how many keys (200 for the full campaign). On Celery: test_killed_celery.py.
"""

from __future__ import annotations

import os
import threading
from collections import defaultdict
from pathlib import Path
from typing import Any

import pytest

from tests.faults.test_killed_workers import golden_of_demo
from tests.service import Remote, started

pytestmark = pytest.mark.campaign

KEYS = int(os.environ.get("FAULT_KEYS", "20"))
SENDERS = 8
Answers = dict[str, list[tuple[int, Any]]]


def send_all(client: Remote, request: Any, together: threading.Barrier, answers: Answers) -> None:
    """One sender's requests: every key once, each at the same moment as the other senders."""
    for n in range(KEYS):
        together.wait()
        fields = {"Prefer": "wait=10"} if n % 2 else {}
        status, document, _ = client.send("POST", "/v1/estimates", request, Idempotency_Key=f"k{n}", **fields)
        answers[f"k{n}"].append((status, document))


def check_one_run_for_each_key(client: Remote, request: Any) -> None:
    """Sends every key by all senders at once; then the same keys again, and one with another request."""
    together, answers = threading.Barrier(SENDERS), defaultdict[str, list[tuple[int, Any]]](list)
    senders = [threading.Thread(target=send_all, args=(client, request, together, answers)) for _ in range(SENDERS)]
    before = runs(client)
    for sender in senders:
        sender.start()
    for sender in senders:
        sender.join()
    assert len(answers) == KEYS and {len(found) for found in answers.values()} == {SENDERS}
    for found in answers.values():
        assert {status for status, _ in found} <= {201, 202, 409}
        assert len({document["id"] for status, document in found if status != 409}) == 1
        assert all(d["type"] == "/v1/docs#problem-in_flight" for status, d in found if status == 409)
    assert runs(client) - before == KEYS
    again = [client.send("POST", "/v1/estimates", request, Idempotency_Key=f"k{n}") for n in range(0, KEYS, 2)]
    assert {status for status, _, _ in again} == {202}
    other = request | {"work_date": "2027-04-01"}
    assert client.send("POST", "/v1/estimates", other, Idempotency_Key="k0")[0] == 422


def test_each_key_makes_one_run(tmp_path: Path) -> None:
    with started(tmp_path / "data", RATE_LIMIT="1000000", LOG_LEVEL="WARNING") as (client, _):
        check_one_run_for_each_key(client, golden_of_demo(client))


def runs(client: Remote) -> int:
    """How many runs there are, in any state."""
    _, text, _ = client.get("/metrics")
    lines = [line for line in text.decode().splitlines() if line.startswith("sillwright_runs{")]
    return sum(int(line.rpartition(" ")[2]) for line in lines)
