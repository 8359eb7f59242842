"""A question as it is asked, stored and shown; the lines it is about; the answers that are kept for them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, TypedDict

from estimating.intake.said import Kept as Spelt
from estimating.intake.said import Show, spell

BLOCKS_COSTING, BLOCKS_ISSUE, TO_KNOW = "blocks_costing", "blocks_issue", "to_know"
SEVERITIES = (BLOCKS_COSTING, BLOCKS_ISSUE, TO_KNOW)
MOST_CELLS = 50  # named in one question; how many more there are is said
NOTHING: Mapping[str, Any] = {}


class Kept(NamedTuple):
    """An answer kept for a question or for one line of it; the id of the rule that gave it; who gave it, and when."""

    answer: str
    rule: str = ""
    by: str = ""
    at: str = ""


class Asked(NamedTuple):
    """A line that a question is about: its index, its identity, the cell in doubt, its values as rules see them."""

    index: int  # type: ignore[assignment]  # in place of the method of tuples, which nobody asks a line for
    identity: str
    cell: str
    values: Mapping[str, Any] = NOTHING


@dataclass(frozen=True, slots=True)
class Question:
    """One question. choices: words that can be answered; `open_answer` says what else can ("a length", ""): free text.

    cells: as a person finds them; lines: indexes of the opening lines that it is about, when the question was asked;
    keys: what answers are kept by, one for each of `lines`, blank where the id itself is the key; proposed: the answer
    of an earlier rule that the lines fit; rule: the rule that answered; openings: how many its lines count, None where
    it is about none; answered_by, answered_at: who gave the answer and when, blank where that is not known.
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
    said: Spelt = ()
    choices_said: tuple[Spelt, ...] = ()
    keys: tuple[str, ...] = ()
    proposed: str | None = None
    rule: str = ""
    openings: int | None = None
    answered_by: str = ""
    answered_at: str = ""

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


class Origin(TypedDict):
    """The fields of a question that say where its answer comes from."""

    rule: str
    answered_by: str
    answered_at: str


def origin(kept: Kept | None) -> Origin:
    """Where the answer of a question comes from."""
    rule, by, at = kept[1:] if kept else ("", "", "")
    return {"rule": rule, "answered_by": by, "answered_at": at}


def first(choices: Sequence[str], proposed: str | None) -> tuple[str, ...]:
    """The choices, what is proposed first among them."""
    return tuple(choices) if proposed is None else (proposed, *(choice for choice in choices if choice != proposed))


def cut(cells: Sequence[str]) -> tuple[str, ...]:
    """The cells that a question names, and how many more there are."""
    more = (f"and {len(cells) - MOST_CELLS:,} more",) if len(cells) > MOST_CELLS else ()
    return (*cells[:MOST_CELLS], *more)
