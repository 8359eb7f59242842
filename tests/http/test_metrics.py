"""Counts are for the operator: open where only this machine reaches the service, else by METRICS_TOKEN."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.core.exceptions import ImproperlyConfigured

from api.environment import LOOPBACK, is_reached_by_others, read_metrics_token
from tests.cast import Api
from tests.service import MANAGE, Remote, free_port, stop, wait_ready

TOKEN = "Vr7-kq2_Zt9xWm4Lb8"


@pytest.mark.parametrize(
    ("bind", "hosts", "proxies", "reached"),
    [
        (None, LOOPBACK, 0, False),
        ("127.0.0.1:9000", LOOPBACK, 0, False),
        ("[::1]:8000", LOOPBACK, 0, False),
        ("localhost:8000", ("127.0.0.1",), 0, False),
        ("0.0.0.0:8000", LOOPBACK, 0, True),
        ("[::]:8000", LOOPBACK, 0, True),
        ("192.0.2.7:8000", LOOPBACK, 0, True),
        ("unix:/run/sillwright", LOOPBACK, 0, True),
        ("127.0.0.1:8000", (*LOOPBACK, "office.example"), 0, True),
        ("127.0.0.1:8000", LOOPBACK, 1, True),
    ],
)
def test_when_others_reach_the_service(bind: str | None, hosts: Any, proxies: int, reached: bool) -> None:
    assert is_reached_by_others({"BIND": bind} if bind else {}, hosts, proxies) is reached


@pytest.mark.parametrize("token", ["short", "x" * 40, "a token with\na second line", "ünïcødé tøkén 123456"])
def test_a_token_that_is_none_is_refused(token: str) -> None:
    with pytest.raises(ImproperlyConfigured):
        read_metrics_token({"METRICS_TOKEN": token})
    assert (read_metrics_token({"METRICS_TOKEN": TOKEN}), read_metrics_token({})) == (TOKEN, "")


@pytest.mark.parametrize(
    ("open_", "token", "sent", "status"),
    [
        (True, "", "", 200),
        (False, "", "", 401),
        (False, "", "Bearer ", 401),
        (False, "", f"Bearer {TOKEN}", 401),
        (False, TOKEN, "", 401),
        (False, TOKEN, f"Bearer {TOKEN}x", 401),
        (False, TOKEN, f"Basic {TOKEN}", 401),
        (False, TOKEN, f"Bearer {TOKEN}", 200),
        (False, TOKEN, f"bearer {TOKEN}", 200),
        (False, TOKEN, "Bearer ünïcødé", 401),
    ],
)
def test_who_sees_the_counts(rules: None, settings: Any, open_: bool, token: str, sent: str, status: int) -> None:
    settings.METRICS_OPEN, settings.METRICS_TOKEN = open_, token
    answer = Api(None).get("/metrics", **({"Authorization": sent} if sent else {}))
    assert answer.status_code == status
    assert (b"sillwright_requests_total" in answer.content) is (status == 200)
    assert TOKEN not in answer.content.decode()


def test_a_service_that_other_machines_reach_keeps_its_counts(tmp_path: Path) -> None:
    port = free_port()
    command = [sys.executable, MANAGE, "start", "--port", str(port), "--data", str(tmp_path / "data"), "--no-demo"]
    with (tmp_path / "log").open("wb") as log:
        process = subprocess.Popen([*command, "--host", "0.0.0.0"], cwd=tmp_path, stdout=log, stderr=log)
    try:
        wait_ready(f"http://127.0.0.1:{port}", [process])
        assert Remote(f"http://127.0.0.1:{port}", None).get("/metrics")[0] == 401
    finally:
        stop(process)
