"""Rules of whole packs and of the price that contains its bond, each anew by trying what is possible."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from tests.core.derivation_inputs import Inputs, named, terms


def cheapest(need: Fraction, packs: Sequence[Sequence[Fraction]]) -> list[int]:
    """Counts of whole packs that cover the need at least cost, by trying every count of all packs but the smallest.

    Ties: least left over, then fewest packs, then more of the earlier pack.
    """
    if need <= 0:
        return [0] * len(packs)
    common = lcm(need.denominator, *(size.denominator for size, _ in packs))
    cents = lcm(*(price.denominator for _, price in packs))
    sizes = [int(size * common) for size, _ in packs]
    prices = [int(price * cents) for _, price in packs]
    wanted, smallest = int(need * common), min(range(len(packs)), key=lambda i: sizes[i])
    free = [i for i in range(len(packs)) if i != smallest]
    best: tuple[int, int, int, list[int]] | None = None
    for counts in itertools.product(*(range(-(-wanted // sizes[i]) + 1) for i in free)):
        held = sum(sizes[i] * n for i, n in zip(free, counts, strict=True))
        last = max(0, -(-(wanted - held) // sizes[smallest]))
        every = [0] * len(packs)
        for i, n in zip(free, counts, strict=True):
            every[i] = n
        every[smallest] = last
        cost = sum(price * n for price, n in zip(prices, every, strict=True))
        left = held + last * sizes[smallest] - wanted
        key = (cost, left, sum(every), [-n for n in every])
        best = key if best is None else min(best, key)
    assert best is not None
    return [-n for n in best[3]]


def mix(inputs: Inputs) -> tuple[Fraction, list[int], list[list[Fraction]]]:
    """(need, counts, packs)."""
    need, packs = inputs[0].number, terms(inputs)
    return need, cheapest(need, packs), packs


def packs_cost(inputs: Inputs) -> Fraction:
    """Cost of the cheapest packs."""
    _, counts, packs = mix(inputs)
    return sum((price * n for n, (_, price) in zip(counts, packs, strict=True)), Fraction(0))


def packs_count(inputs: Inputs) -> Fraction:
    """How many of the pack at a place."""
    return Fraction(mix(inputs)[1][int(named(inputs, "place").number)])


def packs_left(inputs: Inputs) -> Fraction:
    """What the cheapest packs hold over the need."""
    need, counts, packs = mix(inputs)
    held = sum((size * n for n, (size, _) in zip(counts, packs, strict=True)), Fraction(0))
    return held - need if need > 0 else Fraction(0)


def premium(price: Fraction, tiers: Sequence[Sequence[Fraction]]) -> Fraction:
    """Each tier's percentage of its own part of the price; the last tier has no end."""
    total = start = Fraction(0)
    for tier in tiers:
        end = min(price, tier[0]) if len(tier) == 2 else price
        total += max(Fraction(0), end - start) * tier[-1] / 100
        start = max(start, end)
    return total


def contained_price(inputs: Inputs) -> Fraction:
    """X with X = base + premium of X + tax of X, by trying the line of every tier and keeping the one that fits."""
    base, tax, tiers = inputs[0].number, inputs[1].number / 100, terms(inputs)
    found = set()
    start = paid = Fraction(0)
    for tier in tiers or [[Fraction(0)]]:
        rate = tier[-1] / 100
        price = (base + paid - rate * start) / (1 - rate - tax)
        if price - premium(price, tiers) - tax * price == base:
            found.add(price)
        if len(tier) == 2:
            paid += rate * (tier[0] - start)
            start = tier[0]
    (only,) = found
    return only
