"""What an hour of the crew costs and gives.

Hour rate = wage + fringe + Σ burden; overtime multiplies the wage, never the fringe (DOL Prevailing Wage Resource
Book). Where a week of more than forty hours is stated, an hour is the mean one of that week. A standard hour is one
hour of one fully productive worker; its cost is Σ(count × rate) / Σ(count × share).
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.figures.figure import MINUTES_IN_AN_HOUR, Step, called, figure, figures, told
from estimating.core.figures.printing import EXACT_MONEY, NUMBER, Unit
from estimating.core.figures.rules import product, proportion, quotient, sum_of_products, total
from estimating.core.wages import AN_HOUR, LabourRate
from rates.core.fields import Faults
from rates.core.problems import Problem

A_DAY = Unit("hours/day", "number")


@dataclass(eq=False, repr=False)
class CrewCost(PartSubject):
    """The members' labour rows with their counts, and what follows from them (hours are standard worker-hours)."""

    conditions: Conditions
    rates: tuple[LabourRate, ...]

    @cached_property
    def by_code(self) -> Mapping[str | None, Sequence[int]]:
        """Places in the crew by cost code, codes in order of first appearance."""
        found: dict[str | None, list[int]] = {}
        for k, rate in enumerate(self.rates):
            found.setdefault(rate.row.cost_code, []).append(k)
        return found

    @told
    def members(self) -> list[tuple[Any, LabourRate]]:
        """(count, labour row) of each member."""
        counts = zip(self.request.crew.members, self.rates, strict=True)
        return [(called(f"{rate.row.title}, how many", member.count), rate) for member, rate in counts]

    @figure("Workers", NUMBER, step="crew.workers")
    def workers(self) -> Step:
        return total, "Σ count", *(count for count, _ in self.members)

    @figure("Standard hours in an hour of the crew", NUMBER, step="crew.shares", label="standard hours in a crew hour")
    def shares(self) -> Step:
        terms = [(count, rate.row.productive_share) for count, rate in self.members]
        return sum_of_products, "Σ count × productive share", *terms

    @figure("Money for an hour of the crew", AN_HOUR, step="crew.money", label="money for a crew hour")
    def money(self) -> Step:
        return sum_of_products, "Σ count × hour rate", *((count, rate.rate) for count, rate in self.members)

    @figures("Weight of a cost code in labour", AN_HOUR, lambda s: range(len(s.by_code)), "crew.weight.{}")
    def weights(self, place: int) -> Step:
        words = "Σ count × hour rate of the members with this cost code"
        members, chosen = self.members, list(self.by_code.values())[place]
        return sum_of_products, words, *((members[k][0], members[k][1].rate) for k in chosen)

    @figure("Cost of a standard hour", AN_HOUR, step="hour_cost", label="cost of a standard hour")
    def standard_hour_cost(self) -> Step:
        words = "money for a crew hour ÷ standard hours in a crew hour, never rounded"
        return quotient, words, self.money, self.shares

    @figure("Standard hours in a day", A_DAY, step="crew.daily_hours", label="standard hours in a day")
    def daily_hours(self) -> Step:
        words = "hours a day × standard hours in a crew hour"
        return product, words, self.production.hours_per_day, self.shares

    @figure("Cost of an extra strip", EXACT_MONEY, label="cost of a strip's minutes")
    def strip_cost(self) -> Step:
        words = "minutes × cost of a standard hour ÷ 60"
        minutes = self.production.extra_strip_minutes
        return proportion, words, minutes, self.standard_hour_cost, MINUTES_IN_AN_HOUR


def crew_cost(conditions: Conditions, faults: Faults, day: datetime.date) -> CrewCost | None:
    """The crew at the card's rates, or None with a fault for each labour row that is not there or not for that day."""
    before = len(faults)
    members = []
    rows = {row.code: row for row in conditions.card.labour}
    for i, member in enumerate(conditions.request.crew.members):
        row = rows.get(member.labour)
        if row is None:
            detail = f'the edition has no labour row "{member.labour}"'
            faults.append(Problem(f"/crew/members/{i}/labour", "unknown_row", detail))
        elif row.determination is not None and not row.determination.covers(day):
            detail = f'determination {row.determination.number} of "{member.labour}" is not in force on {day}'
            faults.append(Problem(f"/crew/members/{i}/labour", "determination_not_in_force", detail))
        else:
            members.append(LabourRate(conditions, row))
    return CrewCost(conditions, tuple(members)) if len(faults) == before else None
