"""The price of marks and lines: exact weights, then one largest remainder, so that the parts sum to the price.

own_use: direct cost goes to marks by own use (materials with their freight and tax by net use of each row, equipment
by touch minutes from its access, the rest by touch minutes) and everything above in proportion to direct cost.
touch_minutes: all of it by touch minutes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from estimating.core.build_up import BuildUp
from estimating.core.direct import BuildLine, Till
from estimating.core.part import Part
from estimating.core.request import Request
from estimating.core.takeoff import Use
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
    tax_base = max((x.base_minor or 0 for x in lines if x.step == "sales_tax" and x.part == index), default=0)
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
class Mark:
    """A mark's quantity, touch minutes, exact weight and price in minor units; `mark` None: nothing to put it on."""

    mark: str | None
    quantity: int
    touch_minutes: Fraction
    weight: Fraction
    price_minor: int
    lines: tuple[int, ...]


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


class Sums:
    """Running sums of one mark: quantities by (part, kind), so that exact arithmetic is done once for each."""

    __slots__ = ("counts", "lines", "mark")

    def __init__(self, mark: str) -> None:
        self.mark = mark
        self.counts: dict[tuple[int, int], int] = {}
        self.lines: list[int] = []


def collect(parts: Sequence[Part], request: Request) -> list[Sums]:
    """The priced lines by mark, in order of first appearance."""
    part_of = {i: p for p, part in enumerate(parts) for i in part.plan.lines} if len(parts) > 1 else {}
    sums: dict[str, Sums] = {}
    for i, line in enumerate(request.schedule.lines):
        if line.reason is None and line.alternate is None and line.kind is not None:
            mark = sums.get(line.mark_key)
            if mark is None:
                mark = sums[line.mark_key] = Sums(line.mark)
            mark.lines.append(i)
            key = (part_of.get(i, 0), line.kind)
            mark.counts[key] = mark.counts.get(key, 0) + line.quantity
    return list(sums.values())


def line_prices(
    marks: Sequence[Mark], of_kinds: Sequence[Mapping[int, Fraction]], parts: Sequence[Part], request: Request
) -> list[int]:
    """Each mark's price over its lines by largest remainder."""
    lines = request.schedule.lines
    part_of = {i: p for p, part in enumerate(parts) for i in part.plan.lines} if len(parts) > 1 else {}
    prices = [0] * len(lines)
    for mark in marks:
        if len(mark.lines) == 1:
            prices[mark.lines[0]] = mark.price_minor
            continue
        weights = []
        for i in mark.lines:
            each = of_kinds[part_of.get(i, 0)].get(lines[i].kind or 0, Fraction(0))
            weights.append(each * lines[i].quantity)
        for i, price in zip(mark.lines, allocate(mark.price_minor, weights), strict=True):
            prices[i] = price
    return prices


def allocate_price(parts: Sequence[Part], up: BuildUp, request: Request, till: Till) -> Allocation:
    """The price over marks and lines; they sum to it exactly."""
    of_kinds, of_joints = weigh(parts, up, request, till)
    minutes = [{k: w.touch_minutes_each for k, w in part.works.items()} for part in parts]
    rows: list[tuple[str | None, int, Fraction, Fraction, tuple[int, ...]]] = []
    for mark in collect(parts, request):
        weight = touch = Fraction(0)
        for (p, k), count in mark.counts.items():
            if count:
                weight, touch = weight + of_kinds[p][k] * count, touch + minutes[p][k] * count
        rows.append((mark.mark, sum(mark.counts.values()), touch, weight, tuple(mark.lines)))
    joints = [(p.joints.touch_minutes, w) for p, w in zip(parts, of_joints, strict=True) if p.joints is not None]
    if joints:
        touch, weight = sum((t for t, _ in joints), Fraction(0)), sum((w for _, w in joints), Fraction(0))
        rows.append((JOINTS, 1, touch, weight, ()))
    if not any(row[1] for row in rows) and up.price_minor:
        rows.append((None, 0, Fraction(0), Fraction(1), ()))
    prices = allocate(up.price_minor, [row[3] for row in rows])
    marks = tuple(Mark(m, q, t, w, price, lines) for (m, q, t, w, lines), price in zip(rows, prices, strict=True))
    return Allocation(marks, line_prices(marks, of_kinds, parts, request))
