"""Largest remainder: each share floored, one unit more for the largest remainders, ties to the earlier.

The rules work on a whole column of weights at once (there may be 100,000); a figure of one share takes its place in it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import lcm
from typing import Any, ClassVar

from estimating.core.figures.figure import Input, Step, Subject, figure, known, parameter, told
from estimating.core.figures.printing import MONEY, NUMBER
from estimating.core.figures.rules import missing_units, rule, total
from estimating.core.till import Till
from rates.core.fraction import Fraction

SHARE = "total × weight ÷ all weights"


@rule("total × weight ÷ all weights, in units of the last decimal place, floored")
def floor_share(total: int, weights: Sequence[int]) -> list[int]:
    """Each share, toward −∞, so that a negative total works alike."""
    whole = sum(weights)
    return [total * weight // whole for weight in weights]


@rule("what flooring takes from total × weight ÷ all weights, in units of the last decimal place")
def share_remainder(total: int, weights: Sequence[int]) -> list[int]:
    """Of each share, in parts of all weights."""
    whole = sum(weights)
    return [total * weight % whole for weight in weights]


@rule("how many of the remainders are larger than that at `place`, or equal and earlier")
def rank(remainders: Sequence[int]) -> list[int]:
    """The place of each remainder by falling size."""
    ranks = [0] * len(remainders)
    for place, i in enumerate(sorted(range(len(remainders)), key=remainders.__getitem__, reverse=True)):
        ranks[i] = place
    return ranks


@rule("one unit of the last decimal place if the second < the first")
def extra_unit(missing: int, ranks: Sequence[int]) -> list[int]:
    """Of each share: 1 where fewer come before it than flooring leaves, else 0."""
    return [int(place < missing) for place in ranks]


def whole_weights(weights: Sequence[Fraction | int]) -> list[int]:
    """The weights as whole multiples of one unit. ValueError for a negative one."""
    if set(map(type, weights)) == {int}:
        found = list(map(int, weights))
        if min(found) < 0:
            raise ValueError("a weight is negative")
        return found
    pairs = [(weight.numerator, weight.denominator) for weight in weights]
    common = lcm(*{bottom for _, bottom in pairs})
    found = [top * (common // bottom) for top, bottom in pairs] if common != 1 else [top for top, _ in pairs]
    if found and min(found) < 0:
        raise ValueError("a weight is negative")
    return found


def allocate(total_minor: int, weights: Sequence[Fraction | int]) -> list[int]:
    """Whole shares of a total in proportion to the weights, by largest remainder; they sum to the total exactly.

    All-zero weights count as equal; no weights give no shares, so the caller keeps the total. ValueError for a negative
    weight.
    """
    if not weights:
        return []
    units = whole_weights(weights)
    if not any(units):
        units = [1] * len(units)
    floors = floor_share.function(total_minor, units)
    missing = missing_units.function(total_minor, 0, *floors)
    if not missing:
        return floors  # type: ignore[no-any-return]
    ranks = rank.function(share_remainder.function(total_minor, units))
    extra = extra_unit.function(missing, ranks)
    return [floor + unit for floor, unit in zip(floors, extra, strict=True)]


@dataclass(eq=False, repr=False)
class Shares(Subject):
    """A total over several figures by weight, as derivations tell it.

    names: of the figures that are the shares; total_of, whole_of, weight_of: (label, name) of the figures of the total,
    of all weights, and of one weight by place. Where no weight counts, those that are worked count alike (absent: all).
    """

    at: str
    till: Till
    total_minor: int
    weights: Sequence[Fraction | int]
    names: Sequence[str]
    total_of: tuple[str, str]
    whole_of: tuple[str, str]
    weight_of: Callable[[int], tuple[str, str]]
    worked: Sequence[bool] = ()

    @property
    def path(self) -> str:
        """What the figure that all shares have in common is called by."""
        return self.at

    @cached_property
    def equal(self) -> bool:
        """Whether no weight counts, so that all count alike."""
        return not any(self.weights)

    @cached_property
    def units(self) -> list[int]:
        """The weights as whole multiples of one unit."""
        if self.equal:
            return [int(worked) for worked in self.worked] if any(self.worked) else [1] * len(self.weights)
        return whole_weights(self.weights)

    @cached_property
    def floors(self) -> list[int]:
        """Each share floored, minor units."""
        return list(floor_share.function(self.total_minor, self.units))

    @cached_property
    def left(self) -> list[Fraction]:
        """What flooring takes from each, minor units."""
        whole = sum(self.units)
        return [Fraction(rest, whole) for rest in share_remainder.function(self.total_minor, self.units)]

    @cached_property
    def ranks(self) -> list[int]:
        """The place of each share by falling remainder."""
        return list(rank.function(self.left))

    @cached_property
    def extras(self) -> list[int]:
        """The unit more, of those that have one."""
        return list(extra_unit.function(self.missing, self.ranks))

    @figure(
        "Units that flooring leaves",
        NUMBER,
        label="units left",
        value=lambda s: missing_units.function(s.total_minor, 0, *s.floors),
    )
    def missing(self: Any) -> Step:
        words = "units of the last decimal place in total − Σ floored shares"
        # written out, not asked of each share's own step: there may be 100,000 of them
        named = zip(self.names, self.floors, strict=True)
        major = self.subject.till.major
        floors = [known(Input(name, major(floor), self.in_currency(MONEY), f"{name}.floor")) for name, floor in named]
        return missing_units, words, self.of_figure(*self.total_of), self.till.places_and_way[0], *floors


class Share(Subject):
    """One share of a total; shares: None where the figure is no share; share_step: first words of its steps."""

    share_step: ClassVar[str] = ""
    shares: Shares | None
    share_place: int
    share_title: str

    @property
    def is_share(self) -> bool:
        """Whether it is one."""
        return self.shares is not None

    @told
    def share_inputs(self: Any) -> list[Any]:
        """Total, places of the currency, weight, all weights."""
        shares, place = self.shares, self.subject.share_place
        if self.subject.shares.equal:
            units = self.subject.shares.units
            weights = [parameter("equal weight", units[place]), parameter("equal weights", sum(units))]
        else:
            weights = [self.of_figure(*shares.weight_of(place)), self.of_figure(*shares.whole_of)]
        return [self.of_figure(*shares.total_of), shares.till.places_and_way[0], *weights]

    @figure(
        "{s.share_title}, floored",
        MONEY,
        step=lambda s: f"{s.share_step}floor",
        label="floored",
        when=lambda s: s.is_share,
        value=lambda s: s.shares.till.major(s.shares.floors[s.share_place]),
    )
    def floor(self) -> Step:
        return floor_share, f"{SHARE}, floored", *self.share_inputs

    @figure(
        "{s.share_title}, remainder",
        NUMBER,
        step=lambda s: f"{s.share_step}remainder",
        when=lambda s: s.is_share,
        value=lambda s: s.shares.left[s.share_place],
    )
    def remainder(self) -> Step:
        return share_remainder, f"what flooring takes from {SHARE}", *self.share_inputs

    @figure(
        "Shares that come before",
        NUMBER,
        step=lambda s: f"{s.share_step}rank",
        label="come before",
        when=lambda s: s.is_share,
        value=lambda s: Fraction(s.shares.ranks[s.share_place]),
    )
    def rank(self: Any) -> Step:
        words = "shares with a larger remainder, or an equal one and an earlier place"
        named = zip(self.shares.names, self.shares.left, strict=True)
        others = [known(Input(name, left, NUMBER, f"{name}.remainder")) for name, left in named]
        return rank, words, parameter("place", self.subject.share_place), *others

    @figure(
        "{s.share_title}, unit by remainder",
        MONEY,
        step=lambda s: f"{s.share_step}extra",
        label="unit by remainder",
        when=lambda s: s.is_share,
        value=lambda s: s.shares.till.major(s.shares.extras[s.share_place]),
    )
    def extra(self: Any) -> Step:
        words = "one unit where fewer come before than flooring leaves, else 0"
        return extra_unit, words, self.shares.missing, self.rank, self.shares.till.places_and_way[0]

    def shared(self) -> Step:
        """The share itself."""
        return total, f"{SHARE}, floored, + one unit where its remainder is among the largest", self.floor, self.extra
