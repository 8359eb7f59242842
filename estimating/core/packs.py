"""The least-cost mix of whole packs that covers a need: material packs, and rental periods whose sizes are days.

    need and packs > whole numbers (sizes and prices over their greatest common divisors) > branch and bound > mix

Branches take types by unit price, the larger first, and counts from high to low. Whatever is still needed costs at
least the lowest unit price of the types left; once that can't beat the best mix found, fewer packs of the present
type can't either.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cmp_to_key
from math import gcd, lcm

_Key = tuple[int, int, int, tuple[int, ...]]


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


@dataclass(frozen=True, slots=True)
class _Type:
    """A kind of pack in whole numbers; most: more of it than this is never best (see _limit_counts)."""

    place: int
    size: int
    price: int
    most: int


def lowest_unit_price(packs: Sequence[Pack]) -> Fraction:
    """The lowest price per unit of size among the packs, exact. ValueError without packs or for a bad size or price."""
    _require_packs(packs)
    return min(pack.price / pack.size for pack in packs)


def least_cost_mix(need: Fraction, packs: Sequence[Pack]) -> Mix:
    """The cheapest whole packs that cover the need; ties: least left over, then fewest packs, then the earlier pack.

    Exact, in the units of the packs. A need of 0 or less takes nothing. ValueError without packs, for a size that is
    not above 0 and for a price below 0.
    """
    _require_packs(packs)
    if need <= 0:
        return Mix((), Fraction(0), Fraction(0))
    divisor = _common_divisor([pack.size for pack in packs])
    units = -(-need // divisor)
    counts = _Search(_limit_counts(_ordered_types(packs, divisor)), len(packs)).best_for(units)
    chosen = tuple((pack, count) for pack, count in zip(packs, counts, strict=True) if count)
    cost = sum((pack.price * count for pack, count in chosen), Fraction(0))
    covered = sum((pack.size * count for pack, count in chosen), Fraction(0))
    return Mix(chosen, cost, covered - need)


def _require_packs(packs: Sequence[Pack]) -> None:
    if not packs:
        raise ValueError("there is no pack to buy")
    if any(pack.size <= 0 or pack.price < 0 for pack in packs):
        raise ValueError("a pack has a size above 0 and a price of at least 0")


def _common_divisor(values: Sequence[Fraction]) -> Fraction:
    """The largest fraction of which every value is a whole multiple; 1 where all values are 0."""
    bottom = lcm(*(value.denominator for value in values))
    return Fraction(gcd(*(value.numerator * (bottom // value.denominator) for value in values)) or bottom, bottom)


def _ordered_types(packs: Sequence[Pack], divisor: Fraction) -> list[_Type]:
    """Types by unit price, then the larger, then the earlier; a repeated size and price stands once, the first."""
    money = _common_divisor([pack.price for pack in packs])
    types: dict[tuple[int, int], _Type] = {}
    for place, pack in enumerate(packs):
        size, price = int(pack.size / divisor), int(pack.price / money)
        types.setdefault((size, price), _Type(place, size, price, 0))
    return sorted(types.values(), key=cmp_to_key(_compare_types))


def _compare_types(one: _Type, other: _Type) -> int:
    return one.price * other.size - other.price * one.size or other.size - one.size


def _limit_counts(types: list[_Type]) -> list[_Type]:
    """Each type with the most of it that can be best; −1 is without limit.

    s/g packs of a later type, with s the size of an earlier type and g the gcd of both sizes, hold exactly what some
    whole number of the earlier hold. Swapping costs no more, and where it costs the same the earlier type is the
    larger, so it takes fewer packs.
    """
    limited: list[_Type] = []
    for kind in types:
        limits = [before.size // gcd(before.size, kind.size) - 1 for before in limited]
        limited.append(_Type(kind.place, kind.size, kind.price, min(limits, default=-1)))
    return limited


class _Search:
    """One branch and bound over ordered types; the best counts so far and their key stand in it."""

    def __init__(self, types: list[_Type], places: int) -> None:
        self.types = types
        self.counts = [0] * places
        self.best: _Key | None = None
        last = len(types)
        self.largest = [max((kind.size for kind in types[at:]), default=0) for at in range(last + 1)]
        self.coverable = [sum(kind.most * kind.size for kind in types[at:]) for at in range(last + 1)]

    def best_for(self, units: int) -> tuple[int, ...]:
        self._branch(0, units, 0, 0)
        if self.best is None:
            raise ArithmeticError("packs without a limit cover every need")
        return tuple(-negative for negative in self.best[3])

    def _branch(self, at: int, rest: int, cost: int, packs: int) -> None:
        """Tries every useful count of type `at`, most first, for the rest still needed after `packs` packs."""
        kind = self.types[at]
        enough = -(-rest // kind.size)
        top = enough if kind.most < 0 else min(enough, kind.most)
        for count in range(top, -1, -1):
            self.counts[kind.place] = count
            missing, spent, taken = rest - count * kind.size, cost + count * kind.price, packs + count
            if missing <= 0:
                self._offer(spent, -missing, taken)
            elif missing > self.coverable[at + 1] or self._beaten(at, missing, spent, taken):
                break
            else:
                self._branch(at + 1, missing, spent, taken)
        self.counts[kind.place] = 0

    def _offer(self, cost: int, left_over: int, packs: int) -> None:
        key = (cost, left_over, packs, tuple(-count for count in self.counts))
        if self.best is None or key < self.best:
            self.best = key

    def _beaten(self, at: int, missing: int, cost: int, packs: int) -> bool:
        """Whether this count of type `at`, and every lower one, costs more than the best or ties and loses."""
        if self.best is None:
            return False
        following = self.types[at + 1]
        least = cost + -(-missing * following.price // following.size)
        if least != self.best[0] or self.types[at].size < self.largest[at + 1]:
            return least > self.best[0]
        return (0, packs + -(-missing // self.largest[at + 1])) > self.best[1:3]
