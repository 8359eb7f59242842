"""What an hour of the crew costs and gives.

Hour rate = wage + fringe + Σ burden; overtime multiplies the wage, never the fringe (DOL Prevailing Wage Resource
Book). Where a week of more than forty hours is stated, an hour is the mean one of that week. A standard hour is one
hour of one fully productive worker; its cost is Σ(count × rate) / Σ(count × share).
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from math import ceil

from estimating.core.request import Crew
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.labour_rows import Burden, LabourRow, OvertimeRow
from rates.core.payroll import Week, mean_premium
from rates.core.problems import Problem

ALL_OVERTIME = Week(Fraction(1), Fraction(0))


def overtime_premium(row: LabourRow, week: Week | None) -> Fraction:
    """The overtime premium in a mean hour of the week, 0 where no week is stated."""
    return mean_premium(row.wage, row.overtime_multiplier, week, row.determination) if week is not None else Fraction(0)


def burden_base(row: LabourRow, burden: Burden, week: Week | None) -> Fraction:
    """What a burden falls on in a mean hour, before its limit: the straight wage, the wage paid, or all pay in cash."""
    if burden.on == "straight_wage":
        return row.wage
    paid = row.wage + overtime_premium(row, week)
    return paid + row.fringe if burden.on == "cash_wage" and row.fringe_paid == "cash" else paid


def burden_money(row: LabourRow, burden: Burden, week: Week | None) -> Fraction:
    """A burden in a mean hour."""
    base, limit = burden_base(row, burden, week), burden.hourly_limit
    return burden.rate * (base if limit is None else min(base, limit))


def hour_rate(row: LabourRow, *, overtime: bool = False, week: Week | None = None) -> Fraction:
    """Money (major units) for one hour paid: straight time, overtime, or a mean hour of a week with overtime."""
    week = ALL_OVERTIME if overtime else week
    burden = sum((burden_money(row, b, week) for b in row.burden), Fraction(0))
    return row.wage + overtime_premium(row, week) + row.fringe + burden


@dataclass(frozen=True)
class CrewCost:
    """The crew's rows with their counts, and what follows from them (hours are standard worker-hours)."""

    members: tuple[tuple[LabourRow, int], ...]
    hours_per_day: Fraction
    hours_per_week: Fraction | None = None  # as the request says
    overtime: OvertimeRow | None = None

    def week(self, row: LabourRow) -> Week | None:
        """The week that a member works: the request's, else the row's, else the production table's, else none."""
        table = self.overtime
        hours = self.hours_per_week or row.hours_per_week or (table.hours_per_week if table is not None else None)
        if hours is None:
            return None
        return Week(hours, table.after) if table is not None else Week(hours)

    def rate(self, row: LabourRow) -> Fraction:
        """Money for one hour of a member, major units."""
        return hour_rate(row, week=self.week(row))

    @property
    def workers(self) -> int:
        """How many people."""
        return sum(count for _, count in self.members)

    @property
    def productive_shares(self) -> Fraction:
        """Σ count × productive share: standard hours that one hour of the whole crew gives."""
        return sum((row.productive_share * count for row, count in self.members), Fraction(0))

    @property
    def money_per_crew_hour(self) -> Fraction:
        """Σ count × hour rate, major units."""
        return sum((self.rate(row) * count for row, count in self.members), Fraction(0))

    @property
    def standard_hour_cost(self) -> Fraction:
        """Cost of a standard hour, major units; never rounded."""
        return self.money_per_crew_hour / self.productive_shares

    @property
    def daily_hours(self) -> Fraction:
        """Standard hours that the crew gives in a day."""
        return self.hours_per_day * self.productive_shares

    def paid_hours(self, standard_hours: Fraction) -> Fraction:
        """Worker-hours paid for these standard hours."""
        return standard_hours / self.productive_shares * self.workers

    def exact_days(self, standard_hours: Fraction) -> Fraction:
        """Crew-days before rounding up."""
        return standard_hours / self.daily_hours

    def days(self, standard_hours: Fraction) -> int:
        """Whole crew-days: rounded up once, at the end."""
        return ceil(self.exact_days(standard_hours))


def crew_cost(crew: Crew, card: Card, faults: Faults, day: datetime.date) -> CrewCost | None:
    """The crew at the card's rates, or None with a fault for each labour row that is not there or not for that day."""
    before = len(faults)
    members = []
    rows = {row.code: row for row in card.labour}
    for i, member in enumerate(crew.members):
        row = rows.get(member.labour)
        if row is None:
            detail = f'the edition has no labour row "{member.labour}"'
            faults.append(Problem(f"/crew/members/{i}/labour", "unknown_row", detail))
        elif row.determination is not None and not row.determination.covers(day):
            detail = f'determination {row.determination.number} of "{member.labour}" is not in force on {day}'
            faults.append(Problem(f"/crew/members/{i}/labour", "determination_not_in_force", detail))
        else:
            members.append((row, member.count))
    if len(faults) > before:
        return None
    return CrewCost(tuple(members), card.production.hours_per_day, crew.hours_per_week, card.production.overtime)
