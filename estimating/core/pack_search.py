"""Two exact searches for the cheapest whole packs, in whole numbers; packs.py tries the first, then the second.

Branch and bound is quick wherever unit prices differ or sizes share a measure: it takes kinds by unit price, the
larger first, and counts from high to low. Whatever is still missing costs at least the lowest unit price of the kinds
left, and is bought in multiples of the greatest common divisor of their sizes.

Shortest paths are quick where unit prices nearly agree and the need is large. The base kind has the lowest unit price
p/s. Beside r units in other kinds just enough base packs follow, with `left` to spare: s times the cost is then
p·(need + left) + e, where each other pack adds its excess p_j·s − p·s_j ≥ 0 to e. `left` depends on r mod s alone, so
the best mix is a shortest path over r mod s; only one that overshoots the need is searched again over r itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush
from math import gcd
from operator import add
from typing import NamedTuple

MOST_TRIES = 20_000
MOST_STATES = 100_000

_Key = tuple[int, int, int, tuple[int, ...]]


class Kind(NamedTuple):
    """A pack in whole numbers; place is where it was offered, for ties."""

    size: int
    price: int
    place: int


class TooClose(ValueError):
    """The search was given up: too many mixes lie too close to the best."""


class BranchAndBound:
    """One search over kinds in order of unit price; the best counts so far and their key stand in it."""

    def __init__(self, kinds: Sequence[Kind]) -> None:
        self.kinds = kinds
        self.most = [_most_useful(kinds, at) for at in range(len(kinds))]
        self.by_place = sorted(range(len(kinds)), key=lambda at: kinds[at].place)
        self.counts = [0] * len(kinds)
        self.best: _Key | None = None
        self.tries = 0
        tails = [range(at, len(kinds)) for at in range(len(kinds) + 1)]
        self.largest = [max((kinds[i].size for i in tail), default=0) for tail in tails]
        self.measure = [gcd(*(kinds[i].size for i in tail)) for tail in tails]
        self.coverable = [sum((self.most[i] or 0) * kinds[i].size for i in tail) for tail in tails]

    def counts_for(self, need: int) -> list[int]:
        """The best count of each kind, in their order. TooClose beyond MOST_TRIES."""
        self._branch(0, need, 0, 0)
        if self.best is None:
            raise ArithmeticError("packs without a limit cover every need")
        counts = [0] * len(self.kinds)
        for at, negative in zip(self.by_place, self.best[3], strict=True):
            counts[at] = -negative
        return counts

    def _branch(self, at: int, rest: int, cost: int, packs: int) -> None:
        """Tries every useful count of kind `at`, most first, for the rest still needed after `packs` packs."""
        kind, most = self.kinds[at], self.most[at]
        enough = -(-rest // kind.size)
        for count in range(enough if most is None else min(enough, most), -1, -1):
            self.tries += 1
            if self.tries > MOST_TRIES:
                raise TooClose("too many mixes of packs cost nearly the same")
            missing, spent, taken = rest - count * kind.size, cost + count * kind.price, packs + count
            self.counts[at] = count
            if missing <= 0:
                self._offer(spent, -missing, taken)
            elif missing > self.coverable[at + 1] or self._only_worsens(at, missing, spent, taken):
                break
            elif self._may_win(at + 1, missing, spent, taken):
                self._branch(at + 1, missing, spent, taken)
        self.counts[at] = 0

    def _offer(self, cost: int, left_over: int, packs: int) -> None:
        key = (cost, left_over, packs, tuple(-self.counts[at] for at in self.by_place))
        if self.best is None or key < self.best:
            self.best = key

    def _may_win(self, at: int, missing: int, cost: int, packs: int) -> bool:
        """Whether the kinds from `at` on might cover what is missing as well as the best mix does."""
        least = -(-missing // self.measure[at]) * self.measure[at]
        kind = self.kinds[at]
        bound = (cost + -(-least * kind.price // kind.size), least - missing, packs + -(-least // self.largest[at]))
        return self.best is None or bound <= self.best[:3]

    def _only_worsens(self, at: int, missing: int, cost: int, packs: int) -> bool:
        """Whether this count of kind `at`, and every lower one, costs more than the best or ties and loses.

        Unrounded by the measure, because only so does the bound never fall from one count to the next lower.
        """
        if self.best is None:
            return False
        following, largest = self.kinds[at + 1], self.largest[at + 1]
        least = cost + -(-missing * following.price // following.size)
        if least != self.best[0] or self.kinds[at].size < largest:
            return least > self.best[0]
        return (0, packs + -(-missing // largest)) > self.best[1:3]


def _most_useful(kinds: Sequence[Kind], at: int) -> int | None:
    """More of this kind than that is never best; None for the first, which alone can cover any need.

    s/g of it, with s the size of an earlier kind and g the gcd of both sizes, hold exactly what some whole number of
    the earlier kind hold. Swapping costs no more; where it costs the same, the earlier kind is larger and takes fewer.
    """
    size = kinds[at].size
    return min((before.size // gcd(before.size, size) - 1 for before in kinds[:at]), default=None)


class _Step(NamedTuple):
    """A kind other than the base: its size, and what one adds to a path, times s.

    That is excess, packs, then minus the count by place, so that the smaller of two paths is the better one.
    """

    size: int
    weight: tuple[int, ...]


def _steps(kinds: Sequence[Kind], places: dict[int, int]) -> list[_Step]:
    base, steps = kinds[0], []
    for kind in kinds[1:]:
        counts = [0] * len(kinds)
        counts[places[kind.place]], counts[places[base.place]] = -base.size, kind.size
        steps.append(
            _Step(kind.size, (kind.price * base.size - base.price * kind.size, base.size - kind.size, *counts))
        )
    return steps


def shortest_path(kinds: Sequence[Kind], need: int) -> list[int]:
    """The best count of each kind, in their order of unit price. TooClose beyond MOST_STATES."""
    counts = _path(kinds, need, wrapped=True)
    return _path(kinds, need, wrapped=False) if counts[0] < 0 else counts


def _path(kinds: Sequence[Kind], need: int, *, wrapped: bool) -> list[int]:
    """The best counts; wrapped: states are r mod s, and a base count below 0 says that the path overshot."""
    base = kinds[0]
    places = {place: rank for rank, place in enumerate(sorted(kind.place for kind in kinds))}
    steps, at_base = _steps(kinds, places), places[base.place]
    floor = base.price * need
    best: _Key | None = None
    seen: set[int] = set()
    paths = [((0,) * (len(kinds) + 2), 0)]
    while paths:
        weight, r = heappop(paths)
        if best is not None and (floor + weight[0], 0, need + weight[1]) > best[:3]:
            break
        state = r % base.size if wrapped else r
        if state in seen:
            continue
        seen.add(state)
        if len(seen) > MOST_STATES:
            raise TooClose("too many mixes of packs cost nearly the same")
        left = (r - need) % base.size if wrapped or r < need else r - need
        counts = list(weight[2:])
        counts[at_base] -= need + left
        key = (floor + base.price * left + weight[0], left, need + left + weight[1], tuple(counts))
        best = key if best is None else min(best, key)
        for step in steps if wrapped or r < need else ():
            if floor + weight[0] + step.weight[0] <= best[0]:
                heappush(paths, (tuple(map(add, weight, step.weight)), r + step.size))
    if best is None:
        raise ArithmeticError("base packs alone cover every need")
    return [-best[3][places[kind.place]] // base.size for kind in kinds]
