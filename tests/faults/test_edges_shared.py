"""The shared deployment held, prepared and cut off while it works: nobody is kept out, nobody sees less, never a 500.

UNFINISHED_SECONDS=60, PREPARATIONS=20 and PREPARED_ANSWERS=10000 are the long forms.
"""

from __future__ import annotations

import os
import subprocess
import threading
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import psycopg
import pytest

from tests.deployment import Deployment, command_of, deployed
from tests.service import POSTGRES_URL, ROOT, Remote, wait_ready
from tests.unfinished import COUNT, SECONDS, hold_and_ask, until_database

pytestmark = pytest.mark.campaign
PREPARATIONS = int(os.environ.get("PREPARATIONS", "3"))
ANSWERS = int(os.environ.get("PREPARED_ANSWERS", "1000"))
READERS, WRITERS = 5, 2


@pytest.fixture(scope="module")
def deployment(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Deployment]:
    with deployed(tmp_path_factory.mktemp("shared")) as made:
        yield made


def test_unfinished_requests_keep_nobody_out(deployment: Deployment, capsys: pytest.CaptureFixture[str]) -> None:
    line = hold_and_ask(deployment.client("golden"), count=COUNT, seconds=SECONDS)
    with capsys.disabled():
        print("\nshared:", line)


def prepare(deployment: Deployment) -> None:
    """One run of the command by the role that owns the tables."""
    subprocess.run(command_of("migrate"), env=deployment.owner, cwd=ROOT, check=True, capture_output=True)


def read_on(client: Remote, project: str, over: threading.Event, counted: list[str]) -> None:
    """Reads one project and the list of all until it is over, and notes each answer that is wrong."""
    least = 1
    while not over.is_set():
        status, found, _ = client.get("/v1/projects?limit=500")
        now = len(found["items"]) if status == 200 else 0
        counted.append("right" if now >= min(least, 500) else f"{status} with {now} projects after {least}")
        least = max(least, now)
        status, found, _ = client.get(f"/v1/projects/{project}")
        counted.append("right" if status == 200 else f"{status} for a project that is there")


def write_on(client: Remote, over: threading.Event, counted: list[str]) -> None:
    """Makes projects until it is over, and notes each answer that is wrong."""
    while not over.wait(0.02):
        status, _, _ = client.send("POST", "/v1/projects", {"name": "Clinic"})
        counted.append("right" if status == 201 else f"{status} for a new project")


def test_preparing_the_database_is_not_noticed(deployment: Deployment) -> None:
    client = deployment.client("golden")
    project = client.send("POST", "/v1/projects", {"name": "First"})[1]["id"]
    over, counted = threading.Event(), list[str]()
    with ThreadPoolExecutor(READERS + WRITERS) as others:
        tasks = [others.submit(read_on, client, project, over, counted) for _ in range(READERS)]
        tasks += [others.submit(write_on, client, over, counted) for _ in range(WRITERS)]
        done = 0
        while (done < PREPARATIONS or len(counted) < ANSWERS) and not any(task.done() for task in tasks):
            prepare(deployment)
            done += 1
        over.set()
    for task in tasks:
        task.result()
    wrong = [answer for answer in counted if answer != "right"]
    assert not wrong, (len(wrong), len(counted), wrong[:5])
    print(f"{done} preparations, {len(counted)} answers, none wrong")


def take_away(deployment: Deployment, away: bool) -> None:
    """Ends every connection to the deployment's database and lets none in, as a restart does; or lets them in again."""
    name = deployment.environment["DATABASE_URL"].rpartition("/")[2]
    with psycopg.connect(f"{POSTGRES_URL}/postgres", autocommit=True) as admin:
        admin.execute(f"ALTER DATABASE {name} WITH ALLOW_CONNECTIONS {not away}")
        if away:
            admin.execute("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = %s", [name])


def leave_room(deployment: Deployment, room: str) -> None:
    """How much the service may write into files of the moment: none stands for a disk without room."""
    name, role = deployment.environment["DATABASE_URL"].rpartition("/")[2], deployment.environment["APPLICATION_ROLE"]
    with psycopg.connect(f"{POSTGRES_URL}/postgres", autocommit=True) as admin:
        admin.execute(f"ALTER ROLE {role} SET temp_file_limit = '{room}'")
        admin.execute("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = %s", [name])


def test_a_disk_without_room_is_told_though_a_small_row_fits(deployment: Deployment) -> None:
    client = deployment.client("golden")
    leave_room(deployment, "0")
    until_database(client, "not_writable")
    leave_room(deployment, "-1")
    until_database(client, "ready")


def work_on(client: Remote, over: threading.Event) -> Counter[tuple[int, bool]]:
    """Reads and makes projects until it is over: answers by status, and whether each 503 says when to come again."""
    counted: Counter[tuple[int, bool]] = Counter()
    while not over.is_set():
        for answer in (client.get("/v1/projects"), client.send("POST", "/v1/projects", {"name": "Clinic"})):
            counted[answer[0], answer[2].get("Retry-After") is not None] += 1
    return counted


def test_a_restarted_database_is_503_until_it_is_back(deployment: Deployment) -> None:
    client, over = deployment.client("golden"), threading.Event()
    with ThreadPoolExecutor(4) as others:
        tasks = [others.submit(work_on, client, over) for _ in range(4)]
        time.sleep(0.5)
        take_away(deployment, True)
        until_database(client, "away")
        time.sleep(0.5)
        take_away(deployment, False)
        until_database(client, "ready")
        time.sleep(0.5)
        over.set()
    counted = sum((task.result() for task in tasks), Counter())
    assert set(counted) == {(200, False), (201, False), (503, True)}, counted
    assert client.get("/v1/projects")[0] == 200
    wait_ready(deployment.base, list(deployment.processes.values()))
