"""A price per opening against a bid per wall area: what the same money is per area, and where the two meet.

The price is taken as F + N·p: F the share of set-up hours, deliveries and subcontracts in direct cost, with everything
above direct cost in proportion; N* = (s·A − F) / p is the count at which a bid of s per area earns the same price.
"""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.estimate import Estimate
from rates.core.fraction import Fraction
from rates.core.units import AREA_NM2


@dataclass(frozen=True)
class PerArea:
    """Money in major units for each area unit of the document (ft² or m²); stated_minor in minor units."""

    wall_area_nm2: Fraction
    price_per_area: Fraction
    stated_rate: Fraction | None
    stated_minor: int | None
    fixed_price: Fraction
    price_each: Fraction | None
    break_even_openings: Fraction | None


def fixed_price(estimate: Estimate) -> Fraction:
    """The part of the price that does not grow with the count, major units."""
    setup = sum((p.hours.setup.hours * p.crew.standard_hour_cost for p in estimate.parts), Fraction(0))
    delivery = sum((e.row.delivery * e.deliveries for p in estimate.parts for e in p.equipment), Fraction(0))
    contracts = sum((s.amount for s in estimate.request.subcontracts), Fraction(0))
    direct = estimate.till.major(estimate.up.direct_minor)
    price = estimate.till.major(estimate.up.price_minor)
    return (setup + delivery + contracts) * price / direct if direct else price


def per_area(estimate: Estimate) -> PerArea | None:
    """The comparison, or None where the request gives no wall area; break-even needs a stated rate and openings."""
    area_nm2 = estimate.request.wall_area_nm2
    if area_nm2 is None:
        return None
    area = area_nm2 / AREA_NM2["ft2" if estimate.request.units == "imperial" else "m2"]
    price = estimate.till.major(estimate.up.price_minor)
    stated = estimate.request.stated_rate
    fixed = fixed_price(estimate)
    each = (price - fixed) / estimate.openings if estimate.openings else None
    break_even = None
    if stated is not None and each:
        break_even = max(Fraction(0), (stated * area - fixed) / each)
    return PerArea(
        wall_area_nm2=area_nm2,
        price_per_area=price / area,
        stated_rate=stated,
        stated_minor=None if stated is None else estimate.till.minor(stated * area),
        fixed_price=fixed,
        price_each=each,
        break_even_openings=break_even,
    )
