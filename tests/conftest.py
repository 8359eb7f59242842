"""REQUIRE_ALL=1 turns every skip into a failure: what a machine lacks is then said out loud, as CI needs it.

The tests run beside each other; the longest start first, so that no process waits at the end for another's long one.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Generator
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from xdist.scheduler import LoadScopeScheduling

# Processes that the tests start find the compiled code of those before, also where the machine keeps none
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

SLOW_FIRST = (
    "tests/test_on_postgresql.py", "tests/faults/", "tests/browser/", "tests/http/test_s", "tests/intake/test_hostile",
)  # fmt: skip
# files with one service for all their tests
WHOLE = (
    "tests/http/test_editors.py", "tests/http/test_start.py", "tests/http/test_shared.py",
    "tests/faults/test_edges_shared.py", "tests/faults/test_edges_embedded.py", "tests/clients/test_live.py",
    "tests/browser/",
)  # fmt: skip
REQUIRE_ALL = os.environ.get("REQUIRE_ALL") == "1"

# A slow moment of the machine fails no test of a law
settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("unhurried")


def refuse_skip(report: pytest.TestReport | pytest.CollectReport) -> None:
    """Marks a skipped report as failed, its reason kept; an expected failure is no skip."""
    if REQUIRE_ALL and report.outcome == "skipped" and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else str(report.longrepr)
        report.outcome = "failed"
        report.longrepr = f"REQUIRE_ALL=1 and yet: {reason}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    refuse_skip(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    refuse_skip(report)
    return report


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Marks the tests in a browser and moves the long ones to the front; the order is otherwise kept."""
    for item in items:
        if item.nodeid.startswith("tests/browser/"):
            item.add_marker("browser")
    items.sort(key=lambda item: not item.nodeid.startswith(SLOW_FIRST))


class Spread(LoadScopeScheduling):
    """Tests go one by one to the next free process; a file with a service of its own stays whole."""

    def _split_scope(self, nodeid: str) -> str:
        file = nodeid.partition("::")[0]
        return file if file.startswith(WHOLE) else nodeid


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Spread:
    """How tests are spread over the processes."""
    return Spread(config, log)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """One process more than there are cores, for tests of processes spend much of their time waiting."""
    return (os.cpu_count() or 1) + 1
