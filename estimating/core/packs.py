"""The least-cost mix of whole packs that covers a need: material packs, and rental periods whose sizes are days.

need and packs > whole numbers (sizes and prices over their greatest common divisors) > exact search > mix
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import gcd, lcm

from estimating.core.figures.rules import rule
from estimating.core.pack_search import BranchAndBound, Kind, TooClose, shortest_path
from rates.core.fraction import Fraction


@dataclass(frozen=True, slots=True)
class Pack:
    """One pack as sold: its size in the unit of the need, its price, and the label it is ordered by."""

    size: Fraction
    price: Fraction
    label: str


@dataclass(frozen=True, slots=True)
class Mix:
    """Packs to buy in the order they were offered, none with count 0; their cost; what is left over of the need."""

    counts: tuple[tuple[Pack, int], ...]
    cost: Fraction
    left_over: Fraction


def lowest_unit_price(packs: Sequence[Pack]) -> Fraction:
    """The lowest price per unit of size among the packs, exact. ValueError without packs or for a bad size or price."""
    _require_packs(packs)
    return min(pack.price / pack.size for pack in packs)


def least_cost_mix(need: Fraction, packs: Sequence[Pack]) -> Mix:
    """The cheapest whole packs that cover the need; ties: least left over, then fewest packs, then the earlier pack.

    Exact, in the units of the packs. A need of 0 or less takes nothing. ValueError without packs, for a size that is
    not above 0 and for a price below 0. TooClose, a ValueError, where both searches would take longer than a few
    seconds: more sizes without a common measure, at nearly equal unit prices, than any price list of whole cents shows.
    """
    _require_packs(packs)
    bought = [(pack, n) for pack, n in zip(packs, counts_for(need, offers(packs)), strict=True) if n]
    cost = sum((pack.price * n for pack, n in bought), Fraction(0))
    held = sum((pack.size * n for pack, n in bought), Fraction(0))
    return Mix(tuple(bought), cost, held - need if need > 0 else Fraction(0))


Offers = tuple[tuple[Fraction, Fraction], ...]


def offers(packs: Sequence[Pack]) -> Offers:
    """(size, price) of each pack, as rules take them."""
    return tuple((pack.size, pack.price) for pack in packs)


@lru_cache(maxsize=1024)
def counts_for(need: Fraction, packs: Offers) -> tuple[int, ...]:
    """How many of each pack the cheapest mix has, in the order offered."""
    counts = [0] * len(packs)
    if need > 0:
        divisor = _common_divisor([size for size, _ in packs])
        kinds = _ordered_kinds(packs, divisor)
        whole_need = -(-need // divisor)
        try:
            found = BranchAndBound(kinds).counts_for(whole_need)
        except TooClose:
            found = shortest_path(kinds, whole_need)
        for kind, count in zip(kinds, found, strict=True):
            counts[kind.place] = count
    return tuple(counts)


@rule("the least price ÷ size among the terms", "lowest_unit_price")
def least_price(*packs: tuple[Fraction, Fraction]) -> Fraction:
    """Of packs as (size, price)."""
    return min(price / size for size, price in packs)


@rule("cost of the cheapest whole packs that cover the first; ties as for their count")
def least_cost_packs(need: Fraction, *packs: tuple[Fraction, Fraction]) -> Fraction:
    """Σ count × price."""
    return sum((price * n for n, (_, price) in zip(counts_for(need, packs), packs, strict=True)), Fraction(0))


@rule(
    "count at `place` in the cheapest whole packs that cover the first; ties: least left over, then fewest packs, then "
    "more of the earlier pack"
)
def least_cost_count(need: Fraction, place: Fraction, *packs: tuple[Fraction, Fraction]) -> Fraction:
    """How many of the pack at a place."""
    return Fraction(counts_for(need, packs)[int(place)])


@rule("what the cheapest whole packs that cover the first hold over it")
def left_over(need: Fraction, *packs: tuple[Fraction, Fraction]) -> Fraction:
    """Σ count × size − need; 0 where nothing is needed."""
    held = sum((size * n for n, (size, _) in zip(counts_for(need, packs), packs, strict=True)), Fraction(0))
    return held - need if need > 0 else Fraction(0)


def _require_packs(packs: Sequence[Pack]) -> None:
    if not packs:
        raise ValueError("there is no pack to buy")
    if any(pack.size <= 0 or pack.price < 0 for pack in packs):
        raise ValueError("a pack has a size above 0 and a price of at least 0")


def _common_divisor(values: Sequence[Fraction]) -> Fraction:
    """The largest fraction of which every value is a whole multiple; 1 where all values are 0."""
    bottom = lcm(*(value.denominator for value in values))
    return Fraction(gcd(*(value.numerator * (bottom // value.denominator) for value in values)) or bottom, bottom)


def _ordered_kinds(packs: Offers, divisor: Fraction) -> list[Kind]:
    """Kinds by unit price, then the larger; a repeated size and price stands once, as the pack offered first."""
    money = _common_divisor([price for _, price in packs])
    kinds: dict[tuple[int, int], Kind] = {}
    for place, (pack_size, pack_price) in enumerate(packs):
        size, price = int(pack_size / divisor), int(pack_price / money)
        kinds.setdefault((size, price), Kind(size, price, place))
    return sorted(kinds.values(), key=lambda kind: (Fraction(kind.price, kind.size), -kind.size))
