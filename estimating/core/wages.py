"""The hour rate of a labour row: wage, overtime in a mean hour of the week, fringe, each burden on its own base."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.figures.figure import Step, figure, figures, parameter, told, word
from estimating.core.figures.printing import NUMBER, Unit, money_for
from estimating.core.figures.rules import (
    difference,
    maximum,
    minimum,
    percent,
    product,
    proportion,
    quotient,
    shortfall,
    total,
)
from rates.core.fraction import Fraction
from rates.core.labour_rows import OVERTIME_AFTER, Burden, LabourRow

AN_HOUR = money_for("hour")
A_WEEK = Unit("hours/week", "number")
STRAIGHT = parameter("straight", 1)


@dataclass(eq=False, repr=False)
class LabourRate(PartSubject):
    """One labour row of the crew."""

    conditions: Conditions
    row: LabourRow

    @property
    def path(self) -> str:
        """labour.<code>"""
        return f"{self.prefix}labour.{word(self.row.code)}"

    @property
    def has_week(self) -> bool:
        """Whether a week is stated: by the request, else the row, else the production table."""
        return bool(self.request.crew.hours_per_week or self.row.hours_per_week or self.production.overtime)

    @property
    def after(self) -> Fraction:
        """The hours of a week that are paid straight."""
        table = self.production.overtime
        return Fraction(OVERTIME_AFTER) if table is None else table.after

    def told_after(view: Any) -> Any:
        """As the production table has it, or what stands where it says nothing."""
        return view.production.stated("overtime/after", view.subject.after, A_WEEK)

    @told
    def week_hours(self) -> Any:
        """The hours of that week."""
        if self.request.crew.hours_per_week is not None:
            return self.request.crew.hours_per_week
        if self.row.hours_per_week is not None:
            return self.row.hours_per_week
        table = self.production.overtime
        return None if table is None else table.hours_per_week

    @figure("Hour rate of {s.row.title}", AN_HOUR, label="hour rate")
    def rate(self) -> Step:
        words = "wage + overtime + fringe + Σ burden" if self.has_week else "wage + fringe + Σ burden"
        return total, words, *self.paid, self.row.fringe, *self.burden.values()

    @told
    def paid(self) -> list[Any]:
        """Wage, and overtime where a week is stated."""
        return [self.row.wage, self.overtime] if self.has_week else [self.row.wage]

    @figures(
        lambda s, k: s.row.burden[k].title,
        AN_HOUR,
        lambda s: range(len(s.row.burden)),
        "burden.{}",
        label=lambda s, k: s.row.burden[k].title,
    )
    def burden(self, k: int) -> Step:
        stated = self.row.burden[k]
        if k in self.burden_base:
            return percent, "percent of its base", self.burden_base[k], stated.percent
        return percent, "percent of the wage", self.row.wage, stated.percent

    def in_cash(self, burden: Any) -> bool:
        """Whether a burden falls on fringe that is paid in cash."""
        return bool(burden.on == "cash_wage" and self.row.fringe_paid == "cash")

    def has_base(self, burden: Burden) -> bool:
        """Whether a burden's base is more than the straight wage, or less of it."""
        return burden.limited or self.in_cash(burden) or (burden.on != "straight_wage" and self.has_week)

    def based(self) -> list[int]:
        """Places of the burdens that have a base of their own."""
        return [k for k, burden in enumerate(self.row.burden) if self.has_base(burden)]

    @told
    def fallen_on(self) -> Any:
        """By place, the pay that each burden falls on before its limit."""
        found = []
        for burden in self.row.burden:
            paid = [self.row.wage] if burden.on == "straight_wage" else self.paid
            in_cash = burden.on == "cash_wage" and self.row.fringe_paid == "cash"
            found.append([*paid, self.row.fringe] if in_cash else paid)
        return found

    @figures(lambda s, k: f"Base of {s.row.burden[k].title}", AN_HOUR, based, "burden.{}.base", label="base")
    def burden_base(self, k: int) -> Step:
        if k in self.limits:
            return minimum, "pay, at most the limit", self.limited_pay[k], self.limits[k]
        return total, "Σ of the pay that it falls on", *self.fallen_on[k]

    def limited(self) -> list[int]:
        """Places of the burdens that have a limit."""
        return [k for k, burden in enumerate(self.row.burden) if burden.limited]

    @figures(lambda s, k: f"Base of {s.row.burden[k].title}", AN_HOUR, limited, "burden.{}.base.pay")
    def limited_pay(self, k: int) -> Step:
        return total, "Σ of the pay that it falls on", *self.fallen_on[k]

    @figures(lambda s, k: f"Limit of {s.row.burden[k].title} for an hour", AN_HOUR, limited, "burden.{}.base.limit")
    def limits(self, k: int) -> Step:
        burden = self.row.burden[k]
        return quotient, "yearly limit ÷ hours of a year", burden.yearly_limit, burden.yearly_hours

    @figure("Overtime in a mean hour", AN_HOUR, when=lambda s: s.has_week)
    def overtime(self) -> Step:
        words = "premium × overtime hours ÷ hours of the week"
        return proportion, words, self.premium, self.overtime_hours, self.week_hours

    @figure("Premium of an hour", AN_HOUR, step="overtime.premium", when=lambda s: s.has_week)
    def premium(self) -> Step:
        return product, "base × extra", self.premium_base, self.extra

    @figure("Base of the premium", AN_HOUR, step="overtime.base", when=lambda s: s.has_week)
    def premium_base(self) -> Step:
        least = [] if self.row.determination is None else [self.row.determination.basic_rate]
        return maximum, "wage, at least the basic rate", self.row.wage, *least

    @figure("Extra of overtime", NUMBER, step="overtime.extra", when=lambda s: s.has_week)
    def extra(self) -> Step:
        return difference, "multiplier − 1", self.row.overtime_multiplier, STRAIGHT

    @figure("Overtime hours", A_WEEK, step="overtime.hours", label="overtime hours", when=lambda s: s.has_week)
    def overtime_hours(self) -> Step:
        return shortfall, "those past the straight", self.week_hours, self.after
