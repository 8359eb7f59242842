"""Temperatures as exact degrees Fahrenheit; a data sheet writes "40 F", "40 °F" or "5 °C"."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from rates.core.exact import print_quantity, read_decimal
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable

WRITTEN = re.compile(r"([-\u2212]?[0-9]+(?:\.[0-9]+)?) ?°? ?([FC])", re.ASCII)
WIDEST = 1000


def from_celsius(degrees: Fraction) -> Fraction:
    """°F = °C × 9/5 + 32, exactly (NIST SP 811, B.8)."""
    return degrees * 9 / 5 + 32


TO_FAHRENHEIT: Mapping[str, Callable[[Fraction], Fraction]] = {"f": lambda degrees: degrees, "c": from_celsius}


def read_temperature(text: str) -> Fraction:
    """Degrees Fahrenheit of a text with its unit; Unreadable."""
    found = WRITTEN.fullmatch(text.strip())
    if found is None:
        raise Unreadable("not_a_temperature", "a temperature with its unit is expected, such as 40 F or 5 C")
    degrees = read_decimal(found[1].replace("\u2212", "-"))
    if abs(degrees) > WIDEST:
        raise Unreadable("too_large", "this is out of any likely temperature")
    return TO_FAHRENHEIT[found[2].lower()](degrees)


def print_temperature(fahrenheit: Fraction, units: str) -> str:
    """As people read it: whole tenths of °F, or of °C where the units are metric."""
    if units == "metric":
        return f"{print_quantity((fahrenheit - 32) * 5 / 9, 1)} °C"
    return f"{print_quantity(fahrenheit, 1)} °F"
