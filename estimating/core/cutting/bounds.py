"""How few rolls there can be, proven in whole numbers.

A bound gives each length a weight such that no roll holds pieces of more than `most` together: Σ count × weight ÷ most,
rounded up, is then a lower bound (a dual-feasible function). Three kinds of weights: the length itself; pieces longer
than roll − t count as whole rolls and those shorter than t as nothing (Martello and Toth 1990); lengths rounded down to
k-ths of a roll (Fekete and Schepers 2001).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import gcd, lcm

MOST_PARTS = 30


@dataclass(frozen=True)
class Bound:
    """A least number of rolls: the weight of each length by its place, the most that one roll holds, and why."""

    rolls: int
    weights: tuple[int, ...]
    most: int
    why: str


def weighed(weights: Sequence[int], most: int, demand: Sequence[int], why: str) -> Bound:
    """The bound of weights of which a roll holds at most `most`."""
    whole = sum(weight * count for weight, count in zip(weights, demand, strict=True))
    return Bound(-(-whole // most), tuple(weights), most, why)


def long_pieces(room: int, lengths: Sequence[int], demand: Sequence[int]) -> Iterator[Bound]:
    """For each t up to half a roll: over roll − t a whole roll, under t nothing."""
    for t in sorted({length for length in lengths if 2 * length <= room}):
        weights = [room if length > room - t else 0 if length < t else length for length in lengths]
        yield weighed(weights, room, demand, "long pieces that cannot share a roll")


def parts_of_roll(room: int, lengths: Sequence[int], demand: Sequence[int]) -> Iterator[Bound]:
    """For each k: ⌊(k + 1) × length ÷ roll⌋ ÷ k, a whole multiple of roll ÷ (k + 1) as it is."""
    for k in range(1, MOST_PARTS + 1):
        most = lcm(k, room)
        weights = []
        for length in lengths:
            parts, rest = divmod((k + 1) * length, room)
            weights.append(parts * (most // k) if rest else length * (most // room))
        yield weighed(weights, most, demand, "pieces of which few fit on a roll")


def lower_bound(room: int, lengths: Sequence[int], demand: Sequence[int]) -> Bound:
    """The best of all; ties to the simplest. No pieces need no roll."""
    bounds = [weighed(lengths, room, demand, "length of all pieces")]
    bounds += long_pieces(room, lengths, demand)
    bounds += parts_of_roll(room, lengths, demand)
    return max(bounds, key=lambda bound: bound.rolls)


def heaviest_roll(room: int, lengths: Sequence[int], demand: Sequence[int], weights: Sequence[int]) -> int:
    """The most weight that a roll holds of the pieces asked for: exact, by every length up to the roll."""
    step = gcd(room, *lengths) if lengths else 1
    best = [0] * (room // step + 1)
    for length, count, weight in zip(lengths, demand, weights, strict=True):
        rest, together = min(count, room // length), 1
        while rest and weight:
            taken = min(rest, together)
            rest, together = rest - taken, together * 2
            long, heavy = taken * length // step, taken * weight
            for at in range(len(best) - 1, long - 1, -1):
                best[at] = max(best[at], best[at - long] + heavy)
    return best[-1]


def bound_of_weights(room: int, lengths: Sequence[int], demand: Sequence[int], weights: Sequence[int]) -> Bound:
    """What any weights at all prove: a solver's, of which nothing is believed; ValueError for a weight below 0."""
    if any(weight < 0 for weight in weights):
        raise ValueError("a weight is at least 0")
    most = heaviest_roll(room, lengths, demand, weights)
    return weighed(weights, max(most, 1), demand, "weights of the exact model, checked in whole numbers")
