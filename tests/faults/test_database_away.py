"""The database gone and come back, and a disk that is full, under a service at work: 503 in between, never 500."""

from __future__ import annotations

import resource
import threading
import time
import uuid
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import psycopg
import pytest

from tests.deployment import Deployment, deployed
from tests.service import POSTGRES_URL, Remote, descendants, started, wait_ready

pytestmark = pytest.mark.campaign


def take_away(deployment: Deployment, away: bool) -> None:
    """Ends every connection to the deployment's database and lets none in, as a restart does; or lets them in again."""
    name = deployment.environment["DATABASE_URL"].rpartition("/")[2]
    with psycopg.connect(f"{POSTGRES_URL}/postgres", autocommit=True) as admin:
        admin.execute(f"ALTER DATABASE {name} WITH ALLOW_CONNECTIONS {not away}")
        if away:
            admin.execute("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = %s", [name])


def work_on(client: Remote, over: threading.Event) -> Counter[tuple[int, bool]]:
    """Reads and makes projects until it is over: answers by status, and whether each 503 says when to come again."""
    counted: Counter[tuple[int, bool]] = Counter()
    while not over.is_set():
        for answer in (client.get("/v1/projects"), client.send("POST", "/v1/projects", {"name": "Clinic"})):
            counted[answer[0], answer[2].get("Retry-After") is not None] += 1
    return counted


def until_ready(client: Remote, told: str) -> None:
    """Returns once /readyz says so of the database."""
    until = time.monotonic() + 30
    while client.get("/readyz")[1]["checks"]["database"] != told:
        assert time.monotonic() < until
        time.sleep(0.1)


def test_a_restarted_database_is_503_until_it_is_back(tmp_path: Path) -> None:
    with deployed(tmp_path) as deployment:
        client, over = deployment.client("golden"), threading.Event()
        with ThreadPoolExecutor(4) as others:
            tasks = [others.submit(work_on, client, over) for _ in range(4)]
            time.sleep(0.5)
            take_away(deployment, True)
            until_ready(client, "away")
            time.sleep(0.5)
            take_away(deployment, False)
            until_ready(client, "ready")
            time.sleep(0.5)
            over.set()
        counted = sum((task.result() for task in tasks), Counter())
        assert set(counted) == {(200, False), (201, False), (503, True)}, counted
        assert client.get("/v1/projects")[0] == 200
        wait_ready(deployment.base, list(deployment.processes.values()))


def limit_files(process: Any, size: int) -> None:
    """Lets no process of the service write into a file beyond so many bytes: for it, the disk is full."""
    for pid in descendants(process.pid):
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


def test_a_full_disk_is_503_until_there_is_room(tmp_path: Path) -> None:
    with started(tmp_path / "data") as (client, process):
        key = str(uuid.uuid4())
        limit_files(process, 4096)
        for _ in range(3):
            status, told, fields = client.send("POST", "/v1/projects", {"name": "Clinic"}, Idempotency_Key=key)
            assert (status, told["type"], fields["Retry-After"]) == (503, "/v1/docs#problem-unavailable", "5")
            assert client.get("/v1/projects")[0] == 200
        until_ready(client, "not_writable")
        limit_files(process, resource.RLIM_INFINITY)
        until_ready(client, "ready")
        status, _, fields = client.send("POST", "/v1/projects", {"name": "Clinic"}, Idempotency_Key=key)
        assert status == 201 and "Idempotent-Replayed" not in fields
        wait_ready(client.base, [process])
