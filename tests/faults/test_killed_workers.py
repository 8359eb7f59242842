"""Estimates posted by eight clients while the worker is killed again and again: all costed, each stored once.

With the fence off the same harness finds a result that was made twice; with the sweeper off, a loss.
FAULT_RUNS sets how many estimates are posted (500 for the full campaign).
"""

from __future__ import annotations

import os
import random
import signal
import threading
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.http.test_start import children
from tests.service import PATIENCE, Remote, started
from tests.worked_cases import read_case

pytestmark = pytest.mark.campaign

RUNS = int(os.environ.get("FAULT_RUNS", "48"))
KILLS = 5
CLIENTS = 8


def golden_of_demo(client: Remote) -> dict[str, Any]:
    """A request that the demo company can cost."""
    _, books, _ = client.get("/v1/rate-books")
    request = read_case("golden", "request.json") | {"rate_book": books["items"][0]["id"]}
    request["crew"] = {"members": [{"labour": "mechanic", "count": 2}]}
    return {name: value for name, value in request.items() if name != "edition"}


def post_all(client: Remote, request: dict[str, Any], ids: list[str]) -> None:
    """Posts one client's share of the estimates, not waiting for any."""
    for _ in range(RUNS // CLIENTS):
        status, made, _ = client.estimate(request)
        assert status == 202, made
        ids.append(made["id"])


def feed(client: Remote) -> Counter[str]:
    """How often the feed tells of each estimate."""
    told: Counter[str] = Counter()
    after, items = "", [None]
    while items:
        _, page, _ = client.get("/v1/feed?limit=500" + (f"&after={after}" if after else ""))
        items, after = page["items"], page["after"]
        told.update(item["subject"] for item in items)
    return told


def test_nothing_is_lost_and_nothing_stored_twice(tmp_path: Path) -> None:
    settings = {"RUN_LEASE_SECONDS": "2", "SWEEP_SECONDS": "1", "RATE_LIMIT": "1000000", "LOG_LEVEL": "WARNING"}
    with started(tmp_path / "data", **settings) as (client, process):
        ids: list[str] = []
        request = golden_of_demo(client)
        threads = [threading.Thread(target=post_all, args=(client, request, ids)) for _ in range(CLIENTS)]
        for thread in threads:
            thread.start()
        chance = random.Random(4)
        killed = 0
        while killed < KILLS:
            time.sleep(chance.uniform(0.3, 1.5))
            for worker in children(process, "manage.py work"):
                os.kill(worker, signal.SIGKILL)
                killed += 1
        for thread in threads:
            thread.join()
        assert len(set(ids)) == RUNS // CLIENTS * CLIENTS
        states = Counter(client.until_ended(id)["state"] for id in ids)
        assert states == {"costed": len(ids)}
        told = feed(client)
        assert {told[id] for id in ids} == {1}


@pytest.mark.parametrize("sweeper", ["on", "off"])
def test_with_the_sweeper_off_a_killed_worker_s_run_is_lost(tmp_path: Path, sweeper: str) -> None:
    settings = {"RUN_LEASE_SECONDS": "2", "SWEEP_SECONDS": "1", "RUN_SWEEPER": sweeper}
    with started(tmp_path / "data", **settings) as (client, process):
        request = golden_of_demo(client)
        line = request["openings"][0]
        request["openings"] = [line | {"mark": f"M{n}"} for n in range(20_000)]
        _, made, _ = client.estimate(request)
        until = time.monotonic() + PATIENCE
        while client.get(f"/v1/estimates/{made['id']}")[1]["state"] != "working":
            assert time.monotonic() < until
            time.sleep(0.01)
        for worker in children(process, "manage.py work"):
            os.kill(worker, signal.SIGKILL)
        if sweeper == "on":
            assert client.until_ended(made["id"])["state"] == "costed"
        else:
            time.sleep(6)
            assert client.get(f"/v1/estimates/{made['id']}")[1]["state"] == "working"
