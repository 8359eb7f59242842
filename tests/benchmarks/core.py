"""How fast the core costs a schedule, measured against the frozen usual way (usual_way.py) in the same run.

    python -m tests.benchmarks.core [--schedules office tidy] [--lines 100 10000] [--kinds 200 10000] [--rounds 5]

Each measurement is a fresh process; the two alternate, so that a slow minute of the machine falls on both. The core is
timed from the request's JSON text to the costed estimate: reading, checking, takeoff, labour, materials, money, marks.
The yardstick reads, computes row by row, stores and renders lines of its own, tidy ones with seven fields; its columns
give its whole time and the part that the core does too (validate and compute). Seconds of processor time, the least of
the rounds, by the clock in brackets; memory is the largest resident set of the process.
"""

from __future__ import annotations

import argparse
import os
import platform
from collections.abc import Iterator, Sequence

from tests.benchmarks.measured import ROUNDS, Case, Spent, cases, core_of, least, print_rows, usual_way
from tests.benchmarks.schedules import SCHEDULES

HEAD = ("schedule", "lines", "kinds", "core, s", "lines/s", "MiB", "usual way, s", "of it validate + compute", "MiB")
RATIOS = ("usual way / core", "validate + compute / core")


def seconds(spent: Spent) -> str:
    """Processor time, by the clock in brackets."""
    return f"{spent.cpu:.3f} ({spent.wall:.3f})"


def compare(case: Case, rounds: int) -> Sequence[str]:
    """One row of the table."""
    core, usual = [], []
    with core_of(case) as run:
        for _ in range(rounds):
            core.append(run.cost())
            usual.append(usual_way(case.lines))
    ours, theirs = least(core), least(usual)
    named = (case.schedule, f"{case.lines:,}", f"{case.kinds:,}")
    of_core = (seconds(ours), f"{case.lines / ours.cpu:,.0f}", str(ours.peak_mib))
    of_usual = (seconds(theirs), f"{theirs.part:.3f}", str(theirs.peak_mib))
    return (*named, *of_core, *of_usual, f"{theirs.cpu / ours.cpu:.1f}", f"{theirs.part / ours.cpu:.1f}")


def rows(chosen: argparse.Namespace) -> Iterator[Sequence[str]]:
    """The heading, then a row for each case."""
    yield HEAD + RATIOS
    for case in cases(chosen.schedules, chosen.lines, chosen.kinds):
        yield compare(case, chosen.rounds)


def main() -> None:
    """Prints the table."""
    reader = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    reader.add_argument("--schedules", nargs="+", choices=list(SCHEDULES), default=list(SCHEDULES))
    reader.add_argument("--lines", type=int, nargs="+", default=[100, 10_000])
    reader.add_argument("--kinds", type=int, nargs="+", default=[200, 10_000])
    reader.add_argument("--rounds", type=int, default=ROUNDS)
    chosen = reader.parse_args()
    print(f"Python {platform.python_version()}, {os.cpu_count()} CPUs, {chosen.rounds} alternating rounds, the least\n")
    print_rows(rows(chosen))


if __name__ == "__main__":
    main()
