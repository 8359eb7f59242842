"""How much of the change of a price each cause brought, exactly, for any function of the set of causes applied.

value(S) is the price in minor units with the causes in S taken from the later state and the others from the earlier.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations
from math import factorial

from rates.core.fraction import Fraction

SetValue = Callable[[frozenset[str]], int]
MOST_CAUSES = 12


def _require_distinct(causes: Sequence[str]) -> None:
    if len(set(causes)) != len(causes):
        raise ValueError("a cause is named twice")


def in_order(order: Sequence[str], value: SetValue) -> dict[str, Fraction]:
    """The step of the price as each cause is added in the stated order; minor units, exact; they sum to the change.

    ValueError where a cause is named twice.
    """
    _require_distinct(order)
    applied: frozenset[str] = frozenset()
    steps: dict[str, Fraction] = {}
    before = value(applied)
    for cause in order:
        applied |= {cause}
        after = value(applied)
        steps[cause] = Fraction(after - before)
        before = after
    return steps


def even_handed(causes: Sequence[str], value: SetValue) -> dict[str, Fraction]:
    """The average step of each cause over all orders (Shapley 1953); minor units, exact; they sum to the change.

    A cause that never moves the price gets exactly 0. Name only the causes that changed: each of the 2^n mixed states
    is valued once. ValueError where a cause is named twice and beyond MOST_CAUSES.
    """
    _require_distinct(causes)
    count = len(causes)
    if count > MOST_CAUSES:
        raise ValueError(f"at most {MOST_CAUSES} causes share evenly")
    prices = {
        frozenset(subset): value(frozenset(subset))
        for size in range(count + 1)
        for subset in combinations(causes, size)
    }
    weights = [factorial(size) * factorial(count - size - 1) for size in range(count)]
    shares: dict[str, Fraction] = {}
    for cause in causes:
        total = sum(
            weights[len(subset)] * (prices[subset | {cause}] - price)
            for subset, price in prices.items()
            if cause not in subset
        )
        shares[cause] = Fraction(total, factorial(count))
    return shares
