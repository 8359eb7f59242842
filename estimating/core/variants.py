"""The same job otherwise, every line by one method or another request: each a full estimate where it can be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from estimating.core.build_up import BuildUp
from estimating.core.estimate import Estimate, Plan, build
from estimating.core.kinds import METHODS
from estimating.core.readiness import prepare
from estimating.core.request import Request
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Refused


@dataclass(frozen=True)
class Variant:
    """A variant's name, its hours and build-up, or the reason why it can't be had."""

    name: str
    reason: str | None
    hours: Fraction | None
    up: BuildUp | None


def in_no_part(estimate: Estimate, request: Request) -> str | None:
    """The first mark that is priced and that no part of a season split does."""
    done = {i for part in estimate.parts for i in part.plan.lines}
    lines = request.schedule.lines
    return next((lines[i].mark for i in request.schedule.priced if i not in done), None)


def evaluate(estimate: Estimate, name: str, request: Request) -> Variant:
    """The changed request under the same cards; what stands against it becomes the reason."""
    if lost := in_no_part(estimate, request):
        return Variant(name, f'no part of the work does the mark "{lost}"', None, None)
    faults: Faults = []
    ready = [(part.plan, prepare(request, part.plan, faults)) for part in estimate.parts]
    if faults:
        return Variant(name, "; ".join(dict.fromkeys(f.detail for f in faults)), None, None)
    plan = Plan(request, estimate.card, tuple((part, done) for part, done in ready if done is not None))
    try:
        parts, up = build(plan, smooth=False)
    except Refused as refused:
        return Variant(name, "; ".join(dict.fromkeys(f.detail for f in refused.problems)), None, None)
    return Variant(name, None, sum((p.hours.standard for p in parts), Fraction(0)), up)


def by_method(request: Request, method: str) -> Request:
    """The request with every line done by one method."""
    kinds = tuple(replace(kind, method=method) for kind in request.schedule.kinds)
    schedule = replace(request.schedule, kinds=kinds)
    return replace(request, given=replace(request.given, method=method), schedule=schedule)


def methods(estimate: Estimate) -> tuple[Variant, ...]:
    """Fluid, then tape; one that every line is done by already is not costed again."""
    used = {work.kind.method for part in estimate.parts for work in part.works.values()}
    same = used.pop() if len(used) == 1 else None
    return tuple(
        Variant(method, None, estimate.standard_hours, estimate.up)
        if method == same
        else evaluate(estimate, method, by_method(estimate.request, method))
        for method in METHODS
    )
