"""This checkout beside another one, an earlier state of it, alternating in one run; the usual way beside both.

    python -m tests.benchmarks.before OTHER [--schedules office tidy] [--lines 10000] [--kinds 200 10000] [--rounds 5]

OTHER is the folder of the other checkout; its own .venv is taken where it has one, else this interpreter. The core
costs a request in fresh processes; of the service, two are started, which take turns. Seconds of processor time, the
least of the rounds, by the clock in brackets; ratios are of processor time, after / before below 1 is quicker now.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path

from tests.benchmarks.measured import ROUNDS, Case, Spent, cases, core_of, least, print_rows, usual_way
from tests.benchmarks.schedules import SCHEDULES
from tests.benchmarks.service import SMALL, Service, service_of, text_of
from tests.service import ROOT

HEAD = ("what", "schedule", "lines", "kinds", "before, s", "after, s", "usual way, s")
RATIOS = ("after / before", "usual / after")
Work = Callable[[], Spent]


def alternating(works: Sequence[Work], rounds: int) -> list[Spent]:
    """The least of each; what is measured takes turns, in the other order each second round."""
    found: list[list[Spent]] = [[] for _ in works]
    for number in range(rounds):
        for place in range(len(works))[:: -1 if number % 2 else 1]:
            found[place].append(works[place]())
    return [least(spent) for spent in found]


def row(what: str, case: Case, works: Sequence[Work], rounds: int, scale: int = 1) -> Sequence[str]:
    """One row: before, after and, where it is a schedule of many lines, the usual way."""
    before, after, *usual = alternating(works, rounds)
    named = (what, case.schedule, f"{case.lines:,}", f"{case.kinds:,}", text_of(before, scale), text_of(after, scale))
    beside = (text_of(usual[0]), f"{usual[0].cpu / after.cpu:.1f}") if usual else ("", "")
    return (*named, beside[0], f"{after.cpu / before.cpu:.2f}", beside[1])


def rows(other: Path, chosen: argparse.Namespace) -> Iterator[Sequence[str]]:
    """The heading, then core and service of each case."""
    yield HEAD + RATIOS
    every = list(cases(chosen.schedules, chosen.lines, chosen.kinds))
    for case in every if "core" in chosen.only else ():
        with core_of(case) as run:
            works = (partial(run.cost, other), run.cost, partial(usual_way, case.lines))
            yield row("core", case, works, chosen.rounds)
    if "service" in chosen.only:
        with service_of(other) as before, service_of(ROOT) as after:
            yield from of_services(before, after, every, chosen.rounds)


def of_services(before: Service, after: Service, every: Sequence[Case], rounds: int) -> Iterator[Sequence[str]]:
    """Large schedules, a small one, answers of a summary."""
    for case in every:
        works = (partial(before.large, case), partial(after.large, case), partial(usual_way, case.lines))
        yield row("service", case, works, rounds)
    yield row("service, waited for, ms", SMALL, (before.waited, after.waited), rounds, 1000)
    yield row("service, summary, ms", SMALL, (before.summaries, after.summaries), 4 * rounds, 1000)


def main() -> None:
    """Prints the table."""
    reader = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    reader.add_argument("other", type=Path)
    reader.add_argument("--only", nargs="+", choices=("core", "service"), default=("core", "service"))
    reader.add_argument("--schedules", nargs="+", choices=list(SCHEDULES), default=list(SCHEDULES))
    reader.add_argument("--lines", type=int, nargs="*", default=[10_000], help="none: small estimates alone")
    reader.add_argument("--kinds", type=int, nargs="+", default=[200, 10_000])
    reader.add_argument("--rounds", type=int, default=ROUNDS)
    chosen = reader.parse_args()
    print(f"before: {chosen.other.resolve()}\nafter: {ROOT}\n")
    print_rows(rows(chosen.other.resolve(), chosen))


if __name__ == "__main__":
    main()
