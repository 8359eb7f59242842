"""The money at stake in an assumption: how far the price moves under the likeliest other values, where cheap to know.

Each other value is a full costing of the changed request, so only small jobs and a few fields are asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from estimating.core.estimate import Estimate
from estimating.core.kinds import Kind
from estimating.core.request import Request
from estimating.core.shapes import ALL_SIDES
from estimating.core.variants import evaluate
from rates.core.fraction import Fraction

MOST_LINES, MOST_KINDS = 2_000, 200
Others = Callable[[Request, Estimate], Iterator[Request]]
NO_SILL = frozenset({"jambs", "head"})


def with_kinds(request: Request, change: Callable[[Kind], Kind]) -> Request:
    """The request with its kinds of opening changed."""
    kinds = tuple(change(kind) for kind in request.schedule.kinds)
    return replace(request, schedule=replace(request.schedule, kinds=kinds))


def new_crew(request: Request, estimate: Estimate) -> Iterator[Request]:
    """A crew that never did it before."""
    yield replace(request, crew=replace(request.crew, done_before=Fraction(0)))


def other_access(request: Request, estimate: Estimate) -> Iterator[Request]:
    """The access with the highest factor."""
    factors = dict(estimate.card.production.access)
    dearest = max(factors, key=lambda name: factors[name], default="ground")
    yield with_kinds(request, lambda kind: kind if kind.access is not None else replace(kind, access=dearest))


def doors_without_sill(request: Request, estimate: Estimate) -> Iterator[Request]:
    """Doors treated at jambs and head alone."""

    def change(kind: Kind) -> Kind:
        open_below = kind.kind == "door" and kind.sides == ALL_SIDES and kind.shape.has_sill and kind.sill is None
        return replace(kind, sides=NO_SILL) if open_below else kind

    yield with_kinds(request, change)


def other_names(field: str) -> Others:
    """Every name of the edition for a condition."""

    def others(request: Request, estimate: Estimate) -> Iterator[Request]:
        for name, _ in getattr(estimate.card.production, field):
            yield replace(request, **{field: name})

    return others


OTHERWISE: Mapping[str, Others] = {
    "crew/experience": new_crew,
    "access": other_access,
    "sides": doors_without_sill,
    "temperature": other_names("temperature"),
    "congestion": other_names("congestion"),
    "rework": other_names("rework"),
}


def stake_minor(field: str, estimate: Estimate) -> int | None:
    """The greatest change of price in minor units under the field's other values; None where it isn't known."""
    schedule = estimate.request.schedule
    if field not in OTHERWISE or len(schedule.lines) > MOST_LINES or len(schedule.kinds) > MOST_KINDS:
        return None
    changes = []
    for request in OTHERWISE[field](estimate.request, estimate):
        up = evaluate(estimate, field, request).up if request != estimate.request else None
        if up is not None:
            changes.append(abs(up.price_minor - estimate.up.price_minor))
    return max(changes, default=None)
