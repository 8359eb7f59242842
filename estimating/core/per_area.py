"""A price per opening against a bid per wall area: what the same money is per area, and where the two meet.

The price is taken as F + N·p: F the share of set-up hours, deliveries and subcontracts in direct cost, with everything
above direct cost in proportion; N* = (s·A − F) / p is the count at which a bid of s per area earns the same price.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.figures.figure import Step, Subject, called, constant, figure
from estimating.core.figures.printing import AREA, EXACT_MONEY, MONEY, NUMBER, UNITS, Unit, money_for
from estimating.core.figures.rules import (
    difference,
    product,
    proportion,
    quotient,
    rounded,
    shortfall,
    sum_of_products,
    total,
)
from rates.core.units import AREA_NM2

FIXED = "Σ set-up hours × cost of a standard hour + Σ deliveries × price of a delivery + Σ subcontracts"


def area_unit(of: Any) -> Unit:
    """The area unit of the document."""
    return Unit(of.area_name, "number")


def for_area(of: Any) -> Unit:
    """Money for each of them."""
    return money_for(str(of.area_name))


@dataclass(eq=False, repr=False)
class PerArea(Subject):
    """The comparison of an estimate whose request gives a wall area; break-even needs a stated rate and openings."""

    estimate: Estimate

    def __post_init__(self) -> None:
        self.request, self.parts, self.up = self.estimate.request, self.estimate.parts, self.estimate.up
        self.totals, self.till = self.estimate.totals, self.estimate.till
        self.area_name = UNITS[self.request.units]["area"]
        self.stated, self.counts = self.request.stated_rate is not None, bool(self.estimate.openings)
        self.size = constant(f"nm2 in 1 {self.area_name}", AREA_NM2[self.area_name])

    @property
    def path(self) -> str:
        """per_area"""
        return "per_area"

    @figure("Wall area", area_unit, label="wall area")
    def area(self) -> Step:
        return quotient, "in the units of the answer", self.wall_area, self.size

    @property
    def wall_area(self) -> Any:
        """The wall area, nm²."""
        return self.request.wall_area_nm2

    def told_wall_area(view: Any) -> Any:
        """As the request gives it."""
        return view.request.stated("wall_area", view.subject.wall_area, AREA)

    @figure("Price for the wall area", for_area)
    def price_per_area(self) -> Step:
        return quotient, "price ÷ wall area", self.up.price, self.area

    @figure("Cost that does not grow with the count", EXACT_MONEY)
    def fixed_cost(self) -> Step:
        setup = [(part.hours.setup, part.crew.standard_hour_cost) for part in self.parts]
        delivery = [(line.deliveries, line.row.delivery) for part in self.parts for line in part.equipment]
        contracts = [(called(contract.title, contract.amount),) for contract in self.request.subcontracts]
        return sum_of_products, FIXED, *setup, *delivery, *contracts

    @figure("Fixed part of the price", EXACT_MONEY, label="fixed part")
    def fixed_price(self) -> Step:
        words = "fixed cost × price ÷ direct cost"
        if not self.up.direct_cost:
            return total, words, self.up.price
        return proportion, words, self.fixed_cost, self.up.price, self.up.direct_cost

    @property
    def rate(self) -> Any:
        """The stated rate, money for each area unit."""
        return self.request.stated_rate

    def told_rate(view: Any) -> Any:
        """As the request gives it."""
        real = view.subject
        return view.request.stated("stated_rate", real.request.stated_rate, view.in_currency(for_area(real)))

    @figure(
        "Stated price before rounding",
        EXACT_MONEY,
        step="stated_price.exact",
        label="stated price",
        when=lambda s: s.stated,
    )
    def stated_exact(self) -> Step:
        return product, "stated rate × wall area", self.rate, self.area

    @figure("Stated price", MONEY, when=lambda s: s.stated)
    def stated_price(self) -> Step:
        return rounded, "rounded once", self.stated_exact, *self.till.places_and_way

    @figure("Price over the stated price", MONEY, when=lambda s: s.stated)
    def difference(self) -> Step:
        return difference, "price − stated price", self.up.price, self.stated_price

    @figure("Part of the price that grows with the count", EXACT_MONEY, label="growing part", when=lambda s: s.counts)
    def growing_price(self) -> Step:
        return difference, "price − fixed part", self.up.price, self.fixed_price

    @figure("Price of one more opening", EXACT_MONEY, label="price of one more", when=lambda s: s.counts)
    def price_each(self) -> Step:
        return quotient, "growing part ÷ openings", self.growing_price, self.totals.openings

    @property
    def meets(self) -> bool:
        """Whether there is a count at which both bids are equal."""
        return self.stated and self.counts and bool(self.price_each)

    @figure("Stated price over the fixed part", EXACT_MONEY, when=lambda s: s.meets)
    def room(self) -> Step:
        return shortfall, "stated price − fixed part, at least 0", self.stated_exact, self.fixed_price

    @figure("Openings at which both bids are equal", NUMBER, when=lambda s: s.meets)
    def break_even_openings(self) -> Step:
        return quotient, "stated price over the fixed part ÷ price of one more", self.room, self.price_each


def per_area(estimate: Estimate) -> PerArea | None:
    """The comparison, or None where the request gives no wall area."""
    return None if estimate.request.wall_area_nm2 is None else PerArea(estimate)
