"""`manage.py start` as a user starts it: the demo costed, private files, a supervisor that restarts, a clean stop."""

from __future__ import annotations

import json
import os
import signal
import socket
import stat
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tests.expected import comparable, differences
from tests.service import MANAGE, PATIENCE, Remote, free_port, started, stop, wait_ready
from tests.worked_cases import read_case

Service = tuple[Remote, subprocess.Popen[bytes], Path]


@dataclass(frozen=True)
class FirstRun:
    """A first start on an empty folder that was ended by SIGTERM: what it answered, said and left."""

    folder: Path
    base: str
    projects: Any
    said: list[str]
    status: int
    left: list[int]


@pytest.fixture(scope="module")
def first_run(tmp_path_factory: pytest.TempPathFactory) -> FirstRun:
    folder = tmp_path_factory.mktemp("service") / "data"
    log = folder.parent / f"{folder.name}.log"
    (folder.parent / "queue.py").write_text("raise SystemExit('a file of the folder that the command comes from')")
    with started(folder) as (client, process):
        projects = client.get("/v1/projects")[1]
        until = time.monotonic() + PATIENCE
        while "Ready" not in (said := log.read_text()):
            assert time.monotonic() < until
            time.sleep(0.1)
        look = said.partition("or try: ")[2]
        shown = subprocess.run(["bash", "-c", look], capture_output=True, text=True, timeout=PATIENCE, check=True)
        assert json.loads(shown.stdout) == projects
        below = children(process, "")
        status = stop(process)
        left = [pid for pid in below if Path(f"/proc/{pid}").exists()]
    return FirstRun(folder, client.base, projects, log.read_text().splitlines(), status, left)


@pytest.fixture(scope="module")
def service(first_run: FirstRun) -> Iterator[Service]:
    folder = first_run.folder
    with started(folder, LOG_LEVEL="INFO") as (client, process):
        yield client, process, folder


def children(process: subprocess.Popen[bytes], word: str) -> list[int]:
    """Ids of the supervisor's own children whose command line holds a word."""
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                parent = int((entry / "stat").read_text().rpartition(")")[2].split()[1])
                command = (entry / "cmdline").read_bytes().replace(b"\0", b" ").decode()
            except (OSError, ValueError):
                continue
            if parent == process.pid and word in command:
                found.append(int(entry.name))
    return found


def test_sigterm_stops_all_and_the_next_start_finds_everything(first_run: FirstRun, service: Service) -> None:
    assert (first_run.status, first_run.left) == (0, [])
    line, stopped = first_run.said  # no lines of the log around them
    assert line.startswith(f"Ready at {first_run.base} ") and stopped == "Stopped."
    assert f"{first_run.folder}/demo.key" in line and "/v1/docs" in line
    assert service[0].get("/v1/projects")[1] == first_run.projects


def test_the_demo_is_costed(service: Service) -> None:
    client, _, _ = service
    _, projects, _ = client.get("/v1/projects")
    assert projects["items"]
    for project in projects["items"]:
        assert "invented" in project["name"]
        _, history, _ = client.get(f"/v1/projects/{project['id']}/estimates")
        assert [line["state"] for line in history["items"]] == ["costed", "costed"]


def test_folder_and_files_are_the_owner_s_alone(service: Service) -> None:
    _, _, folder = service
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    for path in folder.iterdir():
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0, path.name
    assert stat.S_IMODE((folder / "demo.key").stat().st_mode) == 0o600


def test_golden_over_real_http_to_the_cent(service: Service) -> None:
    client, _, folder = service
    approver = Remote(client.base, (folder / "demo-approver.key").read_text().strip())
    _, book, _ = client.send("POST", "/v1/rate-books", {"name": "Golden"})
    _, draft, fields = client.send("POST", f"/v1/rate-books/{book['id']}/editions", read_case("golden", "edition.json"))
    path = f"/v1/editions/{draft['id']}"
    _, _, fields = client.send("POST", f"{path}/submit", If_Match=fields["ETag"])
    status, approved, _ = approver.send("POST", f"{path}/approve", {"digest": draft["digest"]}, If_Match=fields["ETag"])
    assert (status, approved["state"]) == (200, "approved")
    request = read_case("golden", "request.json") | {"edition": draft["id"]}
    for wait in (10, None):
        status, made, headers = client.estimate(request, wait)
        assert status == (201 if wait else 202)
        assert headers["Location"] == f"/v1/estimates/{made['id']}"
        found: dict[str, Any] = dict(client.until_ended(made["id"]))
        for part in ("openings", "materials", "equipment", "hours", "pieces"):
            _, answer, _ = client.get(f"/v1/estimates/{made['id']}/{part}")
            found[part] = answer["items"] if set(answer) - {"cautions"} == {"items", "next"} else answer
        assert differences(comparable(read_case("golden", "expected.json")), comparable(found)) == []


@pytest.mark.parametrize("child", ["manage.py work", "gunicorn"])
def test_a_dead_child_is_started_again(service: Service, child: str) -> None:
    client, process, _ = service
    (first,) = children(process, child)
    os.kill(first, signal.SIGKILL)
    until = time.monotonic() + PATIENCE
    while children(process, child) in ([], [first]):
        assert time.monotonic() < until
        time.sleep(0.1)
    wait_ready(client.base, [process])
    assert client.get("/v1/company")[0] == 200


def test_a_second_service_on_the_folder_is_refused(service: Service) -> None:
    _, _, folder = service
    command = [sys.executable, MANAGE, "start", "--port", str(free_port()), "--data", str(folder)]
    answer = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE, check=False)
    assert answer.returncode != 0
    assert "Another service runs on" in answer.stderr
    assert "Traceback" not in answer.stderr


def test_logs_hold_no_secret(service: Service) -> None:
    client, _, folder = service
    client.get("/v1/projects", Authorization=f"Bearer {client.key}")
    log = (folder.parent / f"{folder.name}.log").read_text()
    for name in ("demo.key", "demo-approver.key", *ROLE_FILES, "secret.key"):
        text = (folder / name).read_text().strip()
        secret = text.split("_", 2)[-1] if text.startswith("sw_") else text
        assert len(secret) > 20 and secret not in log
    assert '"event":"request"' in log


def test_content_has_a_length_over_a_real_connection(service: Service) -> None:
    client, _, _ = service
    company, fields = client.get("/v1/company")[1:]
    assert company["name"] and "Transfer-Encoding" not in fields
    status, content, head = client.send("HEAD", "/v1/company")
    assert (status, content, head["Content-Length"]) == (200, b"", fields["Content-Length"])
    nobody = Remote(client.base, "sw_0000000000_wrong")
    assert nobody.get("/v1/company")[0] == 401


def test_a_request_that_is_none_gets_a_problem_document_too(service: Service) -> None:
    client, _, _ = service
    port = int(client.base.rpartition(":")[2])
    for raw in (
        b"NONSENSE\r\n\r\n",
        b"GET / HTTP/1.1\r\nBad Header: x\r\n\r\n",
        b"GET /%s HTTP/1.1\r\n\r\n" % (b"a" * 9000),
    ):
        with socket.create_connection(("127.0.0.1", port), timeout=10) as connection:
            connection.sendall(raw)
            answer = connection.recv(65536).decode()
        assert answer.startswith("HTTP/1.1 4"), answer
        assert "application/problem+json" in answer


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.0.2.1"])
def test_other_machines_do_not_reach_the_demo_unless_told(tmp_path: Path, host: str) -> None:
    port = str(free_port())
    command = [sys.executable, MANAGE, "start", "--host", host, "--port", port, "--data", str(tmp_path / "data")]
    answer = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE, check=False)
    assert answer.returncode != 0
    assert "demo company" in answer.stderr or "can't be used" in answer.stderr
    assert not (tmp_path / "data" / "demo.key").exists()


ROLE_FILES = {f"demo-{role}.key": role for role in ("viewer", "sales", "estimator", "rate-keeper", "principal")}


def test_the_demo_has_a_key_for_each_role(service: Service) -> None:
    client, _, folder = service
    mode = {stat.S_IMODE((folder / name).stat().st_mode) for name in ROLE_FILES}
    assert mode == {0o600}
    may: dict[str, list[int]] = {}
    for name in ROLE_FILES:
        api = Remote(client.base, (folder / name).read_text().strip())
        asked = [api.get(path)[0] for path in ("/v1/projects", "/v1/rate-books", "/v1/audit", "/v1/members")]
        may[name] = [*asked, api.send("POST", "/v1/projects", {"name": name})[0]]
    assert may == {
        "demo-viewer.key": [200, 200, 403, 403, 403],
        "demo-sales.key": [200, 200, 403, 403, 201],
        "demo-estimator.key": [200, 200, 403, 403, 201],
        "demo-rate-keeper.key": [200, 200, 200, 403, 201],
        "demo-principal.key": [200, 200, 200, 200, 201],
    }
