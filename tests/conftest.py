"""REQUIRE_ALL=1 turns every skip into a failure: what a machine lacks is then said out loud, as CI needs it.

The tests run beside each other; the longest start first, so that no process waits at the end for another's long one.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Generator
from pathlib import Path
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
# Each takes a second or more of its own: a service, a whole corpus, every page for every role. Left out where all tests
# are asked for in one word, so that this stays short; run where one is named, and by `-m long`, as CI does
LONG = (
    "tests/clients/", "tests/core/test_assumptions.py::test_entering_what_is_assumed_moves_no_price",
    "tests/core/test_bad_input.py::test_a_thousand_faults", "tests/core/test_command.py",
    "tests/core/test_derivation.py", "tests/core/test_figure_pages.py", "tests/core/test_laws.py",
    "tests/core/test_random_comparisons.py",
    "tests/core/test_random_estimates.py", "tests/core/test_rules_govern.py",
    "tests/core/test_schedule_files.py", "tests/core/test_scope.py", "tests/core/test_ubl.py",
    "tests/core/test_workbook.py", "tests/db/test_database_rules.py", "tests/db/test_people_migration.py",
    "tests/http/test_access.py", "tests/http/test_crossing.py", "tests/http/test_cut_bodies.py",
    "tests/http/test_description.py", "tests/http/test_editors.py", "tests/http/test_every_operation.py",
    "tests/http/test_first_day.py", "tests/http/test_hostile_uploads.py", "tests/http/test_metrics.py",
    "tests/http/test_page_links.py", "tests/http/test_pages.py", "tests/http/test_quote_costs.py",
    "tests/http/test_quote_page_roles.py", "tests/http/test_requotes.py", "tests/http/test_shared.py",
    "tests/http/test_start.py", "tests/http/test_why_pages.py", "tests/intake/test_corpus.py",
    "tests/intake/test_hostile_files.py",
    "tests/intake/test_law_of_cells.py", "tests/intake/test_model_traps.py", "tests/intake/test_random_revisions.py",
    "tests/test_architecture.py::test_a_deliberate_break_is_caught", "tests/test_environment.py",
    "tests/test_first_imports.py", "tests/test_require_all.py", "tests/test_sentences.py",
)  # fmt: skip
ALL_IN_ONE_WORD = "not campaign and not browser"  # the marks that `pytest` alone asks for (pyproject.toml)
TESTS = Path(__file__).resolve().parent
REQUIRE_ALL = os.environ.get("REQUIRE_ALL") == "1"

# A slow moment of the machine fails no test of a law. CI tries the same examples each time: it judges the change that
# it is given, not its luck. Every run at a desk tries others
settings.register_profile(
    "unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=REQUIRE_ALL
)
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


def leaves_out_long(config: pytest.Config) -> bool:
    """Whether all tests are asked for, by no mark and no name."""
    asked = {Path(config.invocation_params.dir, argument).resolve() for argument in config.args}
    return config.option.markexpr == ALL_IN_ONE_WORD and asked <= {TESTS, TESTS.parent}


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """A file that is left out whole is not even imported."""
    name = collection_path.relative_to(TESTS.parent).as_posix() if collection_path.is_relative_to(TESTS) else ""
    is_long = f"{name}/".startswith(tuple(f"{one.rstrip('/')}/" for one in LONG))
    return (leaves_out_long(config) and is_long) or None


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Marks the tests in a browser and the long ones; what starts first goes to the front, the order is else kept."""
    for item in items:
        if item.nodeid.startswith("tests/browser/"):
            item.add_marker("browser")
    long = [item for item in items if item.nodeid.startswith(LONG)]
    for item in long:
        item.add_marker("long")
    if long and leaves_out_long(long[0].config):
        long[0].config.hook.pytest_deselected(items=long)
        items[:] = [item for item in items if item not in set(long)]
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
