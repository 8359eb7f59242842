"""Rows that are no openings: totals, subtotals, sums carried forward, notes, legends, the end of a list.

Common practice, no source. English, German, French, Spanish.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.folding import compose, fold
from estimating.intake.heading_terms import TOTALS
from estimating.intake.heading_words import phrases_of
from estimating.intake.phrases import tokens_of


@dataclass(frozen=True, slots=True)
class RowLabel:
    """What the label of a row says it is (total, subtotal, carried, notes, end, or blank), and what stands behind.

    sure: nothing but numbers and signs stands behind the label. A sentence that begins with "Total" is not sure.
    """

    kind: str = ""
    words: str = ""
    rest: str = ""
    sure: bool = False


@lru_cache(maxsize=4096)
def read_row_label(text: str) -> RowLabel:
    """Whether a cell labels its row as a total, a note or the like."""
    plain = compose(text)
    tokens = tokens_of(fold(plain))
    labels = labelled()
    for end in range(min(len(tokens), 6), 0, -1):
        kinds = labels.get(tuple(token.text for token in tokens[:end]))
        if kinds:
            stop = tokens[end - 1].end
            rest = plain[stop:].strip(" .:=-")
            plain_rest = not any(char.isalpha() for char in rest)
            colon = plain[stop:].lstrip().startswith(":")
            return RowLabel(kinds[0], plain[:stop].strip(), rest, plain_rest or (kinds[0] == "notes" and colon))
    return RowLabel()


@lru_cache(maxsize=1)
def labelled() -> dict[tuple[str, ...], tuple[str, ...]]:
    """Every label and what it says."""
    return phrases_of(TOTALS)
