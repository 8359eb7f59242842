"""Rental: days that the access is worked from, the least-cost mix of day, week and month, units for the crew."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from estimating.core.crew import CrewCost
from estimating.core.packs import Mix, Pack, least_cost_mix, lowest_unit_price
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.money import round_to_minor
from rates.core.rows import EquipmentRow, Production


@dataclass(frozen=True)
class EquipmentLine:
    """One rental row: touch minutes worked from it, days, units, the mix of periods, deliveries, money."""

    row: EquipmentRow
    touch_minutes: Fraction
    exact_days: Fraction
    days: int
    units: int
    mix: Mix
    daily_price: Fraction
    deliveries: int
    exact_amount: Fraction
    amount_minor: int


def periods(row: EquipmentRow, production: Production) -> tuple[Pack, ...]:
    """The rental periods as packs of days."""
    days = {"day": Fraction(1), "week": production.days_per_week, "month": production.days_per_month}
    return tuple(Pack(days[period], price, period) for period, price in row.rental)


def equipment_line(
    row: EquipmentRow, touch_minutes: Fraction, crew: CrewCost, mobilisations: int, card: Card, smooth: bool
) -> EquipmentLine:
    """The row's rental; `smooth` prices fractional days at the lowest daily price."""
    exact_days = touch_minutes / 60 / crew.daily_hours
    days = ceil(exact_days)
    units = -(-crew.workers // row.per_workers) if row.per_workers else 1
    packs = periods(row, card.production)
    mix, daily = least_cost_mix(Fraction(days), packs), lowest_unit_price(packs)
    rental = exact_days * daily if smooth else mix.cost
    deliveries = units * mobilisations
    exact = rental * units + row.delivery * deliveries
    amount = round_to_minor(exact, card.currency, card.rounding)
    return EquipmentLine(row, touch_minutes, exact_days, days, units, mix, daily, deliveries, exact, amount)


def equipment_lines(
    touch_by_access: Mapping[str, Fraction], crew: CrewCost, mobilisations: int, card: Card, smooth: bool
) -> tuple[EquipmentLine, ...]:
    """A line for each row whose access is worked from, in the order of the table."""
    lines = []
    for row in card.equipment:
        minutes = sum((touch_by_access.get(a, Fraction(0)) for a in set(row.for_access)), Fraction(0))
        if minutes:
            lines.append(equipment_line(row, minutes, crew, mobilisations, card, smooth))
    return tuple(lines)
