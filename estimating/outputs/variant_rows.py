"""The job otherwise, as answers list it: method against method, and each alternate taken in."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from estimating.core.alternates import Offered, alternates, offered, with_accepted
from estimating.core.estimate import Estimate
from estimating.core.variants import Variant, methods
from rates.core.exact import print_quantity

Row = dict[str, object]


def variant_row(variant: Variant, estimate: Estimate) -> Row:
    """A variant's sums, null where it can't be had."""
    up, text = variant.up, estimate.till.text
    return {
        "feasible": up is not None,
        "reason": variant.reason,
        "hours": None if variant.hours is None else print_quantity(variant.hours),
        "materials": None if up is None else text(up.of_step("materials")),
        "direct_cost": None if up is None else text(up.direct_minor),
        "price": None if up is None else text(up.price_minor),
    }


def method_rows(estimate: Estimate) -> list[Row]:
    """Every line by fluid against every line by tape."""
    return [{"method": v.name} | variant_row(v, estimate) for v in methods(estimate)]


def added(variant: Variant, estimate: Estimate) -> int | None:
    """What a variant adds to the base price, minor units; None where it can't be had."""
    return None if variant.up is None else variant.up.price_minor - estimate.up.price_minor


def alternate_row(taken: Sequence[Offered], variant: Variant, alone: Sequence[int | None], estimate: Estimate) -> Row:
    """Alternates accepted together: the full price with them, what they add, and what each alone adds, summed."""
    text, adds = estimate.till.text, added(variant, estimate)
    each = [x for x in alone if x is not None]
    return {
        "alternate": variant.name,
        "accepted": [one.name for one in taken],
        "kind": taken[0].kind if len(taken) == 1 else None,
        "replaces": [mark for one in taken for mark in one.replaces],
        "openings": sum(one.openings for one in taken),
        **variant_row(variant, estimate),
        "adds": None if adds is None else text(adds),
        "adds_alone": text(sum(each)) if len(each) == len(alone) else None,
    }


def alternate_rows(estimate: Estimate) -> list[Row]:
    """Each alternate accepted alone."""
    return [alternate_row([one], found, [added(found, estimate)], estimate) for one, found in alternates(estimate)]


def accepted_row(estimate: Estimate, names: Collection[str]) -> Row:
    """These alternates accepted together, priced as one job; KeyError for a name that the schedule does not have."""
    known = offered(estimate.request.schedule)
    together = with_accepted(estimate, names)
    taken = [one for name, one in known.items() if name in names]
    alone = [added(with_accepted(estimate, {one.name}), estimate) for one in taken]
    return alternate_row(taken, together, alone, estimate)
