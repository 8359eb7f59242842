"""What the figures of one part have in common: its card, the request, how money is rounded, which part it is."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from estimating.core.figures.figure import Subject
from estimating.core.figures.printing import TEXT
from estimating.core.request import Request
from estimating.core.till import Till
from rates.core.card import Card
from rates.core.production_rows import Production


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

    @property
    def own_temperature(self) -> str | None:
        """The temperature that the part of a season split states for itself."""
        parts = self.request.parts
        return parts[self.place].temperature if parts else None

    @property
    def temperature(self) -> str | None:
        """The temperature that the part is worked at: its own, else the request's."""
        return self.own_temperature or self.request.temperature

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
    def temperature(self) -> str | None:
        """The temperature that the part is worked at."""
        return self.conditions.temperature

    def told_temperature(view: Any) -> Any:
        """As the part of a season split states it, else as the request does."""
        of: Conditions = view.subject.conditions
        field = "temperature" if of.own_temperature is None else f"mobilisations/{of.place}/temperature"
        return None if of.temperature is None else view.request.stated(field, of.temperature, TEXT)

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
