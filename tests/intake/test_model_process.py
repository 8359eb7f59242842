"""The process that opens a model is ended at its limits, and nothing else imports the toolkit."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

import pytest

from estimating.intake import ifc_process
from estimating.intake.ifc_process import AT_ONCE, TOOLKIT_MISSING, Limits, judge, read_in_process, seats
from rates.core.problems import Refused
from rates.refusals import Busy
from tests.intake.small_models import Opening, model
from tests.service import descendants

ROOT = Path(__file__).resolve().parents[2]
SMALL = model([Opening(width="0.9", height="1.2")])


def code_of(limits: Limits) -> str:
    with pytest.raises(Refused) as refused:
        read_in_process(SMALL, limits)
    return refused.value.problems[0].code


def test_it_is_ended_at_its_memory_limit() -> None:
    pytest.importorskip("ifcopenshell", reason="the extra ifc is not installed")
    assert code_of(Limits(megabytes=10)) == "too_large_for_memory"  # the toolkit alone takes 70 MB


def test_it_is_ended_at_its_time_limit() -> None:
    pytest.importorskip("ifcopenshell", reason="the extra ifc is not installed")
    before = descendants(os.getpid())
    assert code_of(Limits(seconds=0)) == "took_too_long"
    assert descendants(os.getpid()) <= before, "nothing of it goes on"


def test_nothing_stays_on_the_disk_whoever_is_killed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    pytest.importorskip("ifcopenshell", reason="the extra ifc is not installed")
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    found, watch = list[list[Path]](), ifc_process.watch

    def look_and_watch(*given: Any) -> Any:
        found.append(list(tmp_path.iterdir()))
        return watch(*given)

    monkeypatch.setattr(ifc_process, "watch", look_and_watch)
    assert len(read_in_process(SMALL)["elements"]) == 1
    assert found == [[]]


def test_no_more_than_a_few_are_opened_at_once() -> None:
    for _ in range(AT_ONCE):
        assert seats.acquire(blocking=False)
    try:
        with pytest.raises(Busy):
            read_in_process(SMALL)
    finally:
        for _ in range(AT_ONCE):
            seats.release()


def test_too_many_elements_are_refused_and_not_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    toolkit = pytest.importorskip("ifcopenshell", reason="the extra ifc is not installed")
    ifc_model = pytest.importorskip("estimating.intake.ifc_model")
    monkeypatch.setattr(ifc_model, "MOST_ELEMENTS", 2)
    openings = [Opening(width="0.9", height="1.2")] * 2
    doors = [Opening(kind="DOOR", width="0.9", height="2.1")]
    assert len(ifc_model.read_model(toolkit.file.from_string(model(openings).decode()))["elements"]) == 2
    found = ifc_model.read_model(toolkit.file.from_string(model(openings + doors).decode()))
    assert found == {"too_many": 3, "most": 2}


def test_a_model_without_its_end_is_not_opened() -> None:
    with pytest.raises(Refused) as refused:
        read_in_process(SMALL[:-60])
    assert refused.value.problems[0].code == "broken_model"


def test_a_missing_toolkit_is_named() -> None:
    problem = judge(1, f"Traceback\n{TOOLKIT_MISSING}\n")
    assert problem is not None and problem.code == "ifc_not_installed"


def test_reading_files_imports_no_toolkit() -> None:
    code = "import sys, estimating.intake.reading; sys.exit('ifcopenshell' in sys.modules or 'numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == 0
