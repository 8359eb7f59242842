"""Checks of wages, prices, minutes and factors against what is likely."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.core.checks.bands import (
    CURRENCIES,
    FACTOR,
    HOURS_A_DAY,
    OPENING_MINUTES,
    OPENING_PERIMETER_NM,
    PIPE_MINUTES,
    PIPE_PERIMETER_NM,
    RENTALS,
    UNIT_PRICES,
    WAGE_AN_HOUR,
    Band,
)
from estimating.core.checks.case import Case, Rates
from estimating.core.checks.money import told
from estimating.core.checks.wording import amount
from rates.core.fraction import Fraction
from rates.core.production_rows import OpeningMinutes
from rates.core.units import LENGTH_NM, VOLUME_NM3

ONE_OF = {"gal": VOLUME_NM3["gal"], "ft": LENGTH_NM["ft"], "each": Fraction(1)}
FACTORS = ("access", "temperature", "congestion", "rework")


def money(about: str, title: str, value: Fraction, likely: Band, unit: str) -> Case:
    """An amount outside what is likely, by its unit."""
    low, high = (amount(end) for end in likely)
    return Case(about, {"title": title, "value": f"{amount(value)} {unit}", "low": low, "high": high})


def wages(rates: Rates) -> Iterator[Case]:
    """Wages that are unlikely."""
    for row in rates.labour if rates.card.currency in CURRENCIES else ():
        if not WAGE_AN_HOUR.holds(row.wage):
            yield money(row.code, row.title, row.wage, WAGE_AN_HOUR, "an hour")


def prices(rates: Rates) -> Iterator[Case]:
    """Prices of packs that are unlikely for what they hold, nothing among them."""
    for row in rates.materials if rates.card.currency in CURRENCIES else ():
        unit, likely = UNIT_PRICES[row.role]
        for pack in row.packs:
            price = pack.price * ONE_OF[unit] / pack.size
            if not likely.holds(price):
                yield money(f"{row.code} {pack.label}", f"{row.title}, {pack.label}", price, likely, f"a {unit}")


def rentals(rates: Rates) -> Iterator[Case]:
    """Rentals that are unlikely, nothing among them; what is owned may cost nothing."""
    for row in rates.equipment if rates.card.currency in CURRENCIES else ():
        for rental in row.rental:
            likely = RENTALS[rental.period]
            if not likely.holds(rental.price) and not (row.owned and not rental.price):
                yield money(f"{row.code} {rental.period}", row.title, rental.price, likely, f"a {rental.period}")


def of_length(minutes: OpeningMinutes, perimeter_nm: Fraction) -> Fraction:
    """Base minutes of an opening of so much perimeter."""
    return max(minutes.minimum, minutes.fixed + minutes.per.for_length(perimeter_nm))


def minutes(rates: Rates) -> Iterator[Case]:
    """Base minutes, factors and hours a day that are unlikely."""
    production = rates.card.production
    opening = of_length(production.opening_minutes, OPENING_PERIMETER_NM)
    if not OPENING_MINUTES.holds(opening):
        yield told("opening", "An opening of 4 ft by 4 ft", opening, OPENING_MINUTES, " minutes")
    if production.penetration_minutes is not None:
        pipe = of_length(production.penetration_minutes, PIPE_PERIMETER_NM)
        if not PIPE_MINUTES.holds(pipe):
            yield told("pipe", "A pipe of 4 in", pipe, PIPE_MINUTES, " minutes")
    for group in FACTORS:
        for name, value in getattr(production, group):
            if not FACTOR.holds(value):
                yield told(f"{group} {name}", f"The factor for {name.replace('_', ' ')}", value, FACTOR, "")
    if not HOURS_A_DAY.holds(production.hours_per_day):
        yield told("hours_per_day", "A working day", production.hours_per_day, HOURS_A_DAY, " hours")
