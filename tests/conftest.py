"""REQUIRE_ALL=1 turns every skip into a failure: what a machine lacks is then said out loud, as CI needs it.

The tests run beside each other; the longest start first, so that no process waits at the end for another's long one.
"""

from __future__ import annotations

import os
from collections.abc import Generator

import pytest

SLOW_FIRST = ("tests/test_on_postgresql.py", "tests/faults/", "tests/http/test_s", "tests/intake/test_hostile")
REQUIRE_ALL = os.environ.get("REQUIRE_ALL") == "1"


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
