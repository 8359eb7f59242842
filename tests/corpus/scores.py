"""The corpus scored file by file, and what has to hold for each file and for all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.intake.asking import BLOCKS_COSTING
from rates.core.problems import Refused
from tests.corpus.built import build
from tests.corpus.oracle import Oracle
from tests.corpus.reader import read_bytes
from tests.corpus.schedule import Schedule
from tests.corpus.scoring import RIGHT, SILENT, Score, Scored, score

MOST_BLOCKING = 6
LEAST_RIGHT = 60  # percent of the lines of files that are not plain


@dataclass(frozen=True)
class Tried:
    """A file with its score, the codes answered by trial, and the refusal where it could not be read."""

    schedule: Schedule
    score: Score
    tried: tuple[str, ...] = ()
    refused: str = ""
    still_blocking: int = 0

    def faults(self) -> list[str]:
        """What of this file alone has to be otherwise."""
        found = [self.refused] if self.refused else []
        found += [f"silent: {show(line)}" for line in self.score.lines if line.outcome == SILENT]
        if self.schedule.plain and self.score.blocking:
            found.append(f"a plain file with {self.score.blocking} blocking questions")
        if self.score.blocking > MOST_BLOCKING:
            found.append(f"{self.score.blocking} blocking questions")
        if self.still_blocking:
            found.append(f"{self.still_blocking} questions block after all answers")
        return found + [f"wrong after all answers: {opening}" for opening in self.score.wrong_at_last]


def try_schedule(schedule: Schedule, *, answer: bool = True) -> Tried:
    """One file read without answers and (unless only what is right at once is wanted) with the truth's, and scored."""
    data = build(schedule)
    try:
        first = read_bytes(data)
    except Refused as refused:
        lines = tuple(Scored(opening, SILENT) for opening in schedule.truth)
        why = "; ".join(problem.detail for problem in refused.problems)
        return Tried(schedule, Score(lines, 0, schedule.truth), refused=f"refused: {why}")
    oracle = Oracle(schedule, data)
    last = oracle.answer_all(first) if answer else first
    blocking = sum(question.open and question.severity == BLOCKS_COSTING for question in last.questions)
    return Tried(schedule, score(schedule, first, last), tuple(sorted(oracle.tried)), still_blocking=blocking)


def right_share(tried: Sequence[Tried]) -> int:
    """The percentage, rounded down, of lines right at once in the files that are not plain."""
    lines = [line for one in tried if not one.schedule.plain for line in one.score.lines]
    return 100 * sum(line.outcome == RIGHT for line in lines) // len(lines) if lines else 100


def show(line: Scored) -> str:
    """A line with what was read instead."""
    read = "; ".join(map(str, line.read)) or "nothing"
    return f"{'invented ' if line.invented else ''}{line.opening} <- {read}"
