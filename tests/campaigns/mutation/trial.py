"""What one process of the campaign does: a module mutated (or all marked), then test files, until one test fails.

An order names "files" and a mutation ("module", "function", "text", and "seconds": the processor time that each file
takes by itself), or "modules" to be marked. Processor time bounds a mutation, so that a busy machine fails none: the
kernel then ends the process.
"""

from __future__ import annotations

import os
import resource
import sys
import time
from collections.abc import Iterable, Sequence
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import pytest
from hypothesis import Phase, settings

from tests.campaigns.mutation.changes import read_source
from tests.campaigns.mutation.placing import SEEN, Marks, Placed, with_marks

ROOT = Path(__file__).resolve().parents[3]
PLAIN = ("-x", "-q", "-p", "no:cacheprovider", "-p", "_hypothesis_pytestplugin", "-o", "addopts=")
CHOSEN = ("-m", "not campaign and not browser")
NO_TESTS, PASSED = pytest.ExitCode.NO_TESTS_COLLECTED, pytest.ExitCode.OK
MOST_MEMORY = 6 * 2**30
SPARE_SECONDS, TIMES = 10, 4  # a trial may take so much more processor time than the files do unchanged


class Watch:
    """Notes the first test that fails; has Hypothesis make the same examples each time, keep none and shrink none."""

    def __init__(self) -> None:
        self.failed = ""

    def pytest_sessionstart(self) -> None:
        """After the conftest, before any test is imported."""
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutation", settings(), derandomize=True, database=None, phases=phases)
        settings.load_profile("mutation")

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        """A file that can't be imported fails, too."""
        if report.failed:
            self.failed = self.failed or report.nodeid

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Setup, call or teardown."""
        if report.failed:
            self.failed = self.failed or report.nodeid


def needs_django(files: Iterable[str]) -> bool:
    """Whether a file runs commands of the service, for which the framework is set up."""
    words = ("django", "command_line", "from api")
    return any(word in (ROOT / file).read_text() for file in files for word in words)


def run(files: Sequence[str], watch: Watch) -> int:
    """Pytest's exit status of some files, its output thrown away."""
    django = ["-p", "pytest_django.plugin"] if needs_django(files) else []
    paths = [str(ROOT / file) for file in files]
    with open(os.devnull, "w") as nowhere:
        kept, sys.stdout, errors, sys.stderr = sys.stdout, nowhere, sys.stderr, nowhere
        try:
            return int(pytest.main([*PLAIN, *CHOSEN, *django, "--rootdir", str(ROOT), *paths], plugins=[watch]))
        finally:
            sys.stdout, sys.stderr = kept, errors


def portions(files: Sequence[str]) -> list[Sequence[str]]:
    """One file, then two, four and so on: the likeliest is not kept waiting by the imports of all others."""
    found, start, size = [], 0, 1
    while start < len(files):
        found.append(files[start : start + size])
        start, size = start + size, size * 2
    return found


def bound_time(seconds: float) -> None:
    """Has the kernel end this process after so much more processor time."""
    limit = int(time.process_time() + seconds) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (limit, resource.RLIM_INFINITY))


def try_mutation(order: dict[str, Any]) -> dict[str, Any]:
    """The outcome of one mutation: killed with the test, survived, or absent (which is a fault of the campaign)."""
    source, placed = read_source(order["module"]), Placed()
    key = order["module"], order["function"], order["text"]
    mutation = next(one for one in source.mutations if one.key == key)
    mutation.put()
    placed.place(source.module, lambda: source.tree)
    watch = Watch()
    for files in portions(order["files"]):
        bound_time(SPARE_SECONDS + TIMES * sum(order["seconds"][file] for file in files))
        status = run(files, watch)
        if not placed.was_used(source.module):
            return {"outcome": "absent", "by": ""}
        if status not in (PASSED, NO_TESTS):
            return {"outcome": "killed", "by": watch.failed or f"status {status}"}
    return {"outcome": "survived", "by": ""}


def record(order: dict[str, Any]) -> dict[str, Any]:
    """Which statements of the modules some files run, and whether their tests pass."""
    placed, seen = Placed(), {module: Marks() for module in order["modules"]}
    for module in order["modules"]:
        source = read_source(module)
        placed.place(module, lambda source=source: with_marks(source.tree), {SEEN: seen[module].add})  # type: ignore[misc]
    start, watch = time.process_time(), Watch()
    status = run(order["files"], watch)
    passed = status in (PASSED, NO_TESTS)
    return {"passed": passed, "by": watch.failed, "seconds": time.process_time() - start, "marks": seen}


def answer(order: dict[str, Any], reports: Connection) -> None:
    """Does what an order says, sends the report, and ends."""
    os.chdir(ROOT)
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"  # those named here are enough, and quicker
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    reports.send(record(order) if "modules" in order else try_mutation(order))
    os._exit(0)
