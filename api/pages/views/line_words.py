"""What a schedule's lines say, in words: each value with its openings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from api.pages.trade_words import in_words
from estimating.intake.line_values import SaidOf
from rates.core.texts import counted

LABELS = {
    "access": "How the work is reached", "sides": "Sides treated", "method": "Method", "wall_barrier": "Wall barrier",
    "treated_depth": "Treated depth", "substrate": "Substrate", "sill": "Sill",
}  # fmt: skip
LEFT_OUT = {"access": "not said, taken as ground"}  # what counts where lines say nothing
OF_REQUEST = "not said, as given for all"
NO_SILL = "not said, no minutes added"


class InWords(NamedTuple):
    """A field's name, and what lines say for it."""

    label: str
    words: str


def said_words(values: Sequence[tuple[str | None, int]], left_out: str = LEFT_OUT["access"]) -> str:
    """Each value with its openings, one after the other."""
    return "; ".join(
        f"{in_words(value) if value is not None else left_out}: {counted(n, 'opening')}" for value, n in values
    )


def summary(said: Sequence[SaidOf]) -> list[InWords]:
    """What the lines say, field by field; the sides by kind of opening where kinds differ."""
    found = []
    for one in said:
        left_out = NO_SILL if one.field == "sill" else LEFT_OUT.get(one.field, OF_REQUEST)
        label = f"{LABELS[one.field]}, {one.kind}s" if one.kind else LABELS[one.field]
        found.append(InWords(label, said_words([(v.value, v.openings) for v in one.values], left_out)))
    return found
