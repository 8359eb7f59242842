"""The service as real processes: started as a user starts it, or as the shared deployment's own commands do."""

from __future__ import annotations

import json
import os
import secrets
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
import uuid
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

ROOT = Path(__file__).resolve().parent.parent
MANAGE = str(ROOT / "manage.py")
POSTGRES_URL = os.environ.get("TEST_POSTGRES_URL", "postgres://postgres@127.0.0.1:5432")
TEST_PASSWORD = "test0password"  # of the roles that the tests make
REDIS_URL = os.environ.get("TEST_REDIS_URL", "redis://127.0.0.1:6379")
PATIENCE = 240  # seconds that what is awaited may take: a machine may have other work


kept: list[socket.socket] = []  # until this process ends


def free_port() -> int:
    """A port that nobody else takes, below those that the system gives to clients, which come and go by the thousand.

    It stays bound here without being listened on: a server, which binds with SO_REUSEADDR, may have it, while whoever
    else looks for a free one finds it taken, however long the server needs to start.
    """
    while True:
        port, holder = secrets.choice(range(20_000, 32_000)), socket.socket()
        try:
            holder.bind(("127.0.0.1", port))
        except OSError:
            holder.close()
            continue
        holder.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        kept.append(holder)
        return port


def reachable(host: str, port: int) -> bool:
    """Whether a server answers there."""
    try:
        with socket.create_connection((host, port), timeout=1):
            return True
    except OSError:
        return False


def descendants(parent: int) -> set[int]:
    """Ids of the processes that a process has started, and of those that they have."""
    parents = {}
    for entry in Path("/proc").iterdir():
        try:
            parents[int(entry.name)] = int((entry / "stat").read_text().rpartition(")")[2].split()[1])
        except (OSError, ValueError):  # no process, or one that has ended meanwhile
            continue
    found, before = {parent}, set[int]()
    while found != before:
        before = set(found)
        found |= {child for child, above in parents.items() if above in found}
    return found - {parent}


class Remote:
    """A client over real HTTP with one access key."""

    def __init__(self, base: str, key: str | None) -> None:
        self.base, self.key = base, key

    def send(self, method: str, path: str, body: Any = None, **fields: str) -> tuple[int, Any, Any]:
        """Status, JSON value (or bytes) and header fields of one answer; fields are header fields, `_` for `-`."""
        headers = {name.replace("_", "-"): value for name, value in fields.items()}
        if self.key is not None:
            headers["Authorization"] = f"Bearer {self.key}"
        data = None if body is None else body if isinstance(body, bytes) else json.dumps(body).encode()
        if data is not None:
            headers.setdefault("Content-Type", "application/json")
        request = urllib.request.Request(self.base + path, data=data, method=method, headers=headers)
        try:
            with urllib.request.urlopen(request, timeout=PATIENCE) as answer:
                return answer.status, read_answer(answer), answer.headers
        except urllib.error.HTTPError as refusal:
            with refusal:
                return refusal.code, read_answer(refusal), refusal.headers

    def get(self, path: str, **fields: str) -> tuple[int, Any, Any]:
        return self.send("GET", path, **fields)

    def estimate(self, request: Any, wait: int | None = None) -> tuple[int, Any, Any]:
        """The answer to a request for an estimate under a fresh key."""
        fields = {"Prefer": f"wait={wait}"} if wait is not None else {}
        return self.send("POST", "/v1/estimates", request, Idempotency_Key=str(uuid.uuid4()), **fields)

    def until_ended(self, id: str, seconds: float = PATIENCE) -> Any:
        """The estimate once its run has ended."""
        until = time.monotonic() + seconds
        while True:
            _, document, _ = self.get(f"/v1/estimates/{id}")
            if document["state"] not in ("queued", "working"):
                return document
            assert time.monotonic() < until, f"still {document['state']}"
            time.sleep(0.05)


def read_answer(answer: Any) -> Any:
    """The JSON value of an answer, or its bytes."""
    content = answer.read()
    return json.loads(content) if "json" in answer.headers.get("Content-Type", "") and content else content


def wait_ready(base: str, processes: Sequence[subprocess.Popen[bytes]], seconds: float = PATIENCE) -> None:
    """Returns once /readyz is 200; AssertionError where a process ends before, or the time is up."""
    until = time.monotonic() + seconds
    client = Remote(base, None)
    while time.monotonic() < until:
        ended = [process.args for process in processes if process.poll() is not None]
        assert not ended, f"ended: {ended}"
        try:
            if client.get("/readyz")[0] == 200:
                return
        except OSError:
            pass
        time.sleep(0.1)
    raise AssertionError("not ready in time")


class StillThere(Exception):
    """A process did not end when it was told to."""


def stop(process: subprocess.Popen[bytes], number: int = signal.SIGTERM) -> int:
    """The exit status after a signal; where it doesn't end, it and all below it leave their stacks in the log.

    Patience is counted in looks, not by the clock, which may jump on a virtual machine that was halted.
    """
    if process.poll() is None:
        process.send_signal(number)
    for _ in range(10 * PATIENCE):
        if (status := process.poll()) is not None:
            return status
        time.sleep(0.1)
    for pid in (*descendants(process.pid), process.pid):
        with suppress(ProcessLookupError):
            os.kill(pid, signal.SIGABRT)
    time.sleep(2)
    process.kill()
    process.wait()
    raise StillThere(process.args)


@contextmanager
def started(
    folder: Path, *options: str, manage: Sequence[str] = (sys.executable, MANAGE), **environment: str
) -> Iterator[tuple[Remote, subprocess.Popen[bytes]]]:
    """`manage.py start` on a folder, called from outside the checkout: a client with the demo's key, the supervisor."""
    port = free_port()
    command = [*manage, "start", "--port", str(port), "--data", str(folder), *options]
    base = f"http://127.0.0.1:{port}"
    plain = {k: v for k, v in os.environ.items() if k not in ("DATABASE_URL", "REDIS_URL", "ALLOWED_HOSTS")}
    plain["PYTHONFAULTHANDLER"] = "1"
    written = folder.parent / f"{folder.name}.log"
    with written.open("ab") as log:
        process = subprocess.Popen(command, cwd=folder.parent, env=plain | environment, stdout=log, stderr=log)
    try:
        wait_ready(base, [process])
        key = folder / "demo.key"
        yield Remote(base, key.read_text().strip() if key.exists() else None), process
    finally:
        try:
            stop(process)
        except StillThere:
            print(written.read_text()[-20_000:], file=sys.stderr)
            raise


def shared_environment(database: str, broker: str, folder: Path, port: int) -> dict[str, str]:
    """The environment of the shared deployment's processes, which connect by the service's role."""
    server = urlsplit(POSTGRES_URL)
    service = f"{database}_service"
    return os.environ | {
        "DATABASE_URL": f"postgres://{service}:{TEST_PASSWORD}@{server.hostname}:{server.port or 5432}/{database}",
        "APPLICATION_ROLE": service,
        "DUMP_ROLE": f"{database}_dump",
        "REDIS_URL": broker,
        "SECRET_KEY": secrets.token_urlsafe(48),
        "DATA_DIR": str(folder),
        "BIND": f"127.0.0.1:{port}",
        "SWEEP_SECONDS": "1",
        "RUN_LEASE_SECONDS": "3",
        "RATE_LIMIT": "1000000",
    }
