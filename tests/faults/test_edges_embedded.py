"""The embedded service held, its disk filled, sent what is no document: nobody is kept out, nothing costs too much.

UNFINISHED_SECONDS=60 is the long form.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import time
import uuid
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from tests.benchmarks.service import request_of
from tests.service import Remote, descendants, started, wait_ready
from tests.unfinished import COUNT, SECONDS, hold_and_ask, until_database

pytestmark = pytest.mark.campaign
Service = tuple[Remote, subprocess.Popen[bytes]]
NAMES = 1_000_000
TICK = os.sysconf("SC_CLK_TCK")
UNKNOWN = {f"u{number:07}": 1 for number in range(NAMES)}


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Service]:
    # What is imported while the disk is full would be kept compiled by half, for every later process
    told = {"RATE_LIMIT": "1000000", "PYTHONDONTWRITEBYTECODE": "1"}
    with started(tmp_path_factory.mktemp("embedded") / "data", **told) as made:
        yield made


def test_unfinished_requests_keep_nobody_out(service: Service, capsys: pytest.CaptureFixture[str]) -> None:
    line = hold_and_ask(service[0], count=COUNT, seconds=SECONDS)
    with capsys.disabled():
        print("\nembedded:", line)


def limit_files(process: Any, size: int) -> None:
    """Lets no process of the service write into a file beyond so many bytes: for it, the disk is full."""
    for pid in descendants(process.pid):
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


def test_a_full_disk_is_503_until_there_is_room(service: Service) -> None:
    client, process = service
    key = str(uuid.uuid4())
    limit_files(process, 4096)
    for _ in range(3):
        status, told, fields = client.send("POST", "/v1/projects", {"name": "Clinic"}, Idempotency_Key=key)
        assert (status, told["type"], fields["Retry-After"]) == (503, "/v1/docs#problem-unavailable", "5")
        assert client.get("/v1/projects")[0] == 200
    until_database(client, "not_writable")
    limit_files(process, resource.RLIM_INFINITY)
    until_database(client, "ready")
    status, _, fields = client.send("POST", "/v1/projects", {"name": "Clinic"}, Idempotency_Key=key)
    assert status == 201 and "Idempotent-Replayed" not in fields
    wait_ready(client.base, [process])


def web_process(process: subprocess.Popen[bytes]) -> Path:
    """Where the system tells of the process that answers requests: gunicorn's worker, the only one with a parent so."""
    below = descendants(process.pid)
    (found,) = (pid for pid in below if "gunicorn" in told(pid, "cmdline") and parent_of(pid) in below)
    return Path("/proc") / str(found)


def told(pid: int, name: str) -> str:
    return (Path("/proc") / str(pid) / name).read_text(errors="replace")


def parent_of(pid: int) -> int:
    return int(told(pid, "stat").rpartition(")")[2].split()[1])


def spent(place: Path) -> float:
    """Seconds of processor time so far."""
    user, system = (place / "stat").read_text().rpartition(")")[2].split()[11:13]
    return (int(user) + int(system)) / TICK


def peak_mib(place: Path) -> int:
    """The largest resident set since the last look, which begins anew."""
    lines = dict(line.split(":", 1) for line in (place / "status").read_text().splitlines())
    (place / "clear_refs").write_text("5")
    return int(lines["VmHWM"].split()[0]) // 1024


def cost(place: Path, send: Callable[[], tuple[int, Any, Any]]) -> tuple[float, int, tuple[int, Any]]:
    """Seconds of processor time and MiB that a request takes, and its answer."""
    peak_mib(place)
    before = spent(place)
    status, answer, _ = send()
    time.sleep(0.2)
    return spent(place) - before, peak_mib(place), (status, answer)


def sound_and_unknown(client: Remote, path: str) -> tuple[bytes, dict[str, bytes]]:
    """A sound body filled up to the size of those with a million unknown names, and these by where the names stand."""
    request = json.loads(request_of(client, 100_000))
    rows = request.pop("openings")
    own = {} if "schedules" in path else request
    bodies = {
        "in the document": json.dumps(own | {"openings": rows[:10]} | UNKNOWN).encode(),
        "in a line": json.dumps(own | {"openings": [rows[0] | UNKNOWN, *rows[1:10]]}).encode(),
        "in many lines": json.dumps(
            own | {"openings": [row | {f"u{i:05}": 1 for i in range(10)} for row in rows]}
        ).encode(),
    }
    sound = json.dumps(own | {"openings": rows}).encode()
    return sound + b" " * (max(map(len, bodies.values())) - len(sound)), bodies


def test_a_million_unknown_names(service: Service, capsys: pytest.CaptureFixture[str]) -> None:
    client, process = service
    place = web_process(process)
    project = client.get("/v1/projects")[1]["items"][0]["id"]
    for path in ("/v1/estimates", f"/v1/projects/{project}/opening-schedules"):
        sound, bodies = sound_and_unknown(client, path)

        def post(body: bytes, path: str = path) -> tuple[int, Any, Any]:
            return client.send("POST", path, body, Idempotency_Key=str(uuid.uuid4()))

        seconds, mib, (status, _) = cost(place, partial(post, sound))
        assert status in (201, 202)
        lines = [f"{path}, sound: {seconds:.1f} s, {mib} MiB"]
        for where, body in bodies.items():
            took, held, (status, answer) = cost(place, partial(post, body))
            lines.append(f"{where}: {took:.1f} s, {held} MiB")
            assert (status, len(answer["errors"])) == (422, 1000), answer["detail"]
            assert took <= 2 * seconds and held <= 2 * mib, lines
        with capsys.disabled():
            print("\n" + "; ".join(lines))
