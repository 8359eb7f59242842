"""Exact numbers as cells hold them: every digit of a short one, seventeen digits of any other."""

from __future__ import annotations

from decimal import Decimal, localcontext

from estimating.core.figures.printing import terminating_places
from rates.core.exact import print_scaled
from rates.core.fraction import Fraction
from rates.core.grid import Computed

DIGITS = 17  # that tell one number of binary64 from the next (IEEE 754-2019, 5.12.2)
MOST_PLACES = 6  # shown


def number_text(value: Fraction | int) -> str:
    """The value as plain decimal text: exact where it ends within 17 significant digits, else rounded to them."""
    places = terminating_places(value.denominator)
    if places is not None and places <= DIGITS and abs(value.numerator) < 10**DIGITS:
        return print_scaled(int(value * 10**places), places)
    with localcontext(prec=DIGITS):
        return f"{Decimal(value.numerator) / Decimal(value.denominator):f}"


def places_shown(text: str) -> int:
    """The decimal places that a reader needs to see of a number, at most six."""
    return min(len(text.partition(".")[2]), MOST_PLACES)


def number(value: Fraction | int, places: int | None = None, formula: str = "") -> Computed:
    """A number as a cell."""
    text = number_text(value)
    return Computed(text, places_shown(text) if places is None else places, formula)
