"""The shared deployment: the very commands of docker-compose.yml as processes on PostgreSQL, Redis and Celery."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
import yaml

from tests.cast import read_case
from tests.expected import PARTS, comparable, differences
from tests.http.test_cases import CASES
from tests.service import (
    POSTGRES_URL,
    REDIS_URL,
    ROOT,
    Remote,
    free_port,
    reachable,
    shared_environment,
    started,
    stop,
    wait_ready,
)

COMPOSE = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
MAKE_OFFICE = """
import json, django; django.setup()
from tests.cast import make_office, read_case
offices = {name: make_office(name, read_case(name, "edition.json")) for name in %r}
print(json.dumps({name: [office.key, str(office.edition)] for name, office in offices.items()}))
"""


def command_of(service: str) -> list[str]:
    """The command of a service of docker-compose.yml, run by this Python."""
    command = list(COMPOSE["services"][service]["command"])
    assert command[0] == "python"
    return [sys.executable, *command[1:]]


class Deployment:
    """Web and worker as processes, and a client for each worked case's office."""

    def __init__(self, environment: dict[str, str], log: Path) -> None:
        self.environment, self.log = environment, log
        self.base = f"http://{environment['BIND']}"
        self.processes: dict[str, subprocess.Popen[bytes]] = {}
        self.offices: dict[str, Any] = {}

    def run(self, name: str) -> None:
        """Starts a service of docker-compose.yml."""
        with self.log.open("ab") as log:
            self.processes[name] = subprocess.Popen(
                command_of(name), env=self.environment, cwd=ROOT, stdout=log, stderr=log, start_new_session=True
            )

    def kill(self, name: str) -> None:
        """Kills a service with all its processes, at once."""
        process = self.processes[name]
        os.killpg(process.pid, signal.SIGKILL)
        process.wait(10)

    def make_offices(self) -> None:
        """An office for each worked case, made straight in the database."""
        script = [sys.executable, "-c", MAKE_OFFICE % (CASES,)]
        environment = self.environment | {"DJANGO_SETTINGS_MODULE": "api.settings"}
        made = subprocess.run(script, env=environment, cwd=ROOT, check=True, capture_output=True, text=True)
        self.offices = yaml.safe_load(made.stdout.splitlines()[-1])

    def client(self, case: str) -> Remote:
        return Remote(self.base, self.offices[case][0])

    def request(self, case: str) -> Any:
        """The request of a worked case, under its office's edition."""
        return read_case(case, "request.json") | {"edition": self.offices[case][1]}


@pytest.fixture(scope="module")
def deployment(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Deployment]:
    if not (reachable("127.0.0.1", 5432) and reachable("127.0.0.1", 6379)):
        pytest.skip("no PostgreSQL or no Redis on this machine")
    database = f"sillwright_{uuid.uuid4().hex[:12]}"
    folder = tmp_path_factory.mktemp("shared")
    with psycopg.connect(f"{POSTGRES_URL}/postgres", autocommit=True) as admin:
        admin.execute(f"CREATE DATABASE {database}")
        made = Deployment(shared_environment(database, folder / "data", free_port()), folder / "log")
        try:
            subprocess.run(command_of("migrate"), env=made.environment, cwd=ROOT, check=True, capture_output=True)
            made.make_offices()
            for name in ("web", "worker"):
                made.run(name)
            wait_ready(made.base, list(made.processes.values()))
            yield made
        finally:
            for process in made.processes.values():
                stop(process)
            admin.execute(f"DROP DATABASE {database} WITH (FORCE)")


def gather(client: Remote, document: dict[str, Any]) -> dict[str, Any]:
    """An estimate with its parts, as a worked case gathers them."""
    found = dict(document)
    for part in PARTS:
        _, answer, _ = client.get(f"/v1/estimates/{document['id']}/{part}")
        found[part] = answer["items"] if set(answer) == {"items", "next"} else answer
    return found


@pytest.mark.parametrize("case", CASES)
def test_worked_cases_by_celery_on_postgresql(deployment: Deployment, case: str) -> None:
    client = deployment.client(case)
    status, made, _ = client.estimate(deployment.request(case))
    assert (status, made["state"]) == (202, "queued")
    found = gather(client, client.until_ended(made["id"]))
    assert differences(comparable(read_case(case, "expected.json")), comparable(found)) == []


def test_both_deployments_give_the_same_digest_and_figures(deployment: Deployment, tmp_path: Path) -> None:
    client = deployment.client("golden")
    _, made, _ = client.estimate(deployment.request("golden"))
    shared = client.until_ended(made["id"])
    with started(tmp_path / "data") as (embedded, _):
        approver = Remote(embedded.base, (tmp_path / "data" / "demo-approver.key").read_text().strip())
        _, book, _ = embedded.send("POST", "/v1/rate-books", {"name": "Golden"})
        path = f"/v1/rate-books/{book['id']}/editions"
        _, draft, tag = embedded.send("POST", path, read_case("golden", "edition.json"))
        path = f"/v1/editions/{draft['id']}"
        _, _, tag = embedded.send("POST", f"{path}/submit", If_Match=tag["ETag"])
        approver.send("POST", f"{path}/approve", {"digest": draft["digest"]}, If_Match=tag["ETag"])
        request = read_case("golden", "request.json") | {"edition": draft["id"]}
        _, own, _ = embedded.estimate(request, wait=20)
    same = ("input_digest", "engine_version", "totals", "build_up", "by_mark", "units", "remarks", "cautions")
    assert {name: shared[name] for name in same} == {name: own[name] for name in same}


def test_a_killed_worker_s_runs_are_costed_by_the_next(deployment: Deployment) -> None:
    client = deployment.client("golden")
    deployment.kill("worker")
    ids = [client.estimate(deployment.request("golden"))[1]["id"] for _ in range(5)]
    assert {client.get(f"/v1/estimates/{id}")[1]["state"] for id in ids} == {"queued"}
    deployment.run("worker")
    assert {client.until_ended(id)["state"] for id in ids} == {"costed"}


def test_a_deaf_worker_is_not_ready(deployment: Deployment) -> None:
    client = deployment.client("golden")
    deployment.kill("worker")
    until = time.monotonic() + 30
    while client.get("/readyz")[0] != 503:
        assert time.monotonic() < until
        time.sleep(0.2)
    assert client.get("/readyz")[1]["checks"]["worker"] in ("no_worker", "deaf")
    deployment.run("worker")
    wait_ready(deployment.base, list(deployment.processes.values()))


def test_the_compose_file_keeps_to_its_rules() -> None:
    services = COMPOSE["services"]
    for name, service in services.items():
        assert service["user"].split(":")[0] not in ("0", "root"), name
        assert name == "migrate" or "healthcheck" in service, name
    assert "--requirepass" in services["redis"]["command"]
    assert services["web"]["depends_on"]["migrate"]["condition"] == "service_completed_successfully"
    assert REDIS_URL.startswith("redis://")
