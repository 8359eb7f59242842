"""Each line of truth scored against what was read: right, asked, guessed, silent.

right: read as the truth says, and no open question that blocks costing names it. asked: it differs, an open question
is about it, and the answers of the truth make it right. guessed: it differs, and something is only told of it, or asked
so that no answer makes it right. silent: it differs and nothing is said. Lines in no truth are scored the same way.
What decides scope, shape or count has to be asked before costing; a question before issue is no more than telling.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.intake.asking import BLOCKS_COSTING
from estimating.intake.questions import TO_KNOW, Question
from estimating.intake.reading import Intake
from tests.corpus.pairing import Pairs, Read, differences, pair, reads_of
from tests.corpus.schedule import Schedule
from tests.corpus.source import Source, has_word, place_of
from tests.corpus.truth import Opening

RIGHT, ASKED, GUESSED, SILENT = "right", "asked", "guessed", "silent"
COSTING = {"quantity", "shape", "state"}  # what a question before costing has to ask
BESIDE = {  # questions that name lines and say nothing of their scope, shape or count
    "access_missing", "columns", "density_outlier", "door_sides", "external_unknown", "gap_in_marks", "kind_missing",
    "storey_breaks_repetition",
}  # fmt: skip


@dataclass(frozen=True)
class Scored:
    """A line of truth, or one that was read beside it (`invented`), with its outcome and how it was read."""

    opening: Opening
    outcome: str
    read: tuple[Opening, ...] = ()
    invented: bool = False


@dataclass(frozen=True)
class Score:
    """A file's lines scored, what is wrong after all answers, and how many questions block costing at first."""

    lines: tuple[Scored, ...]
    blocking: int
    wrong_at_last: tuple[Opening, ...]

    def count(self, outcome: str) -> int:
        """How many lines have an outcome."""
        return sum(line.outcome == outcome for line in self.lines)


def score(schedule: Schedule, first: Intake, last: Intake) -> Score:
    """A file scored by its first reading, without answers, and its last, with the answers of the truth."""
    at_last = pair(schedule.truth, reads_of(last))
    at_first = pair(schedule.truth, reads_of(first))
    says = Says(schedule, first)
    scored = [Scored(opening, ASKED if says.blocked(reads) else RIGHT) for opening, reads in at_first.same]
    scored += [judge_missed(opening, at_first, at_last, says) for opening in at_first.missed]
    scored += judge_left(at_first, at_last, says)
    wrong = (*at_last.missed, *(read.opening for read in at_last.left))
    blocking = sum(question.severity == BLOCKS_COSTING for question in says.open)
    return Score(tuple(scored), blocking, wrong)


def judge_missed(opening: Opening, first: Pairs, last: Pairs, says: Says) -> Scored:
    """A line of truth that was not read so."""
    near = [read for read in first.left if read.opening.mark == opening.mark]
    differs = differences(opening, near[0].opening) if len(near) == 1 else COSTING
    settled = opening in [same for same, _ in last.same]
    return Scored(opening, says.outcome(opening, near, differs, settled), tuple(read.opening for read in near))


def judge_left(first: Pairs, last: Pairs, says: Says) -> list[Scored]:
    """Lines that were read and stand in no truth, those of a mark that was missed aside."""
    missed, wrong = {opening.mark for opening in first.missed}, {read.opening for read in last.left}
    found = []
    for read in first.left:
        if read.opening.mark not in missed:
            outcome = says.outcome(read.opening, [read], COSTING, read.opening not in wrong)
            found.append(Scored(read.opening, outcome, (read.opening,), invented=True))
    return found


class Says:
    """What a reading says of lines: its questions, what it tells, its notes."""

    def __init__(self, schedule: Schedule, intake: Intake) -> None:
        self.source = Source(schedule)
        self.open = [question for question in intake.questions if question.open]
        self.told = [question for question in intake.questions if question.severity == TO_KNOW]
        self.notes = [" ".join(map(str, note)) for note in (*intake.notes, *(one.values() for one in intake.apart))]

    def blocked(self, reads: Sequence[Read]) -> bool:
        """Whether an open question that blocks costing names one of these lines."""
        blocking = [question for question in self.open if question.severity == BLOCKS_COSTING]
        return any(names(question, read) for question in blocking for read in reads)

    def outcome(self, opening: Opening, near: Sequence[Read], differs: set[str], settled: bool) -> str:
        """How a line that differs was treated; `near`: the lines read under its mark."""
        about = [question for question in self.open if self.is_about(question, opening, near)]
        if settled and any(question.severity == BLOCKS_COSTING or not differs & COSTING for question in about):
            return ASKED
        telling = [q for q in (*self.open, *self.told) if not (differs & COSTING and q.code in BESIDE)]
        told = any(self.is_named(question, opening, near) for question in telling)
        return GUESSED if told or any(has_word(note, opening.mark) for note in self.notes) else SILENT

    def is_about(self, question: Question, opening: Opening, near: Sequence[Read]) -> bool:
        """Whether a question names the line, or something that stands over many lines: a heading, a note, the file."""
        places = [place_of(cell) for cell in question.cells]
        general = any(self.source.general(place) for place in places) or not (places or question.lines)
        return general or self.is_named(question, opening, near)

    def is_named(self, question: Question, opening: Opening, near: Sequence[Read]) -> bool:
        """Whether a question names the line, its row or its mark."""
        if any(names(question, read) or in_row(question, read) for read in near):
            return True
        if has_word(question.sentence, opening.mark):
            return True
        return any(self.source.holds(place_of(cell), opening.mark) for cell in question.cells)


def names(question: Question, read: Read) -> bool:
    """Whether a question is about a line that was read: by its index; by a cell of its row, where it names no lines."""
    return read.index in question.lines if question.lines else in_row(question, read)


def in_row(question: Question, read: Read) -> bool:
    """Whether a question names a cell of the row that a line was read from."""
    own = place_of(read.place)
    return any((place.sheet, place.row) == (own.sheet, own.row) for place in map(place_of, question.cells))
