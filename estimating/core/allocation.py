"""The price of marks and lines: exact weights, then one largest remainder, so that the parts sum to the price.

own_use: direct cost goes to marks by own use (materials with their freight and tax by net use of each row, equipment
by touch minutes from its access, the rest by touch minutes) and everything above in proportion to direct cost.
touch_minutes: all of it by touch minutes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import repeat
from math import lcm
from typing import NamedTuple

from estimating.core.build_up import BuildUp
from estimating.core.direct import BuildLine, Till
from estimating.core.part import Part
from estimating.core.request import Request
from estimating.core.schedule import Line
from estimating.core.takeoff import Use
from rates.core.fraction import Fraction
from rates.core.money import allocate

JOINTS = "joints"


@dataclass(frozen=True)
class Worker:
    """What draws on the pools: its touch minutes, its access, its use of materials (of one opening, or the joints)."""

    touch_minutes: Fraction
    access: str
    use: Use


@dataclass(frozen=True)
class Pools:
    """Money (major units) to share out in one part: by use of a row, by access, and by touch minutes."""

    by_row: Mapping[str, Fraction]
    by_access: Sequence[tuple[frozenset[str], Fraction]]
    by_minutes: Fraction

    def weight(self, worker: Worker) -> Fraction:
        """The direct cost that falls on one worker, exact."""
        weight = self.by_minutes * worker.touch_minutes
        for code, amount in worker.use:
            weight += self.by_row.get(code, Fraction(0)) * amount
        for access, rate in self.by_access:
            if worker.access in access:
                weight += rate * worker.touch_minutes
        return weight


def step_minor(lines: Sequence[BuildLine], step: str, part: int | None) -> int:
    """Σ of a step in a part."""
    return sum(line.amount_minor for line in lines if line.step == step and line.part == part)


def share(amount: int, part: int, whole: int) -> Fraction:
    """amount × part / whole."""
    return Fraction(amount * part, whole) if whole else Fraction(0)


def pools(part: Part, index: int, lines: Sequence[BuildLine], till: Till) -> Pools:
    """The part's direct cost as rates: money for each unit of use, and for each touch minute."""
    freight, tax = step_minor(lines, "freight", index), step_minor(lines, "sales_tax", index)
    materials = sum(m.amount_minor for m in part.materials)
    # never less than what the tax is shared over: a tax stated on labour must not hand out more than itself
    taxable = sum(m.amount_minor for m in part.materials if m.row.taxable)
    tax_base = max([taxable, *(x.base_minor or 0 for x in lines if x.step == "sales_tax" and x.part == index)])
    left = sum(line.amount_minor for line in lines if line.part == index)
    rest = Fraction(left)
    by_row: dict[str, Fraction] = {}
    for m in part.materials:
        own = m.amount_minor + share(freight, m.amount_minor, materials)
        if m.row.taxable:
            own += share(tax, m.amount_minor, tax_base)
        if m.row.per != "crew_day" and m.net:
            by_row[m.row.code] = own / m.net
            rest -= own
    by_access = []
    for e in part.equipment:
        by_access.append((frozenset(e.row.for_access), e.amount_minor / e.touch_minutes))
        rest -= e.amount_minor
    minutes = part.hours.touch_minutes
    return Pools(by_row, by_access, rest / minutes if minutes else Fraction(0))


def kind_workers(part: Part) -> dict[int, Worker]:
    """What one opening of each kind draws."""
    return {k: Worker(w.touch_minutes_each, w.kind.access or "ground", w.takeoff.use) for k, w in part.works.items()}


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


def weigh(
    parts: Sequence[Part], up: BuildUp, request: Request, till: Till
) -> tuple[list[dict[int, Fraction]], list[Fraction]]:
    """(weight of one opening by kind index for each part, weight of the joints for each part)."""
    of_kinds, of_joints = [], []
    shared = sum(x.amount_minor for x in up.lines if x.step == "subcontracts")
    all_minutes = sum((p.hours.touch_minutes for p in parts), Fraction(0))
    extra = shared / all_minutes if all_minutes else Fraction(0)
    for index, part in enumerate(parts):
        workers = kind_workers(part)
        joints = None
        if part.joints is not None:
            joints = Worker(part.joints.touch_minutes, part.joints.access, part.joints.takeoff.use)
        if request.allocate_by == "touch_minutes":
            of_kinds.append({k: w.touch_minutes for k, w in workers.items()})
            of_joints.append(joints.touch_minutes if joints else Fraction(0))
            continue
        found = pools(part, index, up.lines, till)
        found = Pools(found.by_row, found.by_access, found.by_minutes + extra)
        of_kinds.append({k: found.weight(w) for k, w in workers.items()})
        of_joints.append(found.weight(joints) if joints else Fraction(0))
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
            _, _, quantity, _, _, kind, _, _, _, _ = lines[i]
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


def allocate_price(parts: Sequence[Part], up: BuildUp, request: Request, till: Till) -> Allocation:
    """The price over marks and lines; they sum to it exactly."""
    weights, joint_weights, weight_unit = whole_units(*weigh(parts, up, request, till))
    minutes = [{k: w.touch_minutes_each for k, w in part.works.items()} for part in parts]
    joints = [part.joints.touch_minutes if part.joints is not None else Fraction(0) for part in parts]
    touches, joint_touches, touch_unit = whole_units(minutes, joints)
    scale = Scale(weight_unit, touch_unit)
    tally, of_lines = count_lines(parts, request, weights, touches)
    add_joints(tally, parts, joint_weights, joint_touches)
    if not any(tally.quantities) and up.price_minor:
        nothing = Mark(None, 0, 0, 0, up.price_minor, (), scale)
        rows = zip(tally.names, tally.lines, strict=True)
        return Allocation((*(Mark(n, 0, 0, 0, 0, x, scale) for n, x in rows), nothing), [0] * len(of_lines))
    prices = allocate(up.price_minor, or_worked(tally.weights, tally.quantities))
    columns = (tally.names, tally.quantities, tally.touches, tally.weights, prices, tally.lines)
    marks = tuple(map(Mark._make, zip(*columns, repeat(scale))))
    return Allocation(marks, price_lines(tally, prices, of_lines, request.schedule.lines))
