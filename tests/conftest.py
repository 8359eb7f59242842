"""REQUIRE_ALL=1 turns every skip into a failure: what a machine lacks is then said out loud, as CI needs it."""

from __future__ import annotations

import os
from collections.abc import Generator

import pytest

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
