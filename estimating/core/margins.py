"""The margin that a price leaves over what the work costs, and whether it is as much as a company wants."""

from __future__ import annotations

from dataclasses import dataclass

from rates.core.fraction import Fraction


@dataclass(frozen=True)
class Costs:
    """What a price has to cover, in minor units: the cost, and what is passed on without profit.

    passed_minor: allowances, bond and receipts tax.
    """

    cost_minor: int
    passed_minor: int

    def margin_percent(self, price_minor: int) -> Fraction | None:
        """100 (W − C) ÷ W, W the price without what is passed on; None where nothing is left of the price.

        It is the margin that the profit row states where the price is the build-up's own, rounding and minimum apart.
        Bond and tax stay as they were for the full price, so a discount never looks better than it is.
        """
        whole = price_minor - self.passed_minor
        return Fraction(100 * (whole - self.cost_minor), whole) if whole > 0 else None

    def margin_minor(self, price_minor: int) -> int:
        """W − C: the money behind `margin_percent`, less than 0 where the price covers not even the cost."""
        return price_minor - self.passed_minor - self.cost_minor

    def __add__(self, other: Costs) -> Costs:
        """What the prices of both works together have to cover."""
        return Costs(self.cost_minor + other.cost_minor, self.passed_minor + other.passed_minor)

    def reaches(self, price_minor: int, floor_percent: Fraction) -> bool:
        """Whether the margin is at least the floor; work that costs nothing reaches any."""
        margin = self.margin_percent(price_minor)
        if margin is None:
            return price_minor == 0 and self.cost_minor == 0
        return bool(margin >= floor_percent)


def discounted(price_minor: int, discount_percent: Fraction) -> int:
    """The price less a percentage of it, that rounded half up to the minor unit."""
    off = (2 * price_minor * discount_percent.numerator + 100 * discount_percent.denominator) // (
        200 * discount_percent.denominator
    )
    return int(price_minor - off)
