"""Exact numbers: decimal text in, Fraction out; rounding and printing without a float on the way."""

from __future__ import annotations

import re

from rates.core.fraction import Fraction
from rates.core.problems import Unreadable

_DECIMAL = re.compile(r"-?(?:[0-9]+(?:\.([0-9]+))?|\.([0-9]+))")


def shorten(text: str, most: int = 40) -> str:
    """The text as it can stand in a sentence: quoted, control characters escaped, cut where it is long."""
    return ascii(text[:most]) + ("…" if len(text) > most else "")


def read_decimal(text: str, *, max_digits: int = 15, max_places: int = 12) -> Fraction:
    """The exact value of a plain decimal such as 12, -0.5 or .375.

    ASCII digits, an optional leading minus and one point; no exponent, plus sign, separator or other script's digits.
    max_digits counts every digit as written, leading zeros too. Unreadable: not_a_number, too_many_digits,
    too_many_places.
    """
    if len(text) > max_digits + 2:
        if _DECIMAL.fullmatch(text[:200].rstrip(".")):
            raise Unreadable("too_many_digits", f"{shorten(text)} has more than {max_digits} digits.")
        raise Unreadable("not_a_number", f"{shorten(text)} is not a plain decimal number.")
    match = _DECIMAL.fullmatch(text)
    if match is None:
        raise Unreadable("not_a_number", f"{shorten(text)} is not a plain decimal number.")
    if sum(c.isdigit() for c in text) > max_digits:
        raise Unreadable("too_many_digits", f"{shorten(text)} has more than {max_digits} digits.")
    places = len(match[1] or match[2] or "")
    if places > max_places:
        raise Unreadable("too_many_places", f"{shorten(text)} has more than {max_places} decimal places.")
    return Fraction(int(text.replace(".", "")), 10**places)


def round_half_up(value: Fraction | int) -> int:
    """The nearest whole number, a half going away from zero (so -0.5 gives -1)."""
    numerator, denominator = value.numerator, value.denominator
    nearest = (2 * abs(numerator) + denominator) // (2 * denominator)
    return nearest if numerator >= 0 else -nearest


def round_half_even(value: Fraction | int) -> int:
    """The nearest whole number, a half going to the even neighbour."""
    whole, rest = divmod(value.numerator, value.denominator)
    twice = 2 * rest
    return whole + (twice > value.denominator or (twice == value.denominator and whole % 2 == 1))


def print_scaled(units: int, places: int) -> str:
    """The decimal text of units × 10^-places, every place written, never -0."""
    digits = str(abs(units)).rjust(places + 1, "0")
    text = digits if places == 0 else f"{digits[:-places]}.{digits[-places:]}"
    return "-" + text if units < 0 else text


def print_quantity(value: Fraction | int, places: int = 6) -> str:
    """The value as a decimal: half away from zero at `places`, trailing zeros dropped, never -0."""
    above, below = value.numerator * 10**places, value.denominator
    nearest = (2 * abs(above) + below) // (2 * below)  # as round_half_up, without a Fraction in between
    text = print_scaled(nearest if above >= 0 else -nearest, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def print_up(value: Fraction | int, places: int) -> str:
    """The value as a decimal, up at `places`, for what may not be less than is said; trailing zeros dropped."""
    return print_quantity(Fraction(-(-value * 10**places // 1), 10**places), places)


def with_commas(text: str) -> str:
    """A decimal text as people read it, thousands apart: 165500.00 is 165,500.00."""
    whole, point, places = text.partition(".")
    digits = whole.removeprefix("-")
    return f"{whole[: len(whole) - len(digits)]}{int(digits):,}{point}{places}"
