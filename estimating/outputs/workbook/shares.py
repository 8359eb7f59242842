"""Largest remainder by formulas: a total over rows by weight, floored, then a unit more for the largest remainders."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from estimating.core.remainders import Shares
from estimating.outputs.workbook import rounding
from estimating.outputs.workbook.numbers import number
from rates.core.fraction import Fraction
from rates.core.grid import Cell

SHARE_HEADS: tuple[Cell, ...] = ("Weight", "Share in minor units", "Floored", "Remainder", "Before it")


def certain_shares(prices: Shares) -> list[Fraction] | None:
    """Each share in minor units, rounded to what is certain; None where that gives another floor or another order."""
    places, whole = rounding.guard(Fraction(prices.total_minor)), sum(prices.units)
    seen = [rounding.guarded(Fraction(prices.total_minor) * unit / whole, places) for unit in prices.units]
    if [floor(x) for x in seen] != prices.floors:
        return None
    left = [x - floor(x) for x in seen]
    order = sorted(range(len(left)), key=left.__getitem__, reverse=True)
    return seen if [prices.ranks[i] for i in order] == list(range(len(order))) else None


@dataclass(frozen=True)
class Sharing:
    """One total over rows. total: its address; weights, floors: formulas of their sums; scale: minor units of one."""

    prices: Shares
    total: str
    weights: str
    floors: str
    scale: int

    @property
    def places(self) -> int:
        """Decimal places to which every share is certain, so that equal remainders are equal."""
        return rounding.guard(Fraction(self.prices.total_minor))

    def cells(self, place: int, weight: Cell, at: Sequence[str], before: str, shares: Sequence[Fraction]) -> list[Cell]:
        """Weight, share, floored, remainder, how many come before; at: the addresses of those cells."""
        share, weighed, shared, floored, left = shares[place], *at[:4]
        exact = f"{self.total}*{self.scale}*{weighed}/{self.weights}"
        return [
            weight,
            number(share, None, f"ROUND({exact},{self.places})"),
            number(Fraction(self.prices.floors[place]), 0, f"INT({shared})"),
            number(share - self.prices.floors[place], None, f"ROUND({shared}-{floored},{self.places})"),
            number(Fraction(self.prices.ranks[place]), 0, before.replace("REMAINDER", left)),
        ]

    def price(self, at: Sequence[str]) -> str:
        """The formula of a share from the addresses of its cells."""
        missing = f"ROUND({self.total}*{self.scale}-{self.floors},0)"
        return f"({at[2]}+IF({at[4]}<{missing},1,0))/{self.scale}"
