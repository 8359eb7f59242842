"""Questions: what a schedule leaves unknown or doubtful, each with its choices, its cells, and the answer kept for it.

A question's id is a digest of what it is about: its code, the line's mark, place and size. So a kept answer holds in
the next revision just as long as none of them changes, and no longer.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from estimating.intake.said import Kept, Said, Show, keep, spell

BLOCKS_COSTING, BLOCKS_ISSUE, TO_KNOW = "blocks_costing", "blocks_issue", "to_know"
SEVERITIES = (BLOCKS_COSTING, BLOCKS_ISSUE, TO_KNOW)
MOST_CELLS = 50  # named in one question; how many more there are is said
MOST_QUESTIONS = 2_000  # unanswered ones


@dataclass(frozen=True, slots=True)
class Question:
    """One question. choices: words that can be answered; `open_answer` says what else can ("a length", ""): free text.

    cells: as a person finds them; lines: indexes of the opening lines that it is about, when the question was asked;
    said, choices_said: the sentence and the choices with their lengths apart, blank where they name none.
    """

    id: str
    code: str
    severity: str
    sentence: str
    choices: tuple[str, ...] = ()
    open_answer: str = ""
    cells: tuple[str, ...] = ()
    lines: tuple[int, ...] = ()
    answer: str | None = None
    said: Kept = ()
    choices_said: tuple[Kept, ...] = ()

    @property
    def open(self) -> bool:
        """Whether an answer is still wanted."""
        return self.answer is None and self.severity != TO_KNOW

    def read_in(self, show: Show) -> tuple[str, tuple[str, ...]]:
        """The sentence and the choices with lengths printed by `show`; as kept, where two choices would look alike."""
        choices = tuple(spell(choice, show) for choice in self.choices_said) or self.choices
        if len(set(choices)) != len(self.choices):
            return self.sentence, self.choices
        return spell(self.said, show) or self.sentence, choices


@dataclass
class Asker:
    """Collects questions and gives the answers kept for them; `spent` holds the ids that were answered."""

    answers: Mapping[str, str] = field(default_factory=dict)
    questions: list[Question] = field(default_factory=list)
    spent: set[str] = field(default_factory=set)
    refused: list[tuple[str, str]] = field(default_factory=list)  # (id, why) of answers that can't be taken
    left_out: int = 0
    unanswered: int = 0
    _times: dict[str, int] = field(default_factory=dict)

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
    ) -> str | None:
        """The answer kept for this question, None where there is none yet; `about` is what its id depends on."""
        key = "\x1f".join((code, *about))
        nth = self._times[key] = self._times.get(key, 0) + 1
        id = hashlib.sha256(f"{key}\x1f{nth}".encode()).hexdigest()[:20]
        answer = self.answers.get(id)
        if answer is not None:
            self.spent.add(id)
            if not open_answer and answer not in choices:
                self.refused.append((id, f"one of {', '.join(choices)} is expected"))
                answer = None
        if answer is None and self.full:
            self.left_out += 1
            return None
        self.unanswered += answer is None
        shown = tuple(cells[:MOST_CELLS])
        if len(cells) > MOST_CELLS:
            shown += (f"and {len(cells) - MOST_CELLS:,} more",)
        self.questions.append(
            Question(
                id,
                code,
                severity,
                sentence,
                tuple(choices),
                open_answer,
                shown,
                tuple(lines[:MOST_CELLS]),
                answer,
                keep(said),
                tuple(keep(choice) for choice in choices_said),
            )
        )
        return answer

    def refuse(self, code: str, about: Sequence[str], why: str) -> None:
        """Marks the answer of the question asked last as one that can't be taken."""
        last = self.questions[-1]
        self.refused.append((last.id, why))

    def tell(self, code: str, sentence: str, *, about: Sequence[str] = (), cells: Sequence[str] = ()) -> None:
        """Something to know, that needs no answer."""
        self.ask(code, TO_KNOW, sentence, about=about, cells=cells)
