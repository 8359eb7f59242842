"""The service under `manage.py start` beside the frozen yardstick and a bare Django view, alternating.

    python -m tests.benchmarks.service [--lines 10000 100000] [--rounds 3] [--requests 400]

Large schedules: seconds from POST to costed and stored, read by polling, beside the yardstick's whole run. A small one:
milliseconds of a POST that is waited for. Summary: requests a second over one kept connection, a batch in turn with one
to a bare view of the same size on the same server. Medians; memory is the largest resident set of any process of it.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.benchmarks.core import write_request
from tests.service import ROOT, Remote, free_port, reachable, started, stop

KINDS = 200
SMALL = 16
BATCH = 100  # requests to the service and then as many to the bare view, so that a slow moment falls on both
YARDSTICK = ROOT / "tests" / "benchmarks" / "usual_way.py"


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


def request_of(client: Remote, lines: int) -> bytes:
    """A request of so many lines that the demo company can cost."""
    text, _ = write_request(lines, min(KINDS, lines))
    request = json.loads(text)
    del request["edition"]
    request["rate_book"] = client.get("/v1/rate-books")[1]["items"][0]["id"]
    request["crew"] = {"members": [{"labour": "mechanic", "count": 2}]}
    return json.dumps(request).encode()


def cost_large(kept: Kept, body: bytes) -> float:
    """Seconds from sending to costed and stored: until the whole document has come back, not until it is parsed."""
    start = time.perf_counter()
    status, document = kept.sent(body, Prefer="wait=30")
    end = time.perf_counter()
    path = f"/v1/estimates/{json.loads(document)['id']}"
    while status == 202 or is_unfinished(document):
        time.sleep(0.02)
        status, document = kept.send("GET", path)
        end = time.perf_counter()
    assert json.loads(document)["state"] == "costed"
    return end - start


def is_unfinished(document: bytes) -> bool:
    """Whether the estimate's run has not ended: its document is short then."""
    return len(document) < 20_000 and json.loads(document)["state"] in ("queued", "working")


def cost_small(kept: Kept, body: bytes, count: int) -> tuple[float, str]:
    """Median milliseconds of a POST that is waited for, and the address of the last estimate."""
    times = []
    for _ in range(count):
        start = time.perf_counter()
        made = kept.post(body, Prefer="wait=10")
        times.append((time.perf_counter() - start) * 1000)
        assert made["state"] == "costed"
    return statistics.median(times), f"/v1/estimates/{made['id']}"


def rate(kept: Kept, path: str, count: int) -> float:
    """Requests a second."""
    start = time.perf_counter()
    for _ in range(count):
        assert kept.send("GET", path)[0] == 200
    return count / (time.perf_counter() - start)


def usual_way(lines: int) -> float:
    """Seconds of the yardstick."""
    command = [sys.executable, str(YARDSTICK), str(lines)]
    return float(json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)["total"])


@contextmanager
def bare_view(size: int) -> Iterator[str]:
    """The address of a bare view on a server set up like the service's."""
    port = free_port()
    environment = os.environ | {"BIND": f"127.0.0.1:{port}", "BARE_BYTES": str(size)}
    command = [sys.executable, "-m", "gunicorn", "-c", "python:api.gunicorn_conf", "tests.benchmarks.bare:application"]
    process = subprocess.Popen(command, env=environment, cwd=ROOT, stderr=subprocess.DEVNULL)
    try:
        while not reachable("127.0.0.1", port):
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}"
    finally:
        stop(process)


def peak_mib(parent: int) -> int:
    """The largest resident set, in MiB, that any process below `parent` has had."""
    largest, below = 0, {parent}
    for _ in range(3):
        for entry in Path("/proc").iterdir():
            try:
                if int((entry / "stat").read_text().rpartition(")")[2].split()[1]) in below:
                    below.add(int(entry.name))
            except (OSError, ValueError):
                continue
    for pid in below:
        for line in (Path("/proc") / str(pid) / "status").read_text().splitlines():
            if line.startswith("VmHWM"):
                largest = max(largest, int(line.split()[1]) // 1024)
    return largest


def measure(lines: list[int], rounds: int, requests: int) -> dict[str, Any]:
    """Every figure, by name."""
    found: dict[str, list[float]] = {}
    with tempfile.TemporaryDirectory() as folder:
        quiet = {"LOG_LEVEL": "INFO", "RATE_LIMIT": "100000000"}
        with started(Path(folder) / "data", **quiet) as (client, process):
            kept = Kept(client.base, client.key)
            bodies = {count: request_of(client, count) for count in (*lines, SMALL)}
            _, path = cost_small(kept, bodies[SMALL], 3)
            with bare_view(len(kept.send("GET", path)[1])) as base:
                bare = Kept(base, None)
                for _ in range(rounds):
                    for count in lines:
                        found.setdefault(f"{count} lines, s", []).append(cost_large(kept, bodies[count]))
                        found.setdefault(f"{count} lines the usual way, s", []).append(usual_way(count))
                    found.setdefault("16 openings waited for, ms", []).append(cost_small(kept, bodies[SMALL], 40)[0])
                    for _ in range(requests // BATCH):
                        found.setdefault("summary, requests/s", []).append(rate(kept, path, BATCH))
                        found.setdefault("bare view, requests/s", []).append(rate(bare, "/", BATCH))
            found["largest process, MiB"] = [peak_mib(process.pid)]
    return {name: round(statistics.median(values), 2) for name, values in found.items()}


def main() -> None:
    """Prints the figures, and what they are to reach."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lines", type=int, nargs="*", default=[10_000, 100_000])
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--requests", type=int, default=400)
    options = parser.parse_args()
    figures = measure(options.lines, options.rounds, options.requests)
    for name, value in figures.items():
        print(f"{name:40} {value:>12}")
    for count in options.lines:
        ratio = figures[f"{count} lines the usual way, s"] / figures[f"{count} lines, s"]
        print(f"{f'{count} lines: usual way / service':40} {ratio:>12.1f}")
    print(f"{'summary / bare view':40} {figures['summary, requests/s'] / figures['bare view, requests/s']:>12.2f}")


if __name__ == "__main__":
    main()
