"""Largest remainder step by step: each share floored, one unit more for the largest remainders, ties to the earlier.

The steps that list every share (rank, units missing) stand apart, so that one share of 100,000 is told without them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from math import lcm

from estimating.core.derivations.nodes import Book, Input, Node, parameter
from estimating.core.derivations.printing import NUMBER, Unit
from estimating.core.derivations.scope import Scope
from rates.core.fraction import Fraction

Ref = Callable[[], Input]


@dataclass(frozen=True)
class Shares:
    """A total over several figures by weight.

    figures: the names of the shares; total, whole: the figures of the total and of all weights; missing: the name of
    the figure of units that flooring leaves; weight: the input of one share's weight. Where no weight counts, those
    that are worked count alike (absent: all).
    """

    scope: Scope
    total_minor: int
    weights: Sequence[Fraction | int]
    figures: Sequence[str]
    total: Ref
    whole: Ref
    missing: str
    weight: Callable[[int], Input]
    worked: Sequence[bool] = ()

    @cached_property
    def equal(self) -> bool:
        """Whether no weight counts, so that all count alike."""
        return not any(self.weights)

    @cached_property
    def units(self) -> list[int]:
        """The weights as whole multiples of one unit."""
        if self.equal:
            return [int(worked) for worked in self.worked] if any(self.worked) else [1] * len(self.weights)
        pairs = [(weight.numerator, weight.denominator) for weight in self.weights]
        common = lcm(*{bottom for _, bottom in pairs})
        return [top * (common // bottom) for top, bottom in pairs]

    @cached_property
    def all_units(self) -> int:
        """Σ of them."""
        return sum(self.units)

    @cached_property
    def floors(self) -> list[int]:
        """Each share floored, minor units."""
        return [self.total_minor * unit // self.all_units for unit in self.units]

    @cached_property
    def ranks(self) -> list[int]:
        """The place of each share by falling remainder, ties to the earlier."""
        left = [self.total_minor * unit % self.all_units for unit in self.units]
        ranks = [0] * len(left)
        for rank, i in enumerate(sorted(range(len(left)), key=left.__getitem__, reverse=True)):
            ranks[i] = rank
        return ranks

    @property
    def missing_units(self) -> int:
        """Units that flooring leaves of the total."""
        return self.total_minor - sum(self.floors)

    def remainder(self, i: int) -> Fraction:
        """What flooring takes from a share, minor units."""
        return Fraction(self.total_minor * self.units[i] % self.all_units, self.all_units)

    def told(self) -> Book:
        """The units that flooring leaves, which all shares have in common."""
        return {self.missing: partial(missing_node, self)}

    def share_inputs(self, i: int) -> list[Input]:
        """Total, places of the currency, weight, all weights."""
        weights = [self.weight(i), self.whole()]
        if self.equal:
            weights = [parameter("equal weight", self.units[i]), parameter("equal weights", self.all_units)]
        return [self.total(), *self.scope.rounding()[:1], *weights]


def missing_node(shares: Shares) -> Node:
    """How many units flooring leaves."""
    scope = shares.scope

    def inputs() -> list[Input]:
        # written out, not asked of each share's own step: there may be 100,000 of them
        named = zip(shares.figures, shares.floors, strict=True)
        floors = [Input(figure, scope.major(floor), scope.money, f"{figure}.floor") for figure, floor in named]
        return [shares.total(), *scope.rounding()[:1], *floors]

    words = "units of the last decimal place in total − Σ floored shares"
    return Node("Units that flooring leaves", words, "missing_units", shares.missing_units, NUMBER, inputs)


def rank_node(shares: Shares, i: int) -> Node:
    """How many shares have a larger remainder, or an equal one and stand earlier."""

    def inputs() -> list[Input]:
        named = enumerate(shares.figures)
        found = [Input(figure, shares.remainder(k), NUMBER, f"{figure}.remainder") for k, figure in named]
        return [parameter("place", i), *found]

    words = "shares with a larger remainder, or an equal one and an earlier place"
    return Node("Shares that come before", words, "rank", shares.ranks[i], NUMBER, inputs)


def share_book(shares: Shares, i: int, title: str, minor: int) -> Book:
    """One share, as the stage gave it in minor units, and its steps."""
    scope, name, money = shares.scope, shares.figures[i], shares.scope.money
    inputs = partial(shares.share_inputs, i)

    def parts() -> list[Input]:
        return [scope.job_ref("floored", f"{name}.floor"), scope.job_ref("unit by remainder", f"{name}.extra")]

    def ranked() -> list[Input]:
        missing, before = scope.job_ref("units left", shares.missing), scope.job_ref("come before", f"{name}.rank")
        return [missing, before, *scope.rounding()[:1]]

    def node(words: str, rule: str, value: Fraction, unit: Unit, make: Callable[[], list[Input]], more: str) -> Node:
        return Node(title + more, words, rule, value, unit, make)

    share, whole = "total × weight ÷ all weights", scope.major(minor)
    floor = scope.major(shares.floors[i])
    words = f"{share}, floored, + one unit where its remainder is among the largest"
    one = "one unit where fewer come before than flooring leaves, else 0"
    taken = f"what flooring takes from {share}"
    remainder = shares.remainder(i)
    return {
        name: partial(node, words, "sum", whole, money, parts, ""),
        f"{name}.floor": partial(node, f"{share}, floored", "floor_share", floor, money, inputs, ", floored"),
        f"{name}.remainder": partial(node, taken, "share_remainder", remainder, NUMBER, inputs, ", remainder"),
        f"{name}.extra": partial(node, one, "extra_unit", whole - floor, money, ranked, ", unit by remainder"),
        f"{name}.rank": partial(rank_node, shares, i),
    }
