"""What the labour table of an edition holds once read: money of the major unit an hour, percentages as rates."""

from __future__ import annotations

from dataclasses import dataclass

from rates.core.fraction import Fraction
from rates.core.payroll import Determination


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
    def hourly_limit(self) -> Fraction | None:
        """The most of an hour's pay that it falls on, the yearly limit spread evenly; None for no limit."""
        if self.yearly_limit is None or self.yearly_hours is None:
            return None
        return self.yearly_limit / self.yearly_hours


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


@dataclass(frozen=True)
class OvertimeRow:
    """The week that is worked: how many hours, and after how many each is overtime."""

    hours_per_week: Fraction
    after: Fraction
