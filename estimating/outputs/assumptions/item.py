"""One assumption, and what the list of them is made from."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from dataclasses import field as field_with
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.work import KindWork
from rates.core.card import Card, EditionSource
from rates.core.fraction import Fraction

DEFAULT, EDITION, LEARNT, ANSWER, REQUEST = "default", "edition", "learnt", "answer", "request"
SOURCES = (DEFAULT, EDITION, LEARNT, ANSWER, REQUEST)
PRICE, UNKNOWN, NOTHING = "price", "unknown", "nothing"
MOVES = (PRICE, UNKNOWN, NOTHING)


@dataclass(frozen=True)
class Assumption:
    """A value that stands where nothing was entered: its field, where it came from, the openings that it touches.

    marks: of the lines that leave it out, in groups; empty for what is assumed of the whole job. moves: whether another
    value would move the price, as far as it is known; stake_minor: by how much, where it does.
    """

    field: str
    value: str
    source: str
    openings: int
    sentence: str
    marks: Sequence[Collection[str]] = field_with(default=(), compare=False, repr=False)
    moves: str = field_with(default=UNKNOWN, compare=False)
    stake_minor: int | None = field_with(default=None, compare=False)

    @property
    def key(self) -> str:
        """What stays the same while nothing of it changes: field, value, source, and the marks that it touches."""
        every = sorted({mark for group in self.marks for mark in group})
        said = "\n".join((self.field, self.value, self.source, *every))
        return hashlib.sha256(said.encode()).hexdigest()[:32]

    def row(self) -> dict[str, object]:
        """As JSON."""
        return {
            "field": self.field,
            "value": self.value,
            "source": self.source,
            "openings": self.openings,
            "sentence": self.sentence,
        }


@dataclass(frozen=True)
class Basis:
    """A costed estimate and the documents that it was read from.

    request: the request with its openings, as the core was given it; cards: each with the edition it was read from;
    show: how people read lengths, from nm; reading: what answers and kept columns settled.
    """

    request: Mapping[str, Any]
    cards: Sequence[tuple[EditionSource, Card]]
    estimate: Estimate
    show: Callable[[Fraction], str]
    reading: Sequence[Assumption] = ()

    def used_cards(self) -> list[tuple[EditionSource, Card]]:
        """The cards that price something, each once."""
        used = {id(card) for card in (self.estimate.card, *(part.plan.card for part in self.estimate.parts))}
        return [(source, card) for source, card in self.cards if id(card) in used]


def openings_where(works: Iterable[KindWork], touched: Callable[[KindWork], bool]) -> int:
    """How many of the openings worked are touched."""
    return sum(work.counted for work in works if touched(work))
