"""The least-cost mix of whole packs that covers a need: material packs, and rental periods whose sizes are days.

    need and packs > whole numbers (sizes over their greatest common divisor) > shortest paths > mix

The base pack has the lowest unit price p/s (price over size), the larger if several. Beside r units in other packs, just
enough base packs follow; covering the need with `left` to spare then costs, times s, p·(need + left) + e, where each
other pack adds its excess p_j·s − p·s_j ≥ 0 to e. So the mix is a shortest path over r by excess, then packs, then
place. Where `left` depends only on r mod s (a need large enough for every path that matters), r is taken mod s, which
keeps the paths few however large the need is; a path that turns out to overshoot the need is searched again by r itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from heapq import heappop, heappush
from math import gcd, lcm
from operator import add

MOST_STEPS = 200_000


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
    not above 0, for a price below 0, and where near-equal unit prices would take more than MOST_STEPS to compare.
    """
    _require_packs(packs)
    if need <= 0:
        return Mix((), Fraction(0), Fraction(0))
    divisor = _common_divisor([pack.size for pack in packs])
    units = -(-need // divisor)
    base, others = _whole_kinds(packs, divisor)
    counts = _cheapest_counts(units, base, others, wrapped=True)
    if counts[base.place] < 0:
        counts = _cheapest_counts(units, base, others, wrapped=False)
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


@dataclass(frozen=True, slots=True)
class _Kind:
    """A pack in whole numbers; excess, packs and counts are what one of it adds to a path beside base packs, times s.

    counts are negative, by place: the smaller tuple holds more of the earlier pack.
    """

    place: int
    size: int
    price: int
    excess: int
    packs: int
    counts: tuple[int, ...]


def _whole_kinds(packs: Sequence[Pack], divisor: Fraction) -> tuple[_Kind, list[_Kind]]:
    """The base pack and the others; of packs equal in size and price only the first offered stands."""
    money = _common_divisor([pack.price for pack in packs])
    first: dict[tuple[int, int], int] = {}
    for place, pack in enumerate(packs):
        first.setdefault((int(pack.size / divisor), int(pack.price / money)), place)
    s, p = min(first, key=lambda kind: (Fraction(kind[1], kind[0]), -kind[0]))
    base_place = first.pop((s, p))
    others = []
    for (size, price), place in first.items():
        counts = [0] * len(packs)
        counts[place], counts[base_place] = -s, size
        others.append(_Kind(place, size, price, price * s - p * size, s - size, tuple(counts)))
    return _Kind(base_place, s, p, 0, 0, (0,) * len(packs)), others


def _cheapest_counts(need: int, base: _Kind, others: Sequence[_Kind], *, wrapped: bool) -> list[int]:
    """The best counts by place; wrapped: r counts mod s, and a base count below 0 says that the path overshot."""
    s, floor = base.size, base.price * need
    best: tuple[int, int, int, tuple[int, ...]] | None = None
    seen: set[int] = set()
    paths = [(0, 0, base.counts, 0)]
    while paths:
        excess, packs, counts, r = heappop(paths)
        if best is not None and (floor + excess, 0, need + packs) > best[:3]:
            break
        state = r % s if wrapped else r
        if state in seen:
            continue
        seen.add(state)
        if len(seen) > MOST_STEPS:
            raise ValueError("the unit prices of the packs are too close to compare every mix")
        left = (r - need) % s if wrapped or r < need else r - need
        total = list(counts)
        total[base.place] -= need + left
        key = (floor + base.price * left + excess, left, need + left + packs, tuple(total))
        best = key if best is None else min(best, key)
        if wrapped or r < need:
            for kind in others:
                if floor + excess + kind.excess <= best[0]:
                    longer = tuple(map(add, counts, kind.counts))
                    heappush(paths, (excess + kind.excess, packs + kind.packs, longer, r + kind.size))
    if best is None:
        raise ArithmeticError("base packs alone cover every need")
    return [-count // s for count in best[3]]
