"""Rental: days that the access is worked from, the least-cost mix of day, week and month, units for the crew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.crew import CrewCost
from estimating.core.figures.figure import (
    MINUTES_IN_AN_HOUR,
    Step,
    called,
    constant,
    figure,
    figures,
    parameter,
    told,
    word,
)
from estimating.core.figures.printing import DAYS, EXACT_MONEY, HOURS, MINUTES, MONEY, NUMBER, TEXT, money_for
from estimating.core.figures.rules import (
    ceiling,
    ceiling_quotient,
    given,
    product,
    quotient,
    rounded,
    rule,
    sum_of_products,
    zero,
)
from estimating.core.hours import Hours
from estimating.core.packs import Mix, Pack, least_cost_count, least_cost_packs, least_price
from estimating.core.worked import Worked
from rates.core.fraction import Fraction
from rates.core.rows import EquipmentRow

A_DAY = constant("days in a day of rental", 1, DAYS)
LEAST = "periods of the least cost; ties: least left over, then fewest, then the earlier"


@rule("second × third ÷ fourth, as the first says")
def share_of_crew(days_from: str, hours: Fraction, touch: Fraction, all_touch: Fraction) -> Fraction:
    """The part of standard hours that belongs to what is worked from an access, 0 where nothing is touched."""
    return hours * touch / all_touch if all_touch else Fraction(0)


@dataclass(eq=False, repr=False)
class EquipmentLine(PartSubject):
    """One rental row in a part: what is worked from it, days, units, the mix of periods, deliveries, money.

    smooth: fractional days are priced at the lowest daily price.
    """

    conditions: Conditions
    row: EquipmentRow
    works: Sequence[Worked]
    crew: CrewCost
    hours: Hours
    smooth: bool

    @property
    def path(self) -> str:
        """equipment.<code>"""
        return f"{self.prefix}equipment.{word(self.row.code)}"

    @told
    def periods(self) -> list[tuple[Any, Any]]:
        """(days, price) of each rental period."""
        days = {"day": A_DAY, "week": self.production.days_per_week, "month": self.production.days_per_month}
        return [(days[rental.period], rental.price) for rental in self.row.rental]

    @figure("Touch minutes worked from {s.row.title}", MINUTES)
    def touch_minutes(self) -> Step:
        served = [work.times(work.touch_minutes) for work in self.works if work.access in self.row.for_access]
        return sum_of_products, "Σ quantity × touch minutes of the lines with its access", *served

    @property
    def by_crew_days(self) -> bool:
        """Whether it stays while the crew sets up and waits, not only while it is worked from."""
        return self.row.days_from == "crew_days"

    @figure("Hours of the crew that {s.row.title} is there for", HOURS, step="hours", when=lambda s: s.by_crew_days)
    def crew_hours(self) -> Step:
        words = "crew_days: standard hours × its touch minutes ÷ all touch minutes"
        touched = called("all touch minutes", self.hours.touch_minutes)
        return share_of_crew, words, self.row.days_from, self.hours.standard, self.touch_minutes, touched

    @figure("Days of {s.row.title} before rounding up", DAYS, step="days.exact", label="exact days")
    def exact_days(self) -> Step:
        if self.by_crew_days:
            return quotient, "hours ÷ standard hours in a day", self.crew_hours, self.crew.daily_hours
        words = "touch minutes ÷ 60 ÷ standard hours in a day"
        return quotient, words, self.touch_minutes, MINUTES_IN_AN_HOUR, self.crew.daily_hours

    @figure("Days of {s.row.title}", DAYS)
    def days(self) -> Step:
        return ceiling, "rounded up once", self.exact_days

    @figure("Units of {s.row.title}", NUMBER)
    def units(self) -> Step:
        if not self.row.per_workers:
            return given, "one", parameter("one unit", 1)
        return ceiling_quotient, "workers ÷ workers a unit, rounded up", self.crew.workers, self.row.per_workers

    @figures(
        lambda s, k: f"Rental by the {s.row.rental[k].period}", NUMBER, lambda s: range(len(s.row.rental)), "period.{}"
    )
    def period_counts(self, place: int) -> Step:
        return least_cost_count, LEAST, self.days, parameter("place", place), *self.periods

    @figure("Rental of one unit of {s.row.title}", EXACT_MONEY, label="rental of a unit")
    def rental(self) -> Step:
        if not self.row.rental:
            return zero, "0: the company owns it, and no rental is priced", self.owned
        if self.smooth:
            return product, "days × the lowest price of a day", self.exact_days, self.daily_price
        return least_cost_packs, "periods of the least cost that cover the days", self.days, *self.periods

    @property
    def owned(self) -> str:
        """Why no rental is priced."""
        return "yes"

    def told_owned(view: Any) -> Any:
        """As the row says."""
        return called("owned", view.row.stated("owned", "yes", TEXT))

    @figure("Lowest price of a day", money_for("day"), when=lambda s: s.smooth and s.row.rental)
    def daily_price(self) -> Step:
        return least_price, "the least of price ÷ days", *self.periods

    @figure("Deliveries of {s.row.title}", NUMBER)
    def deliveries(self) -> Step:
        return product, "units × mobilisations", self.units, self.hours.mobilisations

    @figure("{s.row.title} before rounding", EXACT_MONEY, label="exact")
    def cost(self) -> Step:
        words = "rental × units + deliveries × price of a delivery"
        return sum_of_products, words, (self.rental, self.units), (self.deliveries, self.row.delivery)

    @figure("{s.row.title}", MONEY, label=lambda line: line.row.title)
    def amount(self) -> Step:
        return rounded, "rounded once", self.cost, *self.till.places_and_way

    @property
    def title(self) -> str:
        """The row's title."""
        return self.row.title

    @property
    def amount_minor(self) -> int:
        """The amount in minor units."""
        return self.till.whole(self.amount)

    @property
    def mix(self) -> Mix:
        """The periods to rent for."""
        named = zip(self.periods, self.row.rental, strict=True)
        packs = [Pack(size, price, rental.period) for (size, price), rental in named]
        counts = [(pack, int(n)) for pack, n in zip(packs, self.period_counts.values(), strict=True) if n]
        held, cost = (sum((getattr(p, of) * n for p, n in counts), Fraction(0)) for of in ("size", "price"))
        return Mix(tuple(counts), cost, held - self.days)
