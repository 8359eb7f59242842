"""Redis stopped in mid run: submissions still answer 202 at once, and everything is costed, broker or not."""

from __future__ import annotations

import shutil
import subprocess
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.deployment import Deployment, deployed
from tests.service import free_port, reachable, stop, wait_ready

pytestmark = pytest.mark.campaign


class Broker:
    """A Redis of this test's own, which it may stop."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        command = ["redis-server", "--port", str(self.port), "--save", "", "--appendonly", "no"]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        until = time.monotonic() + 60
        while not reachable("127.0.0.1", self.port):
            assert time.monotonic() < until
            time.sleep(0.05)

    def stop(self) -> None:
        assert self.process is not None
        stop(self.process)


@pytest.fixture
def broker() -> Iterator[Broker]:
    if shutil.which("redis-server") is None:
        pytest.skip("no redis-server on this machine")
    made = Broker(free_port())
    made.start()
    yield made
    made.stop()


def submit(deployment: Deployment, count: int) -> list[str]:
    """Ids of submitted estimates; an answer that is held up ends with the client's patience, as an error."""
    client, ids = deployment.client("golden"), []
    for _ in range(count):
        status, made, _ = client.estimate(deployment.request("golden"))
        assert status == 202
        ids.append(made["id"])
    return ids


def test_submissions_go_on_and_all_are_costed(broker: Broker, tmp_path: Path) -> None:
    with deployed(tmp_path, broker=f"redis://127.0.0.1:{broker.port}/0") as deployment:
        client = deployment.client("golden")
        before = submit(deployment, 10)
        broker.stop()
        during = submit(deployment, 10)
        states = Counter(client.until_ended(id, 120)["state"] for id in before + during)
        assert states == {"costed": 20}
        assert client.get("/readyz")[0] == 503
        broker.start()
        after = submit(deployment, 5)
        assert {client.until_ended(id, 120)["state"] for id in after} == {"costed"}
        wait_ready(deployment.base, list(deployment.processes.values()))
