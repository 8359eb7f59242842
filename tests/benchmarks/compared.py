"""How long an even-handed comparison of two revisions takes, beside one plain costing of the same schedule.

    python -m tests.benchmarks.compared [--lines 10000] [--kinds 200] [--rounds 5]

All six causes differ, so 64 prices are computed, and those of lines and rates besides. Each is timed from the parsed
request to its figures, reading included, and without the reading; the two alternate in one process. Seconds are
medians of the rounds; figures of different runs are not comparable, their ratios are.
"""

from __future__ import annotations

import argparse
import json
import statistics
import time
from collections.abc import Callable
from typing import Any

from estimating.collector import collector_paused
from estimating.core.attribution import CAUSES, changed_causes, compare
from estimating.core.job import Job, cost, read_request
from rates.core.card import EditionSource
from tests.benchmarks.schedules import write_request
from tests.service import ROOT

CASE = ROOT / "tests" / "data" / "cases" / "13-attribution"
Side = tuple[dict[str, Any], EditionSource]


def revisions(lines: int, kinds: int) -> tuple[Side, Side]:
    """Two requests of case 13 with schedules of this size that differ by every cause, each tenth line in its count."""
    openings = json.loads(write_request(lines, kinds)[0])["openings"]
    later = [
        line | {"quantity": line["quantity"] + 1} if place % 10 == 0 else line for place, line in enumerate(openings)
    ]
    sides = []
    for name, schedule, congestion in (("before", openings, "open"), ("after", later, "tight")):
        edition, request = (json.loads((CASE / f"{name}.{what}.json").read_text()) for what in ("edition", "request"))
        edition["tables"]["production"]["congestion"] = {"open": "1", "tight": "1.1"}
        source = EditionSource(name, 1, "company", edition)
        sides.append((request | {"openings": schedule, "congestion": congestion}, source))
    return sides[0], sides[1]


def read(side: Side) -> Job:
    """A job ready to be costed."""
    return read_request(side[0], [side[1]])


def seconds(work: Callable[[], object]) -> float:
    """How long it takes; the collector of garbage stands still, as it does in the service."""
    start = time.perf_counter()
    with collector_paused():
        work()
    return time.perf_counter() - start


def main() -> None:
    """Prints the medians and their ratios."""
    reader = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    reader.add_argument("--lines", type=int, default=10_000)
    reader.add_argument("--kinds", type=int, default=200)
    reader.add_argument("--rounds", type=int, default=5)
    chosen = reader.parse_args()
    before, after = revisions(chosen.lines, chosen.kinds)
    first, second = read(before), read(after)
    if changed_causes(first, second) != CAUSES:
        raise SystemExit("a cause is the same in both")
    works: dict[str, Callable[[], object]] = {
        "one costing": lambda: cost(second),
        "even-handed comparison": lambda: compare(first, second),
        "one costing, reading included": lambda: cost(read(after)),
        "comparison, reading of both included": lambda: compare(read(before), read(after)),
    }
    taken: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(chosen.rounds):
        for name, work in works.items():
            taken[name].append(seconds(work))
    medians = [statistics.median(times) for times in taken.values()]
    for name, median in zip(works, medians, strict=True):
        print(f"{f'{name}, s':42} {median:>9.3f}")
    print(f"{'comparison / costing':42} {medians[1] / medians[0]:>9.1f}")
    print(f"{'comparison / costing, reading included':42} {medians[3] / medians[2]:>9.1f}")


if __name__ == "__main__":
    main()
