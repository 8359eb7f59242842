"""What the figures of one part have in common: its card, the request, how money is rounded, which part it is."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from estimating.core.figures.figure import Subject
from estimating.core.request import Request
from estimating.core.till import Till
from rates.core.card import Card
from rates.core.rows import Production


@dataclass(frozen=True)
class Conditions:
    """place: the part's among those of the job; several: whether there are more, so that its figures name it."""

    card: Card
    request: Request
    place: int = 0
    several: bool = False

    @property
    def production(self) -> Production:
        """The part's production table."""
        return self.card.production

    @cached_property
    def till(self) -> Till:
        """How the part's rows are rounded."""
        return Till.of(self.card)

    @cached_property
    def prefix(self) -> str:
        """The first words of the names of the part's figures."""
        return f"part.{self.place}." if self.several else ""


class PartSubject(Subject):
    """What has figures in one part of the job."""

    conditions: Conditions

    @property
    def card(self) -> Card:
        """The part's rate card."""
        return self.conditions.card

    @property
    def production(self) -> Production:
        """The part's production table."""
        return self.conditions.card.production

    @property
    def request(self) -> Request:
        """The request."""
        return self.conditions.request

    @property
    def till(self) -> Till:
        """How the part's rows are rounded."""
        return self.conditions.till

    @property
    def prefix(self) -> str:
        """The first words of the names of the part's figures."""
        return self.conditions.prefix

    @property
    def path(self) -> str:
        """The first words of the names of its own."""
        return self.prefix.removesuffix(".")
