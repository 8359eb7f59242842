"""Method against method: the whole job by fluid, and the whole job by tape, each a full estimate where it can be one."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from estimating.core.build_up import BuildUp
from estimating.core.estimate import Estimate, Plan, build
from estimating.core.kinds import METHODS
from estimating.core.part import prepare
from estimating.core.request import Request
from rates.core.fields import Faults
from rates.core.problems import Refused


@dataclass(frozen=True)
class MethodResult:
    """One method's hours and build-up, or the reason why it can't be had."""

    method: str
    reason: str | None
    hours: Fraction | None
    estimate_up: BuildUp | None


def by_method(request: Request, method: str) -> Request:
    """The request with every line done by one method."""
    kinds = tuple(replace(kind, method=method) for kind in request.schedule.kinds)
    schedule = replace(request.schedule, kinds=kinds)
    return replace(request, given=replace(request.given, method=method), schedule=schedule)


def evaluate(estimate: Estimate, method: str) -> MethodResult:
    """The job by one method under the same cards; what stands against it becomes the reason."""
    request = by_method(estimate.request, method)
    faults: Faults = []
    ready = [(part.plan, prepare(request, part.plan, faults)) for part in estimate.parts]
    if faults:
        return MethodResult(method, "; ".join(dict.fromkeys(f.detail for f in faults)), None, None)
    plan = Plan(request, estimate.card, tuple((part, done) for part, done in ready if done is not None))
    try:
        parts, up = build(plan, smooth=False)
    except Refused as refused:
        return MethodResult(method, "; ".join(dict.fromkeys(f.detail for f in refused.problems)), None, None)
    return MethodResult(method, None, sum((p.hours.standard for p in parts), Fraction(0)), up)


def methods(estimate: Estimate) -> tuple[MethodResult, ...]:
    """Fluid, then tape; one that every line is done by already is not costed again."""
    used = {work.kind.method for part in estimate.parts for work in part.works.values()}
    same = used.pop() if len(used) == 1 else None
    return tuple(
        MethodResult(method, None, estimate.standard_hours, estimate.up)
        if method == same
        else evaluate(estimate, method)
        for method in METHODS
    )
