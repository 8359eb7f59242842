"""How near cut plans come to their lower bounds, and how long they take beside a costing, in the same run.

    python -m tests.benchmarks.cutting [--openings 400 3000] [--rounds 3]

First the published problems of tests/data/cutting, each with its stored optimum: rolls and bound of the heuristic, then
with the solver, where it is installed. Then projects of the kind of the office schedule (tests/data/schedules): its
counts scaled up, once with its sizes, once with each opening's size its own to the 1/8 in, within 6 in. Costing by
waste and by the cut plan alternate, so that a slow minute of the machine falls on both; seconds are medians.
"""

from __future__ import annotations

import argparse
import csv
import random
import statistics
import sys
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from estimating.collector import collector_paused
from estimating.core.cutting.cut import _cut, cut
from estimating.core.cutting.rolls import plan_rolls
from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.outputs.cut_plan import cut_plan
from estimating.outputs.cut_proof import proven, solver_there
from rates.core.card import EditionSource
from rates.core.jsontext import read_json
from tests.core.cutting_cases import INSTANCES, checked, problem

ROOT = Path(__file__).resolve().parent.parent.parent
OFFICE = ROOT / "tests" / "data" / "schedules" / "office.csv"
EDITION = ROOT / "estimating" / "demo" / "rates.json"
PROBLEMS = ("problem", "optimum", "rolls", "bound", "s", "with solver", "bound", "proven", "s")
PROJECTS = (
    "openings",
    "sizes",
    "method",
    "material",
    "rolls",
    "bound",
    "gap %",
    "proven",
    "waste s",
    "plan s",
    "ratio",
    "list s",
)
METHODS = (("fluid", "fluid"), ("tape", "sheet"))


def forget() -> None:
    """No plan of an earlier measurement is known."""
    _cut.cache_clear()
    plan_rolls.cache_clear()


def timed(do: Callable[[], Any]) -> tuple[Any, float]:
    """What a call gives, and its seconds."""
    start = time.perf_counter()
    with collector_paused():
        found = do()
    return found, time.perf_counter() - start


def problems() -> Iterator[tuple[Any, ...]]:
    """A row for each published problem; stops where a plan is none or a proof is wrong."""
    for instance in INSTANCES:
        roll, lengths, demand = problem(instance)
        forget()
        made, seconds = timed(partial(cut, roll, lengths, demand))
        better, more = timed(partial(proven, roll, lengths, demand, made))
        for found in (made, better):
            assert checked(roll, lengths, demand, found.patterns) >= instance["optimum"] >= found.bound.rolls
        row = (instance["name"], instance["optimum"], made.rolls, made.bound.rolls, f"{seconds:.2f}")
        yield (*row, better.rolls, better.bound.rolls, "yes" if better.proven else "no", f"{more:.2f}")


def openings(count: int, varied: bool) -> list[dict[str, Any]]:
    """So many openings in the office's proportions, a line for each row, or each opening with a size of its own."""
    with OFFICE.open() as file:
        rows = list(csv.DictReader(file))
    whole, chance, found = sum(int(row["count"]) for row in rows), random.Random(11), []
    quantities = [int(row["count"]) * count // whole for row in rows]
    quantities[0] += count - sum(quantities)
    for row, quantity in zip(rows, quantities, strict=True):
        for n in range(quantity if varied else 1):
            sizes = {}
            for side in ("width", "height"):
                more = chance.randrange(-48, 49) if varied else 0
                eighths = round(int(row[f"{side}_mm"]) * 8 / 25.4) + more
                sizes[side] = f"{eighths // 8}.{eighths % 8 * 125:03d} in"
            line = {"mark": f"{row['mark']}-{n}", "kind": row["kind"], "storey": row["storey"], "access": "ground"}
            found.append(line | sizes | {"quantity": 1 if varied else quantity})
    return [line for line in found if line["quantity"]]


def request(lines: list[dict[str, Any]], method: str, barrier: str, by: str) -> dict[str, Any]:
    """A request for these openings."""
    crew = {"members": [{"labour": "mechanic", "count": 2}]}
    plain = {"work_date": "2027-03-15", "treated_depth": "6 in", "substrate": "plywood", "crew": crew}
    return plain | {"method": method, "wall_barrier": barrier, "quantities_from": by, "openings": lines}


def project(count: int, varied: bool, method: str, barrier: str, rounds: int) -> Iterator[tuple[Any, ...]]:
    """A row for each material of a project."""
    lines = openings(count, varied)
    rates = [EditionSource("benchmark", 1, "company", read_json(EDITION.read_text()))]
    seconds: dict[str, list[float]] = {"waste": [], "cut_plan": [], "list": []}
    estimate: Estimate | None = None
    for _ in range(rounds):
        for by in ("waste", "cut_plan"):
            forget()
            asked = request(lines, method, barrier, by)
            estimate, took = timed(partial(cost_request, asked, rates))
            seconds[by].append(took)
        plan, took = timed(partial(cut_plan, estimate))
        seconds["list"].append(took)
    assert estimate is not None and estimate.openings == count
    waste, by_plan, listed = (statistics.median(seconds[name]) for name in ("waste", "cut_plan", "list"))
    for row in plan["materials"]:
        counts = (
            row["material"],
            row["rolls"],
            row["least_rolls"],
            row["gap_percent"],
            "yes" if row["proven"] else "no",
        )
        times = (f"{waste:.3f}", f"{by_plan:.3f}", f"{by_plan / waste:.1f}", f"{listed:.3f}")
        yield (count, "varied" if varied else "as drawn", method, *counts, *times)


def show(head: tuple[str, ...], rows: Iterator[tuple[Any, ...]]) -> None:
    """A table as it is made."""
    print("| " + " | ".join(head) + " |\n|" + "---|" * len(head), flush=True)
    for row in rows:
        print("| " + " | ".join(map(str, row)) + " |", flush=True)


def main(arguments: list[str]) -> None:
    """Both tables."""
    reader = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reader.add_argument("--openings", type=int, nargs="+", default=[400, 3000])
    reader.add_argument("--rounds", type=int, default=3)
    reader.add_argument("--projects-alone", dest="problems", action="store_false")
    given = reader.parse_args(arguments)
    print(f"solver: {'installed' if solver_there() else 'not installed'}\n")
    show(PROBLEMS, problems() if given.problems else iter(()))
    print()
    wanted = [(count, varied, *m) for count in given.openings for varied in (False, True) for m in METHODS]
    show(PROJECTS, (row for one in wanted for row in project(*one, given.rounds)))


if __name__ == "__main__":
    main(sys.argv[1:])
