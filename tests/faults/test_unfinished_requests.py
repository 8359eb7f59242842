"""Requests of one address that never end keep no other out, and not its neighbours: on both deployments.

UNFINISHED_SECONDS=60 is the long form; each prints its two p95.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.deployment import deployed
from tests.service import started
from tests.unfinished import hold_and_ask

pytestmark = pytest.mark.campaign
SECONDS = float(os.environ.get("UNFINISHED_SECONDS", "3"))
COUNT = 200


def test_embedded(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with started(tmp_path / "data", RATE_LIMIT="1000000") as (client, _):
        line = hold_and_ask(client, count=COUNT, seconds=SECONDS)
    with capsys.disabled():
        print("\nembedded:", line)


def test_shared(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with deployed(tmp_path) as deployment:
        line = hold_and_ask(deployment.client("golden"), count=COUNT, seconds=SECONDS)
    with capsys.disabled():
        print("\nshared:", line)
