"""The answers of somebody who knows the truth: each question answered from truth and facts, until none is open.

A question is answered by its code, where ANSWERS has it; else by a choice or an open answer that states the truth of
its lines, answered line by line; else by trial: whichever answer brings the lines nearest to the truth. A question that
has no true answer so shows as lines that stay wrong, and a code answered by trial is named in what the command prints.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from estimating.intake.questions import Question
from estimating.intake.reading import Intake
from rates.core.problems import Refused
from tests.corpus.pairing import differences, pair, reads_of
from tests.corpus.reader import read_bytes
from tests.corpus.schedule import Schedule
from tests.corpus.true_answers import line_answers, line_fields, states_truth, words_of
from tests.corpus.truth import PRICED, Opening, mark_key

ROUNDS = 6
MOST_TRIALS = 60
FIELDS = 7  # of an opening that are compared
Answers = dict[str, str]
Says = Callable[[Question, Opening | None], Iterator[str]]

ANSWERS: Mapping[str, str] = {  # code -> the answer that is true of every file of the corpus
    "access_missing": "ground",
    "door_sides": "jambs_and_head",
    "gap_in_marks": "none_missing",
    "storey_breaks_repetition": "as_read",
}


@dataclass
class Oracle:
    """One file, the answers given so far, the codes that were answered by trial."""

    schedule: Schedule
    data: bytes
    answers: Answers = field(default_factory=dict)
    tried: set[str] = field(default_factory=set)

    def answer_all(self, first: Intake) -> Intake:
        """The reading after at most six rounds of answers."""
        intake = first
        for _ in range(ROUNDS):
            waiting = [question for question in intake.questions if question.open]
            for question in waiting:
                self.answers |= self.answer(question, intake)
            try:
                intake = read_bytes(self.data, self.answers) if waiting else intake
            except Refused:  # the lines of the last reading stay, and are wrong
                break
        return intake

    def answer(self, question: Question, intake: Intake) -> Answers:
        """One question answered."""
        if question.code in ANSWERS and ANSWERS[question.code] in question.choices:
            return {question.id: ANSWERS[question.code]}
        true = list(self.true_answers(question, intake))
        rest = [{question.id: answer} for answer in self.candidates(question)]
        rest[len(question.choices) : len(question.choices)] = self.by_line(question, intake, line_fields)
        worths = {i: self.worth(answers) for i, answers in enumerate([*true, *rest][:MOST_TRIALS])}
        best = max(worths, key=lambda i: worths[i], default=None)
        if best is None:
            return {}
        if best >= len(true):
            self.tried.add(question.code)
        return [*true, *rest][best]

    def true_answers(self, question: Question, intake: Intake) -> Iterator[Answers]:
        """Answers that state the truth of the lines of a question, one by one, or of all of them."""
        yield from self.by_line(question, intake, line_answers)
        for choice in question.choices:
            if states_truth(choice, self.schedule.truth, self.schedule.facts):
                yield {question.id: choice}

    def by_line(self, question: Question, intake: Intake, says: Says) -> Iterator[Answers]:
        """Answers line by line: the first that each line has, the second, and so on."""
        truths = [self.truth_of(index, intake) for index in question.lines]
        keys = getattr(question, "keys", ()) or (question.id,) * len(truths)
        ways = [list(says(question, truth)) for truth in truths] if any(truths) else []
        for way in range(max(map(len, ways), default=0)):
            said = [(key, own[min(way, len(own) - 1)]) for key, own in zip(keys, ways, strict=False) if own]
            if len(set(said)) == len(dict(said)):  # else one answer would have to say two things
                yield dict(said)

    def truth_of(self, index: int, intake: Intake) -> Opening | None:
        """The opening of truth that a line stands for: the nearest under its mark, of two as near that of its count."""
        mark = mark_key(str(intake.lines[index].get("mark") or "")) if index < len(intake.lines) else ""
        same = [opening for opening in self.schedule.truth if opening.mark == mark]
        read = next((read.opening for read in reads_of(intake) if read.index == index), None)
        return min(same, key=lambda truth: farness(truth, read), default=None)

    def candidates(self, question: Question) -> Iterator[str]:
        """What may be answered besides: the choices; the facts, sizes and counts of the truth as open answers."""
        yield from question.choices
        if question.code == "notes_words":
            whole = self.schedule.truth
            for some in (whole, [truth for truth in whole if truth.state != PRICED]):
                yield "; ".join(f"{truth.mark}: {in_words(question, truth)}" for truth in some)
        if question.code == "columns_of_numbers":
            letters = re.findall(r"\b([A-Z]{1,2}) '", question.sentence)
            yield from (", ".join(f"{letter}={field}" for letter in letters) for field in ("count", "quantity"))
        if question.open_answer:
            yield from self.schedule.facts.values()
            for opening in self.schedule.truth:
                yield from words_of(opening)

    def worth(self, answers: Answers) -> tuple[bool, int]:
        """Whether answers are taken, and how near the lines then come to the truth."""
        try:
            intake = read_bytes(self.data, {**self.answers, **answers})
        except Refused:
            return (False, 0)
        refused = any(key in answers for key, _ in intake.refused_answers)
        return (not refused, nearness(self.schedule, intake))


def nearness(schedule: Schedule, intake: Intake) -> int:
    """Compared fields that agree, each opening with its lines or its nearest; less all of a line that has none.

    Lines that add up to an opening of truth agree with it in all fields, as the scores have it.
    """
    pairs = pair(schedule.truth, reads_of(intake))
    paired = [opening for opening, _ in pairs.same]
    found = [replace(one, quantity=0) for one in paired]
    missed = [truth for truth in schedule.truth if replace(truth, quantity=0) not in found]
    left = [read.opening for read in pairs.left]
    total = FIELDS * (len(schedule.truth) - len(missed))
    for truth in missed:
        same = [read for read in left if read.mark == truth.mark]
        near = min(same, key=lambda read: len(differences(truth, read)), default=None)
        if near is not None:
            total += FIELDS - len(differences(truth, near))
            left.remove(near)
    return total - FIELDS * len(left)


def farness(truth: Opening, read: Opening | None) -> tuple[int, bool]:
    """How many fields of a line differ from an opening, and whether its count does."""
    found = differences(truth, read) if read else set()
    return len(found), "quantity" in found


def in_words(question: Question, truth: Opening) -> str:
    """What holds for an opening, as an answer by mark says it."""
    if truth.state == PRICED:
        return f"quantity={truth.quantity}"
    return next(iter(line_answers(question, truth)), "set_aside")
