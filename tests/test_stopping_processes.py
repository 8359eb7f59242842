"""Processes end within moments of being told, whatever they are at: being born, or before a long queue."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings

import manage
from api import demo
from api.supervisor import Child
from estimating import tasks
from estimating.work import execute, loop
from estimating.work.stopping import Stopping
from rates.queries.companies import any_company
from tests.service import ROOT, descendants, free_port

# Gunicorn's configuration, with a first worker that is told to end before it has done anything
TOLD_AT_BIRTH = """
import os, pathlib, signal
from api.gunicorn_conf import *
from api.gunicorn_conf import post_fork as ours
mark = pathlib.Path(os.environ["DATA_DIR"]) / "told"
def post_fork(server, worker):
    if not mark.exists():
        mark.write_text(str(os.getpid()))
        os.kill(os.getpid(), signal.SIGTERM)
    ours(server, worker)
"""
# A child of a supervisor that is gone before the child asks to be told of its end
ORPHAN = """
import os, time
from api.supervisor import be_born
from estimating.work.stopping import stopping_by_signal
stopping_by_signal()
parent = os.getpid()
if os.fork() == 0:
    while os.getppid() == parent:
        time.sleep(0.01)
    be_born(parent)
    print("lives on", flush=True)
"""


@pytest.fixture
def folder(tmp_path: Path) -> Iterator[Path]:
    made = tmp_path / "data"
    made.mkdir(mode=0o700)
    yield made


def test_a_web_process_that_is_told_to_end_at_its_birth_ends(folder: Path) -> None:
    (folder / "conf.py").write_text(TOLD_AT_BIRTH)
    told = os.environ | {"DATA_DIR": str(folder), "BIND": f"127.0.0.1:{free_port()}", "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "gunicorn", "--chdir", str(ROOT), "-c", str(folder / "conf.py")]
    with (folder / "log").open("wb") as log:
        master = subprocess.Popen(command, env=told, stdout=log, stderr=log)
    try:
        until = time.monotonic() + 60
        while not (folder / "told").exists() or int((folder / "told").read_text() or 0) in descendants(master.pid):
            assert time.monotonic() < until, "it was told and lives on"
            time.sleep(0.05)
    finally:
        master.send_signal(signal.SIGINT)
        master.wait(40)


def test_a_child_whose_supervisor_died_before_it_asked_to_be_told_ends() -> None:
    done = subprocess.run([sys.executable, "-c", ORPHAN], cwd=ROOT, capture_output=True, timeout=60, check=True)
    assert done.stdout == b""


def test_a_child_leaves_ctrl_c_to_its_supervisor_until_it_has_handlers() -> None:
    child = Child(
        "told", [sys.executable, "-c", "import signal; signal.raise_signal(signal.SIGINT); exit(7)"], os.environ
    )
    child.start()
    assert child.process is not None and child.process.wait(60) == 7


def test_ctrl_c_ends_a_command_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(arguments: list[str]) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(manage, "execute_from_command_line", interrupted)
    with pytest.raises(SystemExit) as ended:
        manage.main()
    assert ended.value.code == 130 and capsys.readouterr() == ("", "")


@pytest.mark.django_db
def test_a_first_start_that_is_ended_leaves_no_half_of_the_demo(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    left, cost = [2], demo.cost

    def ended(*given: Any) -> Any:
        left[0] -= 1
        if left[0] < 0:
            raise KeyboardInterrupt
        return cost(*given)

    monkeypatch.setattr(demo, "cost", ended)
    with pytest.raises(KeyboardInterrupt):
        demo.load(keys=tmp_path, now=execute.utc_now())
    assert not any_company()
    monkeypatch.undo()
    assert len(demo.load(keys=tmp_path, now=execute.utc_now()).estimates) == 4


def test_a_worker_ends_after_the_run_at_work_whatever_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    stop, worked = Stopping(), list[int]()

    def one_more(most: int | None = None) -> int:
        for _ in range(50 if most is None else most):
            worked.append(1)
            stop.set()  # told while the first is at work
        return len(worked)

    monkeypatch.setattr(loop, "work_off", one_more)
    monkeypatch.setattr(loop, "do_duties", lambda: None)
    loop.serve(stop, pause_seconds=0)
    assert len(worked) == 1


def test_beside_a_broker_that_is_away_a_worker_ends_after_the_run_at_work(monkeypatch: pytest.MonkeyPatch) -> None:
    stop, worked = Stopping(), list[int]()

    def one_more(most: int) -> int:
        worked.extend([1] * most)
        stop.set()
        return most

    monkeypatch.setattr(tasks, "work_off", one_more)
    assert tasks.work_for(60, stop) and len(worked) == 1


def test_a_message_takes_a_while_of_work_and_asks_for_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """Celery ends once each of its tasks has: one that lasts as long as anything waits would hold it for hours."""
    waiting, asked = list(range(50)), list[int]()

    def work_off(most: int | None = None) -> int:
        done = len(waiting) if most is None else most
        del waiting[:done]
        time.sleep(0.01)
        return done

    monkeypatch.setattr(tasks, "hear", lambda: None)
    monkeypatch.setattr(tasks, "work_off", work_off)
    monkeypatch.setattr(tasks, "SLICE_SECONDS", 0.03)

    def ask_for_work() -> bool:
        asked.append(len(waiting))
        return True

    monkeypatch.setattr(tasks, "ask_for_work", ask_for_work)
    tasks.poll_now()
    assert asked == [len(waiting)] and 40 < len(waiting) < 50


def test_beside_a_broker_that_is_away_a_worker_rests_only_when_nothing_waits(monkeypatch: pytest.MonkeyPatch) -> None:
    waiting, rests = list(range(5)), list[float]()

    class Rests(Stopping):
        def wait(self, seconds: float) -> bool:
            rests.append(seconds)
            return len(rests) > 5

    def work_for(seconds: float, stop: Stopping) -> bool:
        waiting.pop()
        return bool(waiting)

    for name, stand_in in (("do_duties", lambda: None), ("ask_for_work", lambda: False), ("work_for", work_for)):
        monkeypatch.setattr(tasks, name, stand_in)
    tasks.watch(Rests())
    assert rests == [settings.SWEEP_SECONDS, 0, 0, 0, 0, settings.SWEEP_SECONDS] and not waiting
