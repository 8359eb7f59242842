"""Rounding by formulas that give the service's cent, although a spreadsheet counts in binary fractions.

A half that is exact here may stand a little above or below it there, so a value is first rounded to `guard` places:
as many as a binary64 number of its size holds for certain. Where that would move the exact value itself over a half,
the value is no half, and it is rounded as it stands.
"""

from __future__ import annotations

from math import ceil, floor

from rates.core.exact import round_half_up
from rates.core.fraction import Fraction
from rates.core.money import ROUNDINGS

CERTAIN = 13  # significant digits, two fewer than binary64 holds, for what several steps may lose
MOST = 9


def guard(value: Fraction) -> int:
    """Decimal places to which a value is certain."""
    return max(0, min(MOST, CERTAIN - len(str(abs(int(value))))))


def guarded(value: Fraction, places: int) -> Fraction:
    """The value rounded half up to decimal places, as ROUND does."""
    return Fraction(round_half_up(value * 10**places), 10**places)


def steadied(text: str, value: Fraction, keeps: bool) -> str:
    """The expression rounded to what is certain, where the outcome keeps."""
    return f"ROUND({text},{guard(value)})" if keeps else text


def rounded(text: str, value: Fraction, places: int, way: str) -> str:
    """To decimal places, half away from zero (half_up) or to even (half_even)."""
    scale = 10**places
    near = guarded(value, guard(value))
    keeps = guard(value) > places and ROUNDINGS[way](near * scale) == ROUNDINGS[way](value * scale)
    if way == "half_up":
        return f"ROUND({steadied(text, value, keeps)},{places})"
    units = steadied(f"{text}*{scale}" if scale > 1 else f"({text})", value * scale, keeps)
    even = f"IF(ABS({units}-TRUNC({units}))=0.5,2*ROUND({units}/2,0),ROUND({units},0))"
    return f"{even}/{scale}" if scale > 1 else even


def rounded_up(text: str, value: Fraction) -> str:
    """To the next whole number."""
    keeps = ceil(guarded(value, guard(value))) == ceil(value)
    return f"ROUNDUP({steadied(text, value, keeps)},0)"


def floored(text: str, value: Fraction) -> str:
    """To the whole number below."""
    keeps = floor(guarded(value, guard(value))) == floor(value)
    return f"INT({steadied(text, value, keeps)})"
