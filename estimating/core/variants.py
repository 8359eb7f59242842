"""The same job otherwise: every line by one method, or an alternate taken in; each a full estimate where it can be."""

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


def evaluate(estimate: Estimate, name: str, request: Request) -> Variant:
    """The changed request under the same cards; what stands against it becomes the reason."""
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


def with_alternate(request: Request, number: str) -> Request:
    """The request with one alternate's lines in the base."""
    lines = tuple(x._replace(alternate=None) if x.alternate == number else x for x in request.schedule.lines)
    return replace(request, schedule=replace(request.schedule, lines=lines))


def alternates(estimate: Estimate) -> tuple[Variant, ...]:
    """Each alternate by its number: the full price with it in; what it adds is that less the base price."""
    numbers = dict.fromkeys(x.alternate for x in estimate.request.schedule.lines if x.alternate is not None)
    return tuple(evaluate(estimate, n, with_alternate(estimate.request, n)) for n in numbers)
