"""What the benchmarks measure: processor time of processes and of all below them, and time by the clock beside it.

Other work on the machine stretches the clock and hardly the processor time, so ratios are those of processor time.
Linux alone: the processor clock of another process is asked for by its id.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks.schedules import write_request
from tests.service import ROOT, descendants

HERE = Path(__file__).resolve().parent
EDITION = ROOT / "tests" / "data" / "golden" / "edition.json"
ROUNDS = 5


class Spent(NamedTuple):
    """Seconds of one measurement. part: of them what the core does too (the yardstick's validate and compute)."""

    cpu: float
    wall: float
    part: float = 0
    peak_mib: int = 0


class Case(NamedTuple):
    """A schedule by its name, how many lines, of how many kinds."""

    schedule: str
    lines: int
    kinds: int


def least(spent: Sequence[Spent]) -> Spent:
    """The least of each over the rounds, for what else runs on the machine only adds; of memory the most."""
    cpu, wall, part, memory = zip(*spent, strict=True)
    return Spent(min(cpu), min(wall), min(part), max(memory))


def cases(schedules: Sequence[str], lines: Sequence[int], kinds: Sequence[int]) -> Iterator[Case]:
    """Every combination once; no more kinds than lines."""
    for schedule in schedules:
        for count in lines:
            for few in sorted({min(number, count) for number in kinds}):
                yield Case(schedule, count, few)


def cpu_seconds(parent: int) -> float:
    """Processor time, user and system, of a process and those below it that live."""
    total = 0.0
    for pid in {parent, *descendants(parent)}:
        try:
            total += time.clock_gettime(~pid << 3 | 2)  # CPUCLOCK_SCHED of that process, as clock_getcpuclockid has it
        except OSError:  # it has ended meanwhile
            continue
    return total


def python_of(checkout: Path) -> str:
    """The interpreter of a checkout's own environment, or this one."""
    own = checkout / ".venv" / "bin" / "python"
    return str(own) if own.exists() else sys.executable


def last_lines(command: Sequence[str], count: int, **environment: str) -> list[dict[str, float]]:
    """The last lines that a process prints, each JSON."""
    answer = subprocess.run(command, capture_output=True, text=True, check=True, env=os.environ | environment)
    return [json.loads(line) for line in answer.stdout.splitlines()[-count:]]


def usual_way(lines: int) -> Spent:
    """The yardstick in a fresh process; without its start."""
    by_clock, by_cpu = last_lines([sys.executable, str(HERE / "usual_way_twice.py"), str(lines)], 2)
    part = by_cpu["validate"] + by_cpu["compute"]
    return Spent(by_cpu["total"], by_clock["total"], part, int(by_clock["peak_mib"]))


@contextmanager
def core_of(case: Case) -> Iterator[CoreRun]:
    """What costs a case by the core of a checkout."""
    with tempfile.TemporaryDirectory() as folder:
        text, openings = write_request(case.lines, case.kinds, case.schedule)
        body = Path(folder) / "request.json"
        body.write_text(text)
        yield CoreRun(body, openings)


class CoreRun(NamedTuple):
    """One request in a file, and the openings that it asks for."""

    body: Path
    openings: int

    def cost(self, checkout: Path = ROOT) -> Spent:
        """Costs it in a fresh process; stops where the count of openings is wrong."""
        command = [python_of(checkout), str(HERE / "once.py"), str(self.body), str(EDITION)]
        found = last_lines(command, 1, PYTHONPATH=str(checkout))[0]
        if found["openings"] != self.openings:
            raise SystemExit(f"{found['openings']} openings costed, {self.openings} asked for")
        return Spent(found["cpu"], found["wall"], peak_mib=int(found["peak_mib"]))


def print_rows(rows: Iterator[Sequence[str]]) -> None:
    """A Markdown table, each row as soon as it is measured; the first is the heading."""
    for number, row in enumerate(rows):
        print(f"| {' | '.join(row)} |", flush=True)
        if not number:
            print("|---" * len(row) + "|")
