"""The service under `manage.py start` beside the frozen yardstick and a bare Django view, alternating.

    python -m tests.benchmarks.service [--schedules office tidy] [--lines 10000 100000] [--kinds 200] [--rounds 5]

Large schedules: from POST to costed, stored and answered, beside the yardstick's whole run. A small one: a POST that is
waited for. Summary: answers over one kept connection, a batch in turn with one of a bare view of the same size on the
same server. Seconds and milliseconds of processor time of all processes of the service, the least of the rounds, by the
clock in brackets; memory is the largest resident set of any of its processes.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import subprocess
import sys
import tempfile
import time
import uuid
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.benchmarks.measured import ROUNDS, Case, Spent, cases, cpu_seconds, least, print_rows, python_of, usual_way
from tests.benchmarks.schedules import SCHEDULES, write_request
from tests.service import ROOT, Remote, descendants, free_port, reachable, started, stop

SMALL = Case("office", 16, 16)
BATCH = 100  # requests to the service and then as many to the bare view, so that a slow moment falls on both
SETTLED = 0.1  # seconds after which a service has done what it does after its answer
QUIET = {"LOG_LEVEL": "INFO", "RATE_LIMIT": "100000000"}


class Kept:
    """One kept connection."""

    def __init__(self, base: str, key: str | None) -> None:
        self.connection = http.client.HTTPConnection(base.removeprefix("http://"), timeout=120)
        self.headers = {"Authorization": f"Bearer {key}"} if key else {}

    def send(self, method: str, path: str, body: bytes | None = None, **fields: str) -> tuple[int, bytes]:
        headers = self.headers | {name.replace("_", "-"): value for name, value in fields.items()}
        try:
            self.connection.request(method, path, body, headers)
            answer = self.connection.getresponse()
        except (ConnectionError, http.client.HTTPException):  # the server closed it while something else was timed
            self.connection.close()
            self.connection.request(method, path, body, headers)
            answer = self.connection.getresponse()
        return answer.status, answer.read()

    def post(self, body: bytes, **fields: str) -> dict[str, Any]:
        """The estimate that a request makes."""
        made: dict[str, Any] = json.loads(self.sent(body, **fields)[1])
        return made

    def sent(self, body: bytes, **fields: str) -> tuple[int, bytes]:
        """Status and bytes of the answer to a request for an estimate."""
        told = {"Content_Type": "application/json", "Idempotency_Key": str(uuid.uuid4())} | fields
        status, content = self.send("POST", "/v1/estimates", body, **told)
        assert status in (201, 202), content[:500]
        return status, content


def request_of(client: Remote, lines: int, kinds: int = 200, schedule: str = "office") -> bytes:
    """A request of so many lines that the demo company can cost."""
    text, _ = write_request(lines, min(kinds, lines), schedule)
    request = json.loads(text)
    del request["edition"]
    request["rate_book"] = client.get("/v1/rate-books")[1]["items"][0]["id"]
    request["crew"] = {"members": [{"labour": "mechanic", "count": 2}]}
    return json.dumps(request).encode()


def is_unfinished(document: bytes) -> bool:
    """Whether the estimate's run has not ended: its document is short then."""
    return len(document) < 20_000 and json.loads(document)["state"] in ("queued", "working")


class Service:
    """A service of a checkout at work, and what it spends."""

    def __init__(self, client: Remote, pid: int) -> None:
        self.client, self.pid = client, pid
        self.kept = Kept(client.base, client.key)
        self.bodies: dict[Case, bytes] = {}
        self.summary = self.small(1)

    def spent(self, work: Callable[[], object], times: int = 1) -> Spent:
        """What the service spends on one of so many, and the time by the clock."""
        before, start = cpu_seconds(self.pid), time.perf_counter()
        for _ in range(times):
            work()
        wall = time.perf_counter() - start
        time.sleep(SETTLED)
        return Spent((cpu_seconds(self.pid) - before) / times, wall / times)

    def body(self, case: Case) -> bytes:
        """The request of a case, made once."""
        if case not in self.bodies:
            self.bodies[case] = request_of(self.client, case.lines, case.kinds, case.schedule)
        return self.bodies[case]

    def large(self, case: Case) -> Spent:
        """From sending to costed and stored: until the whole document has come back, not until it is parsed."""
        body = self.body(case)
        return self.spent(lambda: self.until_costed(body))

    def until_costed(self, body: bytes) -> None:
        status, document = self.kept.sent(body, Prefer="wait=30")
        path = f"/v1/estimates/{json.loads(document)['id']}"
        while status == 202 or is_unfinished(document):
            time.sleep(0.02)
            status, document = self.kept.send("GET", path)
        assert json.loads(document)["state"] == "costed"

    def small(self, times: int) -> str:
        """The address of the last of so many small estimates, each waited for."""
        for _ in range(times):
            made = self.kept.post(self.body(SMALL), Prefer="wait=10")
            assert made["state"] == "costed"
        return f"/v1/estimates/{made['id']}"

    def waited(self, times: int = 40) -> Spent:
        """A small estimate that is waited for."""
        return self.spent(lambda: self.small(1), times)

    def summaries(self, times: int = BATCH) -> Spent:
        """One answer of an estimate's summary."""
        return self.spent(lambda: get(self.kept, self.summary), times)

    def peak_mib(self) -> int:
        """The largest resident set, in MiB, that any of its processes has had."""
        return max(peak_mib(pid) for pid in {self.pid, *descendants(self.pid)})


def get(kept: Kept, path: str) -> bytes:
    """What an address answers."""
    status, content = kept.send("GET", path)
    assert status == 200, content[:500]
    return content


@contextmanager
def service_of(checkout: Path = ROOT) -> Iterator[Service]:
    """The service of a checkout, started on an empty folder."""
    with tempfile.TemporaryDirectory() as folder:
        manage = (python_of(checkout), str(checkout / "manage.py"))
        with started(Path(folder) / "data", manage=manage, **QUIET) as (client, process):
            yield Service(client, process.pid)


@contextmanager
def bare_view(size: int) -> Iterator[Callable[[], Spent]]:
    """What measures a bare view on a server set up like the service's: one answer of a batch."""
    port = free_port()
    environment = os.environ | {"BIND": f"127.0.0.1:{port}", "BARE_BYTES": str(size)}
    command = [sys.executable, "-m", "gunicorn", "-c", "python:api.gunicorn_conf", "tests.benchmarks.bare:application"]
    process = subprocess.Popen(command, env=environment, cwd=ROOT, stderr=subprocess.DEVNULL)
    try:
        while not reachable("127.0.0.1", port):
            time.sleep(0.05)
        kept = Kept(f"http://127.0.0.1:{port}", None)

        def batch() -> Spent:
            before, start = cpu_seconds(process.pid), time.perf_counter()
            for _ in range(BATCH):
                get(kept, "/")
            wall = time.perf_counter() - start
            return Spent((cpu_seconds(process.pid) - before) / BATCH, wall / BATCH)

        yield batch
    finally:
        stop(process)


def peak_mib(pid: int) -> int:
    """The largest resident set of a process, in MiB."""
    try:
        status = (Path("/proc") / str(pid) / "status").read_text()
    except OSError:  # it has ended
        return 0
    return max((int(line.split()[1]) // 1024 for line in status.splitlines() if line.startswith("VmHWM")), default=0)


def text_of(spent: Spent, scale: int = 1) -> str:
    """Processor time in seconds, or milliseconds by a scale of 1000, by the clock in brackets."""
    return f"{scale * spent.cpu:.3f} ({scale * spent.wall:.3f})"


def rows(chosen: argparse.Namespace) -> Iterator[Sequence[str]]:
    """The heading, then what was measured, each beside its yardstick."""
    yield "what", "service", "beside it", "ratio"
    with service_of() as service, bare_view(len(get(service.kept, service.summary))) as bare:
        for case in cases(chosen.schedules, chosen.lines, chosen.kinds):
            both = [(service.large(case), usual_way(case.lines)) for _ in range(chosen.rounds)]
            ours, theirs = (least(spent) for spent in zip(*both, strict=True))
            named = f"{case.schedule} schedule, {case.lines:,} lines of {case.kinds:,} kinds, s"
            yield named, text_of(ours), f"{text_of(theirs)} the usual way", f"{theirs.cpu / ours.cpu:.1f}"
        yield (
            "16 openings, waited for, ms",
            text_of(least([service.waited() for _ in range(chosen.rounds)]), 1000),
            "",
            "",
        )
        both = [(service.summaries(), bare()) for _ in range(chosen.rounds * 4)]
        ours, theirs = (least(spent) for spent in zip(*both, strict=True))
        beside = f"{text_of(theirs, 1000)} a bare view"
        yield "summary of an estimate, ms", text_of(ours, 1000), beside, f"{theirs.cpu / ours.cpu:.2f}"
        yield "largest process, MiB", str(service.peak_mib()), "", ""


def main() -> None:
    """Prints the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--schedules", nargs="+", choices=list(SCHEDULES), default=list(SCHEDULES))
    parser.add_argument("--lines", type=int, nargs="*", default=[10_000, 100_000])
    parser.add_argument("--kinds", type=int, nargs="+", default=[200])
    parser.add_argument("--rounds", type=int, default=ROUNDS)
    print_rows(rows(parser.parse_args()))


if __name__ == "__main__":
    main()
