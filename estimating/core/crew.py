"""What an hour of the crew costs and gives.

Hour rate = wage + fringe + Σ burden; overtime multiplies the wage, never the fringe (DOL Prevailing Wage Resource
Book). A standard hour is one hour of one fully productive worker; its cost is Σ(count × rate) / Σ(count × share).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from estimating.core.request import Crew
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.problems import Problem
from rates.core.rows import LabourRow


def hour_rate(row: LabourRow, *, overtime: bool = False) -> Fraction:
    """Money (major units) for one hour paid, straight time or overtime."""
    wage = row.wage * row.overtime_multiplier if overtime else row.wage
    burden = sum((b.rate * (wage if b.on == "wage" else row.wage) for b in row.burden), Fraction(0))
    return wage + row.fringe + burden


@dataclass(frozen=True)
class CrewCost:
    """The crew's rows with their counts, and what follows from them (hours are standard worker-hours)."""

    members: tuple[tuple[LabourRow, int], ...]
    hours_per_day: Fraction

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
        return sum((hour_rate(row) * count for row, count in self.members), Fraction(0))

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


def crew_cost(crew: Crew, card: Card, faults: Faults) -> CrewCost | None:
    """The crew at the card's rates, or None with a fault for each labour row that is not there."""
    before = len(faults)
    members = []
    rows = {row.code: row for row in card.labour}
    for i, member in enumerate(crew.members):
        row = rows.get(member.labour)
        if row is None:
            detail = f'the edition has no labour row "{member.labour}"'
            faults.append(Problem(f"/crew/members/{i}/labour", "unknown_row", detail))
        else:
            members.append((row, member.count))
    return None if len(faults) > before else CrewCost(tuple(members), card.production.hours_per_day)
