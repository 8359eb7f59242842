"""Pay as US wage law works it out: overtime on the regular rate, prevailing wages, what wages load with.

Overtime: half of the regular rate more for every hour past forty of a week, the regular rate being all pay for the work
divided by all hours worked (29 CFR 778.107 to 778.115). On work under a prevailing-wage determination the half is of
the basic rate determined or of the wage paid, whichever is more; the fringe is never multiplied (DOL Prevailing Wage
Resource Book). Amounts are major units, exact; nothing is rounded here but where a function says so. Rates, ceilings
and section numbers are dated. A second way to the rates of estimating/core/wages.py, for the tests alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rates.core.fraction import Fraction
from rates.core.labour_rows import OVERTIME_AFTER, Determination

ONE_AND_A_HALF = Fraction(3, 2)


@dataclass(frozen=True)
class Work:
    """Hours at a rate, within one workweek."""

    hours: Fraction | int
    rate: Fraction | int


@dataclass(frozen=True)
class WeekPay:
    """A week's pay: straight-time pay, the regular rate that follows, and the overtime premium on it."""

    hours: Fraction
    straight: Fraction
    regular_rate: Fraction
    premium: Fraction

    @property
    def total(self) -> Fraction:
        """Straight-time pay and premium."""
        return self.straight + self.premium


def overtime_hours(hours: Fraction | int, after: Fraction | int = OVERTIME_AFTER) -> Fraction:
    """Hours of a week past those paid straight."""
    return max(Fraction(0), Fraction(hours) - after)


def week_pay(work: Sequence[Work], *, earnings: Fraction | int = 0, after: Fraction | int = OVERTIME_AFTER) -> WeekPay:
    """The pay of a week of work at one or several rates; `earnings` are bonuses and piece work in it.

    Regular rate: (Σ hours × rate + earnings) ÷ all hours (29 CFR 778.110, 778.111, and the weighted average of
    778.115). Premium: half of it for every hour past `after`. ValueError without hours.
    """
    hours = sum((Fraction(w.hours) for w in work), Fraction(0))
    if hours <= 0:
        raise ValueError("no hours were worked")
    straight = sum((Fraction(w.hours) * w.rate for w in work), Fraction(earnings))
    regular = straight / hours
    return WeekPay(hours, straight, regular, overtime_hours(hours, after) * regular / 2)


@dataclass(frozen=True)
class Week:
    """How many hours a week are worked, and after how many each is overtime."""

    hours: Fraction
    after: Fraction = Fraction(OVERTIME_AFTER)

    @property
    def overtime(self) -> Fraction:
        """Hours of overtime."""
        return overtime_hours(self.hours, self.after)

    def paid_hours(self, multiplier: Fraction = ONE_AND_A_HALF) -> Fraction:
        """Straight hours that the week is paid as: 48 worked at one and a half after 40 are 52 paid."""
        return self.hours + self.overtime * (multiplier - 1)


def premium_base(wage: Fraction, determination: Determination | None) -> Fraction:
    """What the overtime premium is worked on: the wage paid, at least the basic rate determined."""
    return wage if determination is None else max(wage, determination.basic_rate)


def mean_premium(wage: Fraction, multiplier: Fraction, week: Week, determination: Determination | None) -> Fraction:
    """The overtime premium of a week spread over all its hours, for one hour."""
    return premium_base(wage, determination) * (multiplier - 1) * week.overtime / week.hours


def prevailing_week(
    determination: Determination, wage: Fraction, fringe: Fraction, week: Week, multiplier: Fraction = ONE_AND_A_HALF
) -> Fraction:
    """What a week costs: wage and fringe for every hour, the premium for overtime; the fringe in cash or to a plan."""
    straight = week.hours * (wage + fringe)
    return straight + week.hours * mean_premium(wage, multiplier, week, determination)


def hourly_fringe(cost: Fraction | int, hours: Fraction | int) -> Fraction:
    """The cost of a plan for each hour worked in the time that it is paid for (29 CFR 5.25(c))."""
    return Fraction(cost) / hours


def limited_tax(rate: Fraction, pay: Fraction | int, limit: Fraction | int | None) -> Fraction:
    """A payroll tax on a year's pay up to a yearly limit, None for none."""
    return rate * (Fraction(pay) if limit is None else min(Fraction(pay), Fraction(limit)))


@dataclass(frozen=True)
class Loaded:
    """A wage with what it is loaded with, each as it is printed."""

    benefits: Fraction
    with_benefits: Fraction
    overhead: Fraction
    total: Fraction


def loaded_rate(
    wage: Fraction, benefits: Fraction, overhead: Fraction, round_to: Callable[[Fraction], Fraction], *, each_step: bool
) -> Loaded:
    """A wage loaded with benefits, then overhead on both: each step on the rounded one before it, or all on exact ones.

    round_to gives a printed amount of an exact one.
    """
    carry = round_to if each_step else (lambda exact: exact)
    first = carry(wage * benefits)
    both = carry(wage + first)
    second = carry(both * overhead)
    found = (first, both, second, both + second)
    return Loaded(*(round_to(value) for value in found))
