"""A worker that sleeps past its lease and then wakes with a result: the fence throws it away.

With the fence off the same harness finds the second result, which only the database's own rules then keep out.
"""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from api.database_rules import MESSAGE
from tests.faults.test_killed_workers import feed, golden_of_demo
from tests.http.test_start import children
from tests.service import MANAGE, PATIENCE, Remote, started, stop

pytestmark = pytest.mark.campaign


def wait_for_state(client: Remote, id: str, state: str) -> None:
    """Returns once the estimate is in a state."""
    until = time.monotonic() + PATIENCE
    while client.get(f"/v1/estimates/{id}")[1]["state"] != state:
        assert time.monotonic() < until
        time.sleep(0.01)


def put_to_sleep(worker: int, folder: Path) -> None:
    """Stops a worker while this process has the database's lock: asleep with it, it would keep all others out."""
    with closing(sqlite3.connect(folder / "sillwright.sqlite3", PATIENCE, isolation_level=None)) as database:
        database.execute("BEGIN IMMEDIATE")
        os.kill(worker, signal.SIGSTOP)
        tasks = Path("/proc", str(worker), "task")
        until = time.monotonic() + PATIENCE
        while any((task / "stat").read_text().rpartition(")")[2].split()[0] != "T" for task in tasks.iterdir()):
            assert time.monotonic() < until
        database.execute("ROLLBACK")


@pytest.mark.parametrize("fence", ["on", "off"])
def test_a_late_result(tmp_path: Path, fence: str) -> None:
    settings = {"RUN_LEASE_SECONDS": "2", "SWEEP_SECONDS": "1", "RUN_FENCE": fence, "LOG_LEVEL": "WARNING"}
    folder = tmp_path / "data"
    with started(folder, **settings) as (client, process):
        request = golden_of_demo(client)
        line = request["openings"][0]
        request["openings"] = [line | {"mark": f"M{n}"} for n in range(10_000)]
        _, made, _ = client.estimate(request)
        wait_for_state(client, made["id"], "working")
        (sleeper,) = children(process, "manage.py work")
        put_to_sleep(sleeper, folder)
        environment = (
            {k: v for k, v in os.environ.items() if k != "DATABASE_URL"} | settings | {"DATA_DIR": str(folder)}
        )
        with (tmp_path / "data.log").open("ab") as log:
            second = subprocess.Popen([sys.executable, MANAGE, "work"], env=environment, stdout=log, stderr=log)
        try:
            wait_for_state(client, made["id"], "costed")
            _, before, _ = client.get(f"/v1/estimates/{made['id']}")
            os.kill(sleeper, signal.SIGCONT)
            expected = "result thrown away" if fence == "on" else MESSAGE
            until = time.monotonic() + PATIENCE
            while expected not in (tmp_path / "data.log").read_text():
                assert time.monotonic() < until
                time.sleep(0.1)
        finally:
            stop(second)
        text = (tmp_path / "data.log").read_text()
        assert (MESSAGE in text) == (fence == "off")
        assert client.get(f"/v1/estimates/{made['id']}")[1] == before
        assert feed(client)[made["id"]] == 1
