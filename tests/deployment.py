"""The shared deployment as processes: the very commands of docker-compose.yml on PostgreSQL, Redis and Celery."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import uuid
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import psycopg
import pytest
import redis
import yaml

from tests.service import (
    PATIENCE,
    POSTGRES_URL,
    REDIS_URL,
    ROOT,
    TEST_PASSWORD,
    Remote,
    free_port,
    reachable,
    shared_environment,
    stop,
    wait_ready,
)
from tests.worked_cases import CASES, read_case

COMPOSE = yaml.safe_load((ROOT / "docker-compose.yml").read_text())
MAKE_OFFICE = """
import json, django; django.setup()
from tests.cast import make_office
from tests.worked_cases import read_case
offices = {name: make_office(name, read_case(name, "edition.json")) for name in %r}
print(json.dumps({name: [office.key, str(office.edition)] for name, office in offices.items()}))
"""


def command_of(service: str) -> list[str]:
    """The command of a service of docker-compose.yml, run by this Python."""
    command = list(COMPOSE["services"][service]["command"])
    assert command[0] == "python"
    return [sys.executable, *command[1:]]


class Deployment:
    """Web and worker as processes, a client for each case's office; `owner`: the environment that migrates."""

    def __init__(self, environment: dict[str, str], log: Path) -> None:
        self.environment, self.log = environment, log
        self.owner = environment | {
            "DATABASE_URL": f"{POSTGRES_URL}/{environment['DATABASE_URL'].rpartition('/')[2]}",
            "APPLICATION_PASSWORD": TEST_PASSWORD,
            "DUMP_PASSWORD": TEST_PASSWORD,
        }
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
        process.wait(PATIENCE)

    def make_offices(self) -> None:
        """An office for each worked case, made straight in the database."""
        script = [sys.executable, "-c", MAKE_OFFICE % (CASES,)]
        environment = self.owner | {"DJANGO_SETTINGS_MODULE": "api.settings"}
        made = subprocess.run(script, env=environment, cwd=ROOT, check=True, capture_output=True, text=True)
        self.offices = yaml.safe_load(made.stdout.splitlines()[-1])

    def client(self, case: str) -> Remote:
        return Remote(self.base, self.offices[case][0])

    def request(self, case: str) -> Any:
        """The request of a worked case, under its office's edition."""
        return read_case(case, "request.json") | {"edition": self.offices[case][1]}


MARK = "taken by a test"
QUEUES = ("celery*", "unacked*", "_kombu.binding.*", "*.celery.pidbox")


def clear_queues(server: redis.Redis) -> None:
    """Removes what Celery keeps in a database of Redis, and nothing else."""
    for pattern in QUEUES:
        for key in server.scan_iter(match=pattern):
            server.delete(key)


@contextmanager
def own_broker() -> Iterator[str]:
    """The address of a database of the machine's Redis that no other test uses: they would take each other's messages.

    Database 0 is never taken; only what Celery keeps in the chosen one is removed after.
    """
    for number in range(1, 16):
        with redis.Redis.from_url(f"{REDIS_URL}/{number}") as server:
            if server.set(MARK, os.getpid(), nx=True, ex=1800):
                clear_queues(server)
                try:
                    yield f"{REDIS_URL}/{number}"
                finally:
                    clear_queues(server)
                    server.delete(MARK)
                return
    raise AssertionError("every database of Redis is taken")


def need_servers() -> None:
    """Skips where the machine runs no PostgreSQL or no Redis."""
    for url in (POSTGRES_URL, REDIS_URL):
        place = urlsplit(url)
        if not reachable(str(place.hostname), place.port or 0):
            pytest.skip(f"no {place.scheme} on this machine")


@contextmanager
def deployed(folder: Path, broker: str = "", **changes: str) -> Iterator[Deployment]:
    """A deployment on a database and a queue of its own, migrated, with web and worker ready; skips without servers."""
    need_servers()
    database = f"sillwright_{uuid.uuid4().hex[:12]}"
    with ExitStack() as stack:
        broker = broker or stack.enter_context(own_broker())
        admin = stack.enter_context(psycopg.connect(f"{POSTGRES_URL}/postgres", autocommit=True))
        admin.execute(f"CREATE DATABASE {database}")
        environment = shared_environment(database, broker, folder / "data", free_port()) | changes
        made = Deployment(environment, folder / "log")
        try:
            subprocess.run(command_of("migrate"), env=made.owner, cwd=ROOT, check=True, capture_output=True)
            made.make_offices()
            for name in ("web", "worker"):
                made.run(name)
            wait_ready(made.base, list(made.processes.values()))
            yield made
        finally:
            for process in made.processes.values():
                stop(process)
            admin.execute(f"DROP DATABASE {database} WITH (FORCE)")
            for role in (environment["APPLICATION_ROLE"], environment["DUMP_ROLE"]):
                admin.execute(f"DROP ROLE IF EXISTS {role}")
