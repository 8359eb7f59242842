"""REQUIRE_ALL=1 turns every skip into a failure: what a machine lacks is then said out loud, as CI needs it.

The tests run beside each other; the longest start first, so that no process waits at the end for another's long one.
"""

from __future__ import annotations

import os
from collections.abc import Generator
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from xdist.scheduler import LoadScopeScheduling

SLOW_FIRST = ("tests/test_on_postgresql.py", "tests/faults/", "tests/http/test_s", "tests/intake/test_hostile")
# files with one service for all their tests
WHOLE = (
    "tests/http/test_editors.py", "tests/http/test_start.py", "tests/http/test_shared.py",
    "tests/faults/test_edges_shared.py", "tests/faults/test_edges_embedded.py",
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


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Moves the long tests to the front; the order is otherwise kept."""
    items.sort(key=lambda item: not item.nodeid.startswith(SLOW_FIRST))


class Spread(LoadScopeScheduling):
    """Tests go one by one to the next free process; a file with a service of its own stays whole."""

    def _split_scope(self, nodeid: str) -> str:
        file = nodeid.partition("::")[0]
        return file if file in WHOLE else nodeid


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Spread:
    """How tests are spread over the processes."""
    return Spread(config, log)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """One process more than there are cores, for tests of processes spend much of their time waiting."""
    return (os.cpu_count() or 1) + 1
