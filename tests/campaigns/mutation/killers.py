"""Which test files may notice a mutation: those that run its statement, the likeliest first.

Each file runs by itself, nothing mutated, before any mutation is tried: its tests have to pass, its processor time and
the statements that it runs are noted.
"""

from __future__ import annotations

import multiprocessing
from collections import defaultdict
from collections.abc import Mapping, Sequence, Set
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from threading import Lock
from typing import Any

from tests.campaigns.mutation.changes import Mutation
from tests.campaigns.mutation.trial import ROOT, answer

PROCESSES = 2
SERVER = multiprocessing.get_context("forkserver")  # has pytest imported, and no module of the cores
SERVER.set_forkserver_preload(["tests.campaigns.mutation.trial"])
STARTING = Lock()
FILES, CLOSE = 14, 6  # most files for a mutation, those among them that are about its module
LONGEST = 900  # seconds on the clock: for a process that waits and takes no processor time
# about files, texts and the form of what comes in and goes out, or too long for what else they would notice; a file
# that needs the framework without naming it (trial.needs_django) fails unchanged and is to be named here
APART = frozenset({
    "test_answers_file", "test_assumptions", "test_bad_input", "test_calendar_laws", "test_calendar_picture",
    "test_changes", "test_checks", "test_command", "test_crew_document", "test_crew_sheets", "test_cut_plan_document",
    "test_cut_proof", "test_cutting", "test_decided_matches", "test_exact", "test_figure_pages", "test_fraction",
    "test_icalendar", "test_irrational", "test_jsontext", "test_length_styles", "test_letter_of_changes",
    "test_letter_options", "test_letter_scope", "test_letters_hold_no_cost", "test_measures", "test_office_sheets",
    "test_packs", "test_payroll", "test_pictures", "test_printed", "test_random_input", "test_roll_plans",
    "test_schedule_columns", "test_schedule_files", "test_schedules", "test_scope", "test_shares", "test_table_sheets",
    "test_terminal_text", "test_ubl", "test_units", "test_why", "test_workbook",
})  # fmt: skip


@dataclass(frozen=True, eq=False)
class Recorded:
    """What one test file does unchanged: processor time in seconds, the statements that it runs by module."""

    file: str
    passed: bool
    by: str
    seconds: float
    marks: Mapping[str, Set[tuple[int, int]]]

    def devotion(self, module: str) -> float:
        """Which part of the statements that it runs is of one module."""
        return len(self.marks[module]) / sum(map(len, self.marks.values()))


@dataclass
class Killers:
    """The files, and how often each has noticed a mutation of each module so far."""

    files: Sequence[Recorded]
    kills: dict[tuple[str, str], int] = field(default_factory=lambda: defaultdict(int))

    def of(self, mutation: Mutation) -> dict[str, float]:
        """Processor time by file, in the order in which they are tried.

        Those named after the module, those that run little else, and those that run most of its statements, so many;
        which they are does not depend on what was noticed so far.
        """
        module, mark = mutation.module, mutation.mark
        there = [f for f in self.files if (mark in f.marks[module] if mark is not None else f.marks[module])]
        close = sorted(there, key=lambda f: (not is_named(f.file, module), -f.devotion(module), f.file))[:CLOSE]
        broad = sorted(there, key=lambda f: (-len(f.marks[module]), f.file))
        chosen = list(dict.fromkeys((*close, *broad)))[:FILES]
        return {f.file: f.seconds for f in sorted(chosen, key=lambda f: -self.promise(module, f))}

    def promise(self, module: str, file: Recorded) -> float:
        """How likely a file is to notice a mutation, for its processor time."""
        return (1 + self.kills[module, file.file] + 3 * is_named(file.file, module)) / file.seconds


def is_named(file: str, module: str) -> bool:
    """Whether a test file is called after a module."""
    return module.rpartition(".")[2] in file


def ask(order: Mapping[str, Any]) -> dict[str, Any] | None:
    """The report of a process of its own with an order; None where it was ended at a limit.

    RuntimeError where it failed by itself, which no mutation may count for.
    """
    reports, end = SERVER.Pipe(duplex=False)
    with STARTING:
        process = SERVER.Process(target=answer, args=(order, end))
        process.start()
        end.close()
    try:
        found: dict[str, Any] | None = reports.recv() if reports.poll(LONGEST) else None
    except EOFError:
        found = None
        process.join()
    process.kill()
    process.join()
    if found is None and process.exitcode is not None and process.exitcode >= 0:
        raise RuntimeError(f"a process of the campaign failed: {order}")
    return found


def test_files() -> list[str]:
    """The files of the cores' tests that are asked."""
    files = sorted((ROOT / "tests" / "core").glob("test_*.py"))
    return [file.relative_to(ROOT).as_posix() for file in files if file.stem not in APART]


def record(file: str, modules: Sequence[str]) -> Recorded:
    """One file by itself."""
    report = ask({"modules": list(modules), "files": [file]})
    return Recorded(file, **report) if report else Recorded(file, False, "the process ended", 0, {})


def record_all(files: Sequence[str], modules: Sequence[str]) -> list[Recorded]:
    """Every file, so many processes at once."""
    with ThreadPoolExecutor(PROCESSES) as pool:
        return list(pool.map(lambda file: record(file, modules), files))
