"""How the money of a job is rounded and written; rounding tells by which edition and to which places it is done."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from estimating.core.figures.figure import Input, known
from estimating.core.figures.printing import NUMBER, TEXT
from estimating.core.figures.rules import rounded
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.money import minor_digits, print_money


@dataclass(frozen=True)
class Till:
    """One card's way with money. places_and_way: decimal places and rounding, inputs of each figure that is rounded."""

    currency: str
    places_and_way: tuple[Any, Any]
    written: dict[int, str] = field(default_factory=dict, compare=False, repr=False)  # amounts recur in long lists

    @staticmethod
    def of(card: Card) -> Till:
        """The card's currency and rounding."""
        source = {"table": "edition", "row": None, "field": "rounding", "value": card.rounding}
        supply = card.supply["overheads"].described()
        unit = {"constant": f"minor unit of {card.currency}"}
        places = known(Input("decimal places", minor_digits(card.currency), NUMBER, source=unit))
        way = known(Input("rounding", card.rounding, TEXT, source={**source, **supply}))
        return Till(card.currency, (places, way))

    @property
    def rounding(self) -> str:
        """Which way a half goes."""
        return str(self.places_and_way[1])

    @property
    def units(self) -> int:
        """Minor units in a major one."""
        return int(10 ** int(self.places_and_way[0]))

    def minor(self, exact: Fraction) -> int:
        """Major units rounded once to minor units."""
        return self.whole(rounded.function(exact, *self.places_and_way))

    def whole(self, amount: Fraction) -> int:
        """A rounded amount in minor units."""
        return int(amount * self.units)

    def major(self, minor: int) -> Fraction:
        """Minor units as an exact amount."""
        return Fraction(minor, self.units)

    def text(self, minor: int) -> str:
        """As printed."""
        text = self.written.get(minor)
        if text is None:
            text = self.written[minor] = print_money(minor, self.currency)
        return text
