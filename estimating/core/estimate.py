"""The costed estimate: parts worked out, the build-up, the price over marks and lines, remarks.

request + cards > parts (takeoff > labour > materials, equipment) > build-up > allocation > estimate
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from estimating.core.allocation import Allocation, allocate_price
from estimating.core.build_up import BuildUp, build_up
from estimating.core.direct import Job
from estimating.core.part import Part, cost_part
from estimating.core.pools import Contracts, Pools
from estimating.core.readiness import PartPlan, Ready
from estimating.core.remarks import Remark, remarks
from estimating.core.request import Request
from estimating.core.shared_work import Shared
from estimating.core.till import Till
from estimating.core.totals import Totals, hours_of
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Refused

ENGINE_VERSION = "2"
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
    pools: tuple[Pools, ...]
    allocation: Allocation
    remarks: tuple[Remark, ...]
    totals: Totals
    input_digest: str = ""

    @property
    def till(self) -> Till:
        """How the job's money is rounded."""
        return self.totals.till

    @property
    def openings(self) -> int:
        """How many openings are priced."""
        return int(self.totals.openings)

    @property
    def perimeter_nm(self) -> Fraction:
        """Perimeter treated of all priced openings."""
        return self.totals.perimeter

    @property
    def treated_area_nm2(self) -> Fraction:
        """Treated area of all priced openings."""
        return self.totals.treated_area

    @property
    def standard_hours(self) -> Fraction:
        """Standard worker-hours."""
        return self.totals.hours.standard  # type: ignore[no-any-return]

    @property
    def crew_days(self) -> int:
        """Whole crew-days, rounded up once in each part."""
        return int(self.totals.hours.crew_days)

    @property
    def price_per_opening(self) -> Fraction | None:
        """Price over openings, major units; None without openings."""
        return self.totals.price_per_opening if self.openings else None


def has_work(plan: Plan) -> bool:
    """Whether there is anything to price."""
    request = plan.request
    works = any(ready.quantities or (part.joints and request.joints) for part, ready in plan.parts)
    return bool(works or request.subcontracts or request.allowances)


def cost_parts(plan: Plan, smooth: bool, progress: Progress | None, shared: Shared | None) -> tuple[Part, ...]:
    """Each part worked out in turn, learning and stock on hand carried on; Refused with what only costing finds."""
    faults: Faults = []
    parts: list[Part] = []
    for i, (part_plan, ready) in enumerate(plan.parts):
        if progress is not None:
            progress(i, len(plan.parts) + 2, "takeoff, hours and materials")
        part = cost_part(part_plan, ready, parts, smooth, faults, shared)
        if part is not None:
            parts.append(part)
    if faults:
        raise Refused(list(dict.fromkeys(faults)))
    return tuple(parts)


def build(
    plan: Plan, smooth: bool, progress: Progress | None = None, shared: Shared | None = None
) -> tuple[tuple[Part, ...], BuildUp]:
    """The parts and the build-up; `smooth` evaluates packs, days and rounding smoothly, for attribution.

    shared: what costings of mixed states of the same jobs have in common.
    """
    parts = cost_parts(plan, smooth, progress, shared)
    job = Job(plan.request, plan.card, Till.of(plan.card), len(parts) > 1, not has_work(plan), smooth)
    return parts, build_up(job, parts, hours_of(parts))


def estimate(plan: Plan, progress: Progress | None = None, shared: Shared | None = None) -> Estimate:
    """The costed estimate of a plan; shared as in `build`."""
    parts, up = build(plan, False, progress, shared)
    if progress is not None:
        progress(len(plan.parts), len(plan.parts) + 2, "prices of marks and lines")
    hours = hours_of(parts)
    contracts = Contracts(up, hours)
    pools = tuple(Pools(part.conditions, part, up, contracts) for part in parts)
    allocation = allocate_price(pools, up.price_minor, plan.request)
    found = remarks(plan.request, parts)
    totals = Totals(parts, up, hours, Till.of(plan.card))
    return Estimate(plan.request, plan.card, parts, up, pools, allocation, found, totals)


def part_of_lines(parts: Sequence[Part]) -> Mapping[int, int]:
    """Part index by line index."""
    return {i: p for p, part in enumerate(parts) for i in part.plan.lines}
