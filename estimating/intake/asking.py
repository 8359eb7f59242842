"""Asking: doubts become questions, and the answers for them come back at once.

about one thing (a cell, a column, a table)  > `ask`, its id a digest of what it is about
about lines of one cause                     > `ask_lines`, one question for those without an answer; answers by line
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from estimating.intake.answer_rules import Rule, by_columns
from estimating.intake.line_identity import PARTS, digest
from estimating.intake.questions import BLOCKS_COSTING as BLOCKS_COSTING
from estimating.intake.questions import BLOCKS_ISSUE as BLOCKS_ISSUE
from estimating.intake.questions import MOST_CELLS, NOTHING, TO_KNOW, Asked, Kept, Question, cut, first, origin
from estimating.intake.questions import SEVERITIES as SEVERITIES
from estimating.intake.said import Said, Show, keep, spell

MOST_QUESTIONS = 2_000  # unanswered ones
Sentence = Callable[[Sequence[Asked]], str | Said]
Check = Callable[[str, Asked], str]
Tell = tuple[Sentence, Show]


@dataclass
class Asker:
    """Collects questions and gives the answers for them.

    answers: given now, by question id or by key; given: the rules given now; past: answers kept from before, by key;
    rules: kept from before, which only propose; by, at: who gives the answers of now, and when. kept: what is to be
    kept of all of them; refused: (key, id or rule, why) of answers that can't be taken.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    given: Sequence[Rule] = ()
    past: Mapping[str, Kept] = field(default_factory=dict)
    rules: Sequence[Rule] = ()
    by: str = ""
    at: str = ""
    questions: list[Question] = field(default_factory=list)
    kept: dict[str, Kept] = field(default_factory=dict)
    refused: list[tuple[str, str]] = field(default_factory=list)
    touched: dict[str, int] = field(default_factory=dict)  # rule given now -> how many questions or lines it answers
    left_out: int = 0
    unanswered: int = 0
    lines: dict[str, Asked] = field(default_factory=dict)  # key -> the line of it
    _times: dict[str, int] = field(default_factory=dict)
    _told: dict[str, Tell] = field(default_factory=dict)  # question -> how it is told of lines

    @property
    def full(self) -> bool:
        """Whether no more questions are taken, only counted."""
        return self.unanswered >= MOST_QUESTIONS

    def ask(
        self,
        code: str,
        severity: str,
        sentence: str,
        *,
        about: Sequence[str],
        choices: Sequence[str] = (),
        open_answer: str = "",
        cells: Sequence[str] = (),
        lines: Sequence[int] = (),
        said: Said = (),
        choices_said: Sequence[Said] = (),
        values: Mapping[str, Any] = NOTHING,
    ) -> str | None:
        """The answer kept for this question, None where there is none yet; `about` is what its id depends on.

        values: those of the line that it is about, for rules that name a place, a height or a mark.
        """
        id = self.numbered(PARTS.join((code, *about)))
        asked = Asked(lines[0] if lines else -1, "", cells[0] if cells else "", values)
        kept = None
        if severity != TO_KNOW:
            kept = self.settle(id, code, asked, choices, open_answer, None, cells)
        if kept is None and self.full:
            self.left_out += 1
            return None
        self.unanswered += kept is None
        proposed = None if kept or severity == TO_KNOW else self.propose(code, asked, choices, open_answer)
        self.questions.append(
            Question(
                id,
                code,
                severity,
                sentence,
                tuple(choices) if choices_said else first(choices, proposed),
                open_answer,
                cut(cells),
                tuple(lines[:MOST_CELLS]),
                kept.answer if kept else None,
                keep(said),
                tuple(keep(choice) for choice in choices_said),
                proposed=proposed,
                **origin(kept),
            )
        )
        return kept.answer if kept else None

    def ask_lines(
        self,
        code: str,
        severity: str,
        lines: Iterable[Asked],
        sentence: Sentence,
        *,
        choices: Sequence[str] = (),
        open_answer: str = "",
        about: Sequence[str] = (),
        check: Check | None = None,
        show: Show = str,
    ) -> dict[int, str]:
        """Index of a line -> its answer, for the lines that have one; the others share one question.

        sentence: made of the lines that one question is about; where it gives lengths apart, `show` prints them.
        check: why an open answer can't be taken for a line, blank where it can.
        """
        answered: dict[Kept, list[tuple[str, Asked]]] = {}
        waiting: dict[str | None, list[tuple[str, Asked]]] = {}
        for line in lines:
            key = self.numbered(PARTS.join((code, *about, line.identity)))
            kept = self.settle(key, code, line, choices, open_answer, check)
            if kept is not None:
                answered.setdefault(kept, []).append((key, line))
            else:
                waiting.setdefault(self.propose(code, line, choices, open_answer), []).append((key, line))
        groups: list[tuple[Kept | None, str | None, list[tuple[str, Asked]]]] = []
        for proposed, group in waiting.items():
            kept = self.settle_group(group, choices, open_answer, check)
            groups.append((kept, None if kept else proposed, group))
        groups += [(kept, None, group) for kept, group in answered.items()]
        found: dict[int, str] = {}
        for kept, proposed, group in groups:
            if kept is not None:
                found |= {line.index: kept.answer for _, line in group}
            elif self.full:
                self.left_out += 1
                continue
            self.unanswered += kept is None
            self.lines |= dict(group)
            question = Question(
                group_id(group),
                code,
                severity,
                "",
                first(choices, proposed),
                open_answer,
                lines=tuple(line.index for _, line in group),
                answer=kept.answer if kept else None,
                keys=tuple(key for key, _ in group),
                proposed=proposed,
                **origin(kept),
            )
            self.questions.append(self.retell(question, (sentence, show)))
        return found

    def retell(self, question: Question, tell: Tell) -> Question:
        """A question with its id, sentence and cells as they are of its lines now."""
        sentence, show = tell
        told = [self.lines[key] for key in dict.fromkeys(question.keys)]
        said = sentence(told)
        id = digest(sorted(set(question.keys)))
        self._told[id] = tell
        return replace(
            question,
            id=id,
            sentence=said if isinstance(said, str) else spell(said, show),
            said=() if isinstance(said, str) else keep(said),
            cells=cut([line.cell for line in told]),
        )

    def drop(self, gone: Callable[[Question, str], bool]) -> None:
        """Takes questions out for which no answer is wanted any more, and lines out of those that are about several.

        gone: whether an open question is settled for one of its keys, its id where it has none.
        """
        left = []
        for question in self.questions:
            if not question.open:
                left.append(question)
                continue
            if not question.keys:
                left += [] if gone(question, question.id) else [question]
                continue
            pairs = [(i, key) for i, key in zip(question.lines, question.keys, strict=True) if not gone(question, key)]
            if len(pairs) == len(question.keys):
                left.append(question)
            elif pairs:
                lines, keys = zip(*pairs, strict=True)
                left.append(self.retell(replace(question, lines=lines, keys=keys), self._told[question.id]))
        self.unanswered -= len(self.questions) - len(left)
        self.questions[:] = left

    def numbered(self, key: str) -> str:
        """The digest of what is asked about, the second time another one than the first."""
        nth = self._times[key] = self._times.get(key, 0) + 1
        return digest((key, str(nth)))

    def settle(
        self,
        key: str,
        code: str,
        line: Asked,
        choices: Sequence[str],
        open_answer: str,
        check: Check | None,
        cells: Sequence[str] = (),
    ) -> Kept | None:
        """The answer by its key, given now or kept, or by a rule given now; None, noted where it can't be taken."""
        found, source = (self.give(self.answers[key]), key) if key in self.answers else (self.past.get(key), key)
        if found is None:
            if not self.given:
                return None
            fitting, answer, why = self.by_rule(code, line, cells)
            for rule in fitting:
                self.touched[rule.id] = self.touched.get(rule.id, 0) + 1
            if why:
                self.refused.append((fitting[-1].id, why))
            if not fitting or why:
                return None
            found, source = self.give(answer, fitting[0].id), fitting[0].id
        if why := unfit(found.answer, line, choices, open_answer, check):
            self.refused.append((source, why))
            return None
        self.kept[key] = found
        return found

    def by_rule(self, code: str, line: Asked, cells: Sequence[str]) -> tuple[Sequence[Rule], str, str]:
        """The rules given now that fit, their answer, and why it is none; no rules where none fits."""
        several = by_columns(self.given, code, cells)
        if several is not None:
            return several
        fitting = [rule for rule in self.given if rule.fits(code, line.cell, line.values)]
        agreed = len({rule.answer for rule in fitting}) < 2
        why = "" if agreed else "another rule of this request answers the same line otherwise"
        return fitting, fitting[0].answer if fitting else "", why

    def settle_group(
        self, group: Sequence[tuple[str, Asked]], choices: Sequence[str], open_answer: str, check: Check | None
    ) -> Kept | None:
        """The answer given now to all the lines of a question, by its id."""
        answer = self.answers.get(id := group_id(group))
        if answer is None:
            return None
        for _, line in group:
            if why := unfit(answer, line, choices, open_answer, check):
                self.refused.append((id, why))
                return None
        self.kept |= dict.fromkeys((key for key, _ in group), self.give(answer))
        return self.give(answer)

    def give(self, answer: str, rule: str = "") -> Kept:
        """An answer of now as it is kept."""
        return Kept(answer, rule, self.by, self.at)

    def propose(self, code: str, line: Asked, choices: Sequence[str], open_answer: str) -> str | None:
        """The answer of the newest kept rule that a line fits, which is offered and not put in."""
        for rule in reversed(self.rules):
            if rule.fits(code, line.cell, line.values) and (open_answer or rule.answer in choices):
                return rule.answer
        return None

    def refuse(self, code: str, about: Sequence[str], why: str) -> None:
        """Marks the answer of the question asked last as one that can't be taken; it is open again."""
        last = self.questions[-1]
        self.refused.append((last.rule or last.id, why))
        self.kept.pop(last.id, None)
        self.unanswered += 1
        self.questions[-1] = replace(last, answer=None, **origin(None))

    def tell(self, code: str, sentence: str, *, about: Sequence[str] = (), cells: Sequence[str] = ()) -> None:
        """Something to know, that needs no answer."""
        self.ask(code, TO_KNOW, sentence, about=about, cells=cells)


def group_id(group: Sequence[tuple[str, Asked]]) -> str:
    """The id of the question that lines share: other lines, another question."""
    return digest(sorted(key for key, _ in group))


def unfit(answer: str, line: Asked, choices: Sequence[str], open_answer: str, check: Check | None) -> str:
    """Why an answer can't be taken, blank where it can."""
    if answer not in choices and not open_answer:
        return f"one of {', '.join(choices)} is expected"
    return check(answer, line) if check else ""
