"""Money as whole minor units of one currency: the only rounding to cents, and signed values made whole."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import lcm

from rates.core.currencies import MINOR_DIGITS
from rates.core.exact import print_scaled, read_decimal, shorten
from rates.core.exact import round_half_even as round_half_even
from rates.core.exact import round_half_up as round_half_up
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable

ROUNDINGS: dict[str, Callable[[Fraction | int], int]] = {"half_up": round_half_up, "half_even": round_half_even}


def minor_digits(currency: str) -> int:
    """How many decimal places an amount in this ISO 4217 code has: 2 for USD, 0 for JPY, 3 for KWD.

    Unreadable: unknown_currency.
    """
    places = MINOR_DIGITS.get(currency)
    if places is None:
        raise Unreadable("unknown_currency", f"{shorten(currency)} is not an active ISO 4217 code with a minor unit.")
    return places


def round_to_minor(value: Fraction | int, currency: str, rounding: str = "half_up") -> int:
    """An exact amount in major units as whole minor units; rounding is half_up (away from zero) or half_even."""
    return ROUNDINGS[rounding](value * 10 ** minor_digits(currency))


def to_major(minor: int, currency: str) -> Fraction:
    """The exact amount in major units."""
    return Fraction(minor, 10 ** minor_digits(currency))


def print_money(minor: int, currency: str) -> str:
    """The amount in major units with every place of the currency written: 165500 USD is 1655.00."""
    return print_scaled(minor, minor_digits(currency))


def read_money(text: str, currency: str) -> int:
    """A printed amount of this currency in minor units. Unreadable: no plain decimal, more places than it has."""
    minor = read_decimal(text, max_digits=60) * 10 ** minor_digits(currency)
    if minor.denominator != 1:
        raise Unreadable("too_many_places", f"{shorten(text)} has more decimal places than {currency}.")
    return int(minor)


def allocate_values(values: Sequence[Fraction | int], total: int) -> list[int]:
    """Signed exact values as whole numbers that sum to total: floored toward −∞, then by largest remainder.

    The missing units go one each to the largest fractions among nonzero values, ties to the earlier; a value of zero
    stays zero. A negative total is shared as its opposite is (so is 0 where the first value is above 0): opposite
    values always have opposite shares, ties among them. ValueError where total lies too far from the sum of the values.
    """
    first = next((value for value in values if value), 0)
    if total < 0 or (total == 0 and first > 0):
        return [-share for share in allocate_values([-value for value in values], -total)]
    pairs = [(value.numerator, value.denominator) for value in values]
    denominator = lcm(*{bottom for _, bottom in pairs})
    scaled = [top * (denominator // bottom) for top, bottom in pairs]
    floors = [value // denominator for value in scaled]
    missing = total - sum(floors)
    if not 0 <= missing <= len(scaled) - scaled.count(0):
        raise ValueError("the total is not the sum of the values")
    remainders = [value % denominator if value else -1 for value in scaled]
    for i in sorted(range(len(floors)), key=remainders.__getitem__, reverse=True)[:missing]:  # keeps the earlier first
        floors[i] += 1
    return floors
