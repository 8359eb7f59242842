"""What the labour table of an edition holds once read: money of the major unit an hour, percentages as rates."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from rates.core.fraction import Fraction

OVERTIME_AFTER = 40  # hours of a workweek, 29 CFR 778.101


@dataclass(frozen=True)
class Determination:
    """A prevailing-wage determination for a class of worker in an area: a basic rate and a fringe an hour."""

    number: str
    area: str
    classification: str
    starts: datetime.date
    ends: datetime.date | None
    basic_rate: Fraction
    fringe: Fraction

    def covers(self, day: datetime.date) -> bool:
        """Whether it is in force on a day, the last one included."""
        return self.starts <= day and (self.ends is None or day <= self.ends)

    def is_met_by(self, wage: Fraction, fringe: Fraction) -> bool:
        """Whether wage and fringe together come to what is determined, however they are split."""
        return wage + fringe >= self.basic_rate + self.fringe


@dataclass(frozen=True)
class Burden:
    """A payroll burden: `rate` of the wage paid, of the straight-time wage, or of the wage with fringe paid in cash.

    Of no more than `yearly_limit` in a year of `yearly_hours`, where they are stated.
    """

    title: str
    rate: Fraction
    on: str
    yearly_limit: Fraction | None = None
    yearly_hours: Fraction | None = None

    @property
    def percent(self) -> Fraction:
        """The rate as the table writes it."""
        return self.rate * 100

    @property
    def limited(self) -> bool:
        """Whether it falls on no more than a limit, the yearly one spread evenly over the hours of a year."""
        return self.yearly_limit is not None and self.yearly_hours is not None


@dataclass(frozen=True)
class LabourRow:
    """A class of worker: money per hour, and the share of an hour that counts as a standard hour."""

    code: str
    title: str
    wage: Fraction
    fringe: Fraction
    burden: tuple[Burden, ...]
    overtime_multiplier: Fraction
    productive_share: Fraction
    cost_code: str | None
    source: str | None
    note: str | None
    fringe_paid: str = "plan"
    hours_per_week: Fraction | None = None
    determination: Determination | None = None
    grade: str | None = None


@dataclass(frozen=True)
class OvertimeRow:
    """The week that is worked: how many hours, and after how many each is overtime."""

    hours_per_week: Fraction
    after: Fraction
