"""How fast the core costs a schedule, measured against the frozen usual way (usual_way.py) in the same run.

    python -m tests.benchmarks.core [--lines 100 10000 100000] [--kinds 200 20000] [--rounds 3]

Each measurement is a fresh process; the two alternate, so that a slow minute of the machine falls on both. The core is
timed from the request's JSON text to the costed estimate: reading, checking, takeoff, labour, materials, money, marks.
The yardstick reads, computes row by row, stores and renders; its columns give its whole time and the part that the
core does too (validate and compute). Seconds are medians; memory is the largest resident set of the process.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import random
import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

from estimating.collector import collector_paused
from estimating.core.job import cost_request
from rates.core.card import EditionSource
from rates.core.jsontext import read_json

ROOT = Path(__file__).resolve().parent.parent.parent
CORE = ("-m", "tests.benchmarks.core", "--once")
USUAL_WAY = str(Path(__file__).with_name("usual_way.py"))
COLUMNS = ("lines", "kinds", "core s", "lines/s", "MiB", "usual way s", "of it validate + compute s", "lines/s", "MiB")
RATIOS = ("whole ratio", "ratio of validate + compute")
EDITION = ROOT / "tests" / "data" / "golden" / "edition.json"


def sizes(kinds: int, chance: random.Random) -> list[tuple[str, str, str]]:
    """`kinds` distinct (kind, width, height), sizes by the quarter inch from 24 to 96 in."""
    found: dict[tuple[str, str, str], None] = {}
    while len(found) < kinds:
        width, height = chance.randrange(96, 384), chance.randrange(96, 384)
        inches = [f"{quarters // 4}.{quarters % 4 * 25} in" for quarters in (width, height)]
        size = (chance.choice(["window", "door"]), inches[0], inches[1])
        found[size] = None
    return list(found)


def write_request(lines: int, kinds: int) -> tuple[str, int]:
    """The request as JSON text, shaped like the yardstick's schedule, and how many openings it asks for."""
    chance = random.Random(7)
    choice = sizes(kinds, chance)
    openings: list[dict[str, Any]] = []
    for i in range(lines):
        kind, width, height = choice[i] if i < len(choice) else chance.choice(choice)
        line = {"mark": f"M{i}", "kind": kind, "quantity": chance.randint(1, 9), "width": width, "height": height}
        openings.append({**line, "elevation": chance.choice("NESW"), "storey": str(chance.randint(1, 12))})
    request = {
        "edition": "benchmark",
        "work_date": "2027-03-15",
        "method": "fluid",
        "wall_barrier": "fluid",
        "treated_depth": "6 in",
        "crew": {"members": [{"labour": "journeyman", "count": 2}], "experience": "experienced"},
        "mobilisations": 1,
        "allocate_by": "touch_minutes",
        "openings": openings,
    }
    return json.dumps(request), sum(line["quantity"] for line in openings)


def measure_once(lines: int, kinds: int) -> dict[str, int | float]:
    """Seconds and peak MiB of costing one request in this process; stops where the count of openings is wrong."""
    body, openings = write_request(lines, kinds)
    edition = EditionSource("benchmark", 1, "company", read_json(EDITION.read_text()))
    start = time.perf_counter()
    with collector_paused():  # as the command and the service do
        estimate = cost_request(read_json(body), [edition])
    seconds = time.perf_counter() - start
    if estimate.openings != openings:
        raise SystemExit(f"{estimate.openings} openings costed, {openings} asked for")
    return {"total": seconds, "peak_mib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024}


def run_child(*arguments: str) -> dict[str, float]:
    """What a fresh Python process prints as its last line of JSON."""
    answer = subprocess.run([sys.executable, *arguments], capture_output=True, text=True, check=True, cwd=ROOT)
    result: dict[str, float] = json.loads(answer.stdout.splitlines()[-1])
    return result


def compare(lines: int, kinds: int, rounds: int) -> tuple[str, ...]:
    """One row of the table: medians of `rounds` alternating runs."""
    core, usual = [], []
    for _ in range(rounds):
        core.append(run_child(*CORE, "--lines", str(lines), "--kinds", str(kinds)))
        usual.append(run_child(USUAL_WAY, str(lines)))
    ours = statistics.median(run["total"] for run in core)
    theirs = statistics.median(run["total"] for run in usual)
    part = statistics.median(run["validate"] + run["compute"] for run in usual)
    memory = [max(int(run["peak_mib"]) for run in runs) for runs in (core, usual)]
    of_core = (f"{ours:.3f}", f"{lines / ours:,.0f}", str(memory[0]))
    of_usual = (f"{theirs:.3f}", f"{part:.3f}", f"{lines / theirs:,.0f}", str(memory[1]))
    return (f"{lines:,}", f"{kinds:,}", *of_core, *of_usual, f"{theirs / ours:.1f}", f"{part / ours:.1f}")


def print_row(cells: tuple[str, ...]) -> None:
    """Prints one row of a Markdown table."""
    print(f"| {' | '.join(cells)} |", flush=True)


def main() -> None:
    """Prints the table, or with --once the JSON of one measurement."""
    reader = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    reader.add_argument("--lines", type=int, nargs="+", default=[100, 10_000, 100_000])
    reader.add_argument("--kinds", type=int, nargs="+", default=[200, 20_000])
    reader.add_argument("--rounds", type=int, default=3)
    reader.add_argument("--once", action="store_true", help="measure the core alone in this process, as JSON")
    chosen = reader.parse_args()
    if chosen.once:
        print(json.dumps(measure_once(chosen.lines[0], chosen.kinds[0])))
        return
    print(f"Python {platform.python_version()}, {os.cpu_count()} CPUs, {chosen.rounds} alternating rounds, medians\n")
    print_row(COLUMNS + RATIOS)
    print_row(("---",) * len(COLUMNS + RATIOS))
    for lines in chosen.lines:
        for kinds in sorted({min(kinds, lines) for kinds in chosen.kinds}):
            print_row(compare(lines, kinds, chosen.rounds))


if __name__ == "__main__":
    main()
