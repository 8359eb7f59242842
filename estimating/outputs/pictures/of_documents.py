"""Pictures of what documents say: amounts as they are written there, back in minor units."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from estimating.outputs.pictures.break_even import Bids, break_even_figure
from estimating.outputs.pictures.build_up import build_up_figure
from estimating.outputs.pictures.causes import causes_figure
from estimating.outputs.pictures.hours_by_elevation import hours_figure
from estimating.outputs.pictures.job_progress import Day, progress_figure
from estimating.outputs.printed.blocks import Figure
from rates.core.currencies import MINOR_DIGITS
from rates.core.fraction import Fraction

Rows = Sequence[Mapping[str, Any]]


def minor(amount: str, currency: str) -> int:
    """An amount as a document writes it in minor units."""
    return int(Decimal(amount).scaleb(MINOR_DIGITS[currency]))


def picture_of_causes(causes: Rows, currency: str) -> Figure:
    """The causes of a comparison's document."""
    return causes_figure([(told(row["cause"]), minor(row["amount"], currency)) for row in causes], currency)


def picture_of_build_up(steps: Rows, currency: str) -> Figure:
    """The build-up of an estimate's document."""
    return build_up_figure([(row["title"], minor(row["amount"], currency)) for row in steps], currency)


def picture_of_hours(breakouts: Rows) -> Figure | None:
    """The elevations of an estimate's breakouts; None where there is one place or none."""
    rows = [row for row in breakouts if row["by"] == "elevation" and Fraction(row["hours"])]
    names = {"place": "", "not_stated": "no elevation named", "joints": "sheathing joints"}
    places = [
        (str(row["name"] or names.get(row["what"], row["what"])), row["openings"], Fraction(row["hours"]))
        for row in rows
    ]
    return hours_figure(places) if len(places) > 1 else None


def picture_of_break_even(found: Mapping[str, Any], openings: int, currency: str) -> Figure | None:
    """The comparison per area of an estimate; None where no rate is stated, or nothing grows with the openings."""
    if found["stated_price"] is None or found["price_each"] is None:
        return None
    units = Fraction(10 ** MINOR_DIGITS[currency])
    equal = found["break_even_openings"]
    fixed, each, stated = (Fraction(found[name]) * units for name in ("fixed_price", "price_each", "stated_price"))
    return break_even_figure(Bids(fixed, each, stated, openings, None if equal is None else Fraction(equal)), currency)


def picture_of_progress(found: Any) -> Figure:
    """How far a job is, day by day."""
    days = [Day(str(day.day), Fraction(day.earned_so_far), Fraction(day.spent_so_far)) for day in found.days]
    return progress_figure(days, Fraction(found.target))


def told(code: str) -> str:
    """A code as words with a capital."""
    return code.replace("_", " ").capitalize()
