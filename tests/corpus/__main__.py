"""How the reader does on the corpus: `python -m tests.corpus [-v] [--traps] [NAME ...]`; exit status 1 where it fails.

--traps: the files made to mislead it, of which no share need be right at once.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

from tests.corpus.schedule import SCHEDULES, TRAPS, all_schedules
from tests.corpus.scores import LEAST_RIGHT, Tried, right_share, try_schedule
from tests.corpus.scoring import ASKED, GUESSED, RIGHT, SILENT

OUTCOMES = (RIGHT, ASKED, GUESSED, SILENT)


def main(arguments: Sequence[str]) -> int:
    """Scores the files whose names hold one of the words, or all; the exit status."""
    words = [word for word in arguments if not word.startswith("-")]
    traps = "--traps" in arguments
    found = all_schedules(TRAPS if traps else SCHEDULES)
    chosen = [schedule for schedule in found if not words or any(word in schedule.name for word in words)]
    tried = [try_schedule(schedule) for schedule in chosen]
    print_table(tried)
    faults = [(one.schedule.name, fault) for one in tried for fault in one.faults()]
    if "-v" in arguments:
        for name, fault in faults:
            print(f"{name}: {fault}")
    share = right_share(tried)
    wanted = "" if traps else f" (at least {LEAST_RIGHT})"
    print(f"right at once in files that are not plain: {share} %{wanted}")
    failing = {name for name, _ in faults}
    print(f"{len(failing)} of {len(tried)} files fail: {', '.join(sorted(failing)) or 'none'}")
    codes = sorted({code for one in tried for code in one.tried})
    print(f"questions answered by trial: {', '.join(codes) or 'none'}")
    return 1 if faults or (share < LEAST_RIGHT and not traps) else 0


def print_table(tried: Sequence[Tried]) -> None:
    """One row a file, and the totals."""
    heads = "".join(f"{outcome:>9}" for outcome in OUTCOMES)
    print(f"{'file':<44}{'lines':>7}{heads}{'blocking':>10}{'wrong at last':>15}")
    for one in tried:
        print(row(one.schedule.name + (" (plain)" if one.schedule.plain else ""), [one]))
    print(row("all", tried))
    print(row("all that are not plain", [one for one in tried if not one.schedule.plain]))


def row(name: str, tried: Sequence[Tried]) -> str:
    """One row of the table."""
    counts = [sum(one.score.count(outcome) for one in tried) for outcome in OUTCOMES]
    blocking = sum(one.score.blocking for one in tried)
    wrong = sum(len(one.score.wrong_at_last) for one in tried)
    lines = sum(len(one.score.lines) for one in tried)
    return f"{name[:43]:<44}{lines:>7}" + "".join(f"{count:>9}" for count in counts) + f"{blocking:>10}{wrong:>15}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
