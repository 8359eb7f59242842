"""The price of marks and lines: exact weights, then one largest remainder, so that the parts sum to the price.

own_use: direct cost goes to marks by own use (materials with their freight and tax by net use of each row, equipment
by touch minutes from its access, the rest by touch minutes) and everything above in proportion to direct cost.
touch_minutes: all of it by touch minutes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import repeat
from math import lcm
from typing import NamedTuple

from estimating.core.part import Part
from estimating.core.pools import Pools
from estimating.core.remainders import allocate
from estimating.core.request import Request
from estimating.core.schedule_lines import Line
from rates.core.fraction import Fraction

JOINTS = "joints"


@dataclass(frozen=True)
class Scale:
    """What one whole unit of weight and of touch minutes is: exact arithmetic on whole numbers over 100,000 lines."""

    weight: Fraction
    touch_minutes: Fraction


class Mark(NamedTuple):
    """A mark's quantity, whole units of weight and touch minutes, price in minor units, and its lines.

    `mark` None: a price with nothing to put it on.
    """

    mark: str | None
    quantity: int
    touch_units: int
    weight_units: int
    price_minor: int
    lines: tuple[int, ...]
    scale: Scale

    @property
    def touch_minutes(self) -> Fraction:
        """Touch minutes of all of the mark."""
        return self.touch_units * self.scale.touch_minutes

    @property
    def weight(self) -> Fraction:
        """The exact weight by which the price was shared out."""
        return self.weight_units * self.scale.weight


@dataclass(frozen=True)
class Allocation:
    """Prices of marks in order of first appearance, and of lines by index (0 for lines that are not priced)."""

    marks: tuple[Mark, ...]
    line_prices: Sequence[int]


def weigh(pools: Sequence[Pools]) -> tuple[list[dict[int, Fraction]], list[Fraction]]:
    """(weight of one opening by kind index for each part, weight of the joints for each part)."""
    of_kinds, of_joints = [], []
    for pool in pools:
        of_joints.append(pool.weights[len(pool.works) - 1] if pool.part.joints is not None else Fraction(0))
        of_kinds.append(dict(pool.of_kinds))
    return of_kinds, of_joints


Values = list[dict[int, Fraction]]


def whole_units(of_kinds: Values, of_joints: list[Fraction]) -> tuple[list[dict[int, int]], list[int], Fraction]:
    """The same values as whole multiples of one unit, and that unit."""
    values = [v for part in of_kinds for v in part.values()] + of_joints
    common = lcm(*{v.denominator for v in values})

    def whole(value: Fraction) -> int:
        return value.numerator * (common // value.denominator)

    kinds = [{k: whole(v) for k, v in part.items()} for part in of_kinds]
    return kinds, [whole(v) for v in of_joints], Fraction(1, common)


@dataclass(frozen=True)
class Tally:
    """Sums of each mark over its priced lines, in order of first appearance: one list for each column."""

    names: list[str]
    quantities: list[int]
    weights: list[int]
    touches: list[int]
    lines: list[tuple[int, ...]]


def summed(values: Sequence[int], groups: Sequence[Sequence[int]]) -> list[int]:
    """The sum of the values at the places of each group; most groups have one place."""
    return [values[g[0]] if len(g) == 1 else sum([values[i] for i in g]) for g in groups]


def count_lines(
    parts: Sequence[Part], request: Request, weights: list[dict[int, int]], touches: list[dict[int, int]]
) -> tuple[Tally, list[int]]:
    """(marks, weight of each line by index)."""
    lines = request.schedule.lines
    counted = [i for i in request.schedule.priced if lines[i].kind is not None]
    of_lines, minutes, quantities = [0] * len(lines), [0] * len(lines), [line.quantity for line in lines]
    for p, of_part in enumerate(split_lines(parts, counted)):
        weight, touch = weights[p].get, touches[p].get
        for i in of_part:
            _, _, quantity, _, _, kind = lines[i][:6]
            if kind is not None:
                of_lines[i] = weight(kind, 0) * quantity
                minutes[i] = touch(kind, 0) * quantity
    groups = group_lines(lines, counted)
    return Tally(
        names=[lines[g[0]].mark for g in groups],
        quantities=summed(quantities, groups),
        weights=summed(of_lines, groups),
        touches=summed(minutes, groups),
        lines=groups,
    ), of_lines


def split_lines(parts: Sequence[Part], counted: Sequence[int]) -> list[Sequence[int]]:
    """The counted lines of each part."""
    if len(parts) == 1:
        return [counted]
    there = set(counted)
    return [[i for i in part.plan.lines if i in there] for part in parts]


def group_lines(lines: Sequence[Line], counted: Sequence[int]) -> list[tuple[int, ...]]:
    """The counted lines of each mark, in order of first appearance."""
    if len({lines[i].mark_key for i in counted}) == len(counted):
        return list(zip(counted, strict=True))
    of_marks: dict[str, list[int]] = {}
    for i in counted:
        of_marks.setdefault(lines[i].mark_key, []).append(i)
    return list(map(tuple, of_marks.values()))


def add_joints(tally: Tally, parts: Sequence[Part], weights: list[int], touches: list[int]) -> None:
    """The sheathing joints as a mark of their own, last."""
    if any(part.joints is not None for part in parts):
        tally.names.append(JOINTS)
        tally.quantities.append(1)
        tally.weights.append(sum(weights))
        tally.touches.append(sum(touches))
        tally.lines.append(())


def or_worked(weights: list[int], quantities: Sequence[int]) -> list[int]:
    """The weights; where all are 0, equal ones for what is worked, so that quantity 0 never costs."""
    return weights if any(weights) else [int(quantity > 0) for quantity in quantities]


def price_lines(tally: Tally, prices: Sequence[int], of_lines: list[int], lines: Sequence[Line]) -> list[int]:
    """Each mark's price over its lines by largest remainder; lines that are not priced stay 0."""
    found = [0] * len(of_lines)
    for indexes, price in zip(tally.lines, prices, strict=True):
        if len(indexes) == 1:
            found[indexes[0]] = price
        elif indexes:
            weights = or_worked([of_lines[i] for i in indexes], [lines[i].quantity for i in indexes])
            for i, amount in zip(indexes, allocate(price, weights), strict=True):
                found[i] = amount
    return found


def allocate_price(pools: Sequence[Pools], price_minor: int, request: Request) -> Allocation:
    """The price over marks and lines; they sum to it exactly."""
    parts = [pool.part for pool in pools]
    weights, joint_weights, weight_unit = whole_units(*weigh(pools))
    minutes = [{k: w.touch_minutes for k, w in part.works.items()} for part in parts]
    joints = [part.joints.touch_minutes if part.joints is not None else Fraction(0) for part in parts]
    touches, joint_touches, touch_unit = whole_units(minutes, joints)
    scale = Scale(weight_unit, touch_unit)
    tally, of_lines = count_lines(parts, request, weights, touches)
    add_joints(tally, parts, joint_weights, joint_touches)
    if not any(tally.quantities) and price_minor:
        nothing = Mark(None, 0, 0, 0, price_minor, (), scale)
        rows = zip(tally.names, tally.lines, strict=True)
        return Allocation((*(Mark(n, 0, 0, 0, 0, x, scale) for n, x in rows), nothing), [0] * len(of_lines))
    prices = allocate(price_minor, or_worked(tally.weights, tally.quantities))
    columns = (tally.names, tally.quantities, tally.touches, tally.weights, prices, tally.lines)
    marks = tuple(map(Mark._make, zip(*columns, repeat(scale))))
    return Allocation(marks, price_lines(tally, prices, of_lines, request.schedule.lines))
