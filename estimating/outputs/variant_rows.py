"""The job otherwise, as answers list it: method against method, and each alternate taken in."""

from __future__ import annotations

from estimating.core.estimate import Estimate
from estimating.core.variants import Variant, alternates, methods
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


def alternate_rows(estimate: Estimate) -> list[Row]:
    """Each alternate taken in: the full price with it, and what it adds to the base."""
    base, text = estimate.up.price_minor, estimate.till.text
    return [
        {"alternate": v.name}
        | variant_row(v, estimate)
        | {"adds": None if v.up is None else text(v.up.price_minor - base)}
        for v in alternates(estimate)
    ]
