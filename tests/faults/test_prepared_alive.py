"""prepare_database again and again on a service at work: no reader ever sees fewer rows, a false 401 or 404.

PREPARATIONS=20 PREPARED_ANSWERS=10000 is the long form.
"""

from __future__ import annotations

import os
import subprocess
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.deployment import Deployment, command_of, deployed
from tests.service import ROOT, Remote

pytestmark = pytest.mark.campaign
PREPARATIONS = int(os.environ.get("PREPARATIONS", "4"))
ANSWERS = int(os.environ.get("PREPARED_ANSWERS", "1000"))
READERS, WRITERS = 5, 2


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


def test_a_service_at_work_does_not_notice(tmp_path: Path) -> None:
    with deployed(tmp_path) as deployment:
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
