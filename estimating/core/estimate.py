"""The costed estimate: parts worked out, the build-up, the price over marks and lines, remarks.

request + cards > parts (takeoff > labour > materials, equipment) > build-up > allocation > estimate
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from estimating.core.allocation import Allocation, allocate_price
from estimating.core.build_up import BuildUp, build_up
from estimating.core.direct import Till
from estimating.core.part import Part, cost_part
from estimating.core.readiness import PartPlan, Ready
from estimating.core.remarks import Remark, remarks
from estimating.core.request import Request
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Refused

ENGINE_VERSION = "1"
Progress = Callable[[int, int, str], None]


@dataclass(frozen=True)
class Plan:
    """A request ready to be costed: the card of its work date and what each part does."""

    request: Request
    card: Card
    parts: tuple[tuple[PartPlan, Ready], ...]


@dataclass(frozen=True)
class Estimate:
    """One costed estimate; money in minor units of `till.currency`, hours standard worker-hours."""

    request: Request
    card: Card
    parts: tuple[Part, ...]
    up: BuildUp
    allocation: Allocation
    remarks: tuple[Remark, ...]
    till: Till
    input_digest: str = ""

    @property
    def openings(self) -> int:
        """How many openings are priced."""
        return sum(work.quantity for part in self.parts for work in part.works.values())

    @property
    def perimeter_nm(self) -> Fraction:
        """Perimeter treated of all priced openings."""
        return self.total(lambda part, k: part.works[k].takeoff.measure.perimeter_nm)

    @property
    def treated_area_nm2(self) -> Fraction:
        """Treated area of all priced openings."""
        return self.total(lambda part, k: part.works[k].takeoff.treated_area_nm2)

    def total(self, each: Callable[[Part, int], Fraction]) -> Fraction:
        """Σ quantity × a value of one opening."""
        return sum((each(p, k) * w.quantity for p in self.parts for k, w in p.works.items()), Fraction(0))

    @property
    def standard_hours(self) -> Fraction:
        """Standard worker-hours."""
        return sum((part.hours.standard for part in self.parts), Fraction(0))

    @property
    def crew_days(self) -> int:
        """Whole crew-days, rounded up once in each part."""
        return sum(part.crew.days(part.hours.standard) for part in self.parts)

    @property
    def price_per_opening(self) -> Fraction | None:
        """Price over openings, major units; None without openings."""
        return self.till.major(self.up.price_minor) / self.openings if self.openings else None


def has_work(plan: Plan) -> bool:
    """Whether there is anything to price."""
    request = plan.request
    works = any(ready.quantities or (part.joints and request.joints) for part, ready in plan.parts)
    return bool(works or request.subcontracts or request.allowances)


def cost_parts(plan: Plan, smooth: bool, progress: Progress | None) -> tuple[Part, ...]:
    """Each part worked out in turn, learning and stock on hand carried on; Refused with what only costing finds."""
    faults: Faults = []
    parts = []
    before = Fraction(0)
    taken: dict[str, Fraction] = {}
    for i, (part_plan, ready) in enumerate(plan.parts):
        if progress is not None:
            progress(i, len(plan.parts) + 2, "takeoff, hours and materials")
        stock = {code: amount - taken.get(code, Fraction(0)) for code, amount in ready.stock.items()}
        part = cost_part(plan.request, part_plan, replace(ready, stock=stock), before, smooth, faults)
        if part is not None:
            parts.append(part)
            before += part.hours.opening_equivalents
            for m in part.materials:
                taken[m.row.code] = taken.get(m.row.code, Fraction(0)) + m.gross - m.needed
    if faults:
        raise Refused(list(dict.fromkeys(faults)))
    return tuple(parts)


def build(plan: Plan, smooth: bool, progress: Progress | None = None) -> tuple[tuple[Part, ...], BuildUp]:
    """The parts and the build-up; `smooth` evaluates packs, days and rounding smoothly, for attribution."""
    parts = cost_parts(plan, smooth, progress)
    return parts, build_up(parts, plan.request, plan.card, empty=not has_work(plan), smooth=smooth)


def estimate(plan: Plan, progress: Progress | None = None) -> Estimate:
    """The costed estimate of a plan."""
    parts, up = build(plan, False, progress)
    till = Till.of(plan.card)
    if progress is not None:
        progress(len(plan.parts), len(plan.parts) + 2, "prices of marks and lines")
    allocation = allocate_price(parts, up, plan.request, till)
    found = remarks(plan.request, parts)
    return Estimate(plan.request, plan.card, parts, up, allocation, found, till)


def part_of_lines(parts: Sequence[Part]) -> Mapping[int, int]:
    """Part index by line index."""
    return {i: p for p, part in enumerate(parts) for i in part.plan.lines}
