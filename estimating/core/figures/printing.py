"""Exact values as text: whole and exact for the machine, rounded in the answer's units for the reader."""

from __future__ import annotations

from typing import NamedTuple

from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.money import minor_digits, print_money
from rates.core.units import AREA_NM2, LENGTH_NM, VOLUME_NM3

Value = Fraction | int | str
_CHUNK = 4000  # digits that one int may turn into text at once (the interpreter's own limit is 4300)
_WHOLE = 10**_CHUNK


class Unit(NamedTuple):
    """`text`: unit of the exact value; `shown`: the way it is printed, a key of the functions below."""

    text: str
    shown: str

    def in_currency(self, currency: str) -> Unit:
        """The unit with the currency's code for money."""
        return self._replace(text=self.text.replace(MONEY_CODE, currency))


MONEY_CODE = "{money}"  # stands for the job's currency in units
MONEY = Unit(MONEY_CODE, "money")
EXACT_MONEY = Unit(MONEY_CODE, "number")
NUMBER = Unit("", "number")
TEXT = Unit("text", "text")
LENGTH = Unit("nm", "length")
RUN = Unit("nm", "perimeter")
AREA = Unit("nm2", "area")
VOLUME = Unit("nm3", "volume")
EACH = Unit("each", "number")
COVERAGE = Unit("nm2/nm3", "coverage")
MINUTES = Unit("minutes", "number")
HOURS = Unit("hours", "number")
DAYS = Unit("days", "number")
PERCENT = Unit("%", "number")
DEGREES = Unit("degrees", "number")
OF_DIMENSION = {"length": RUN, "volume": VOLUME, "each": EACH}
UNITS = {
    "imperial": {"length": "in", "perimeter": "ft", "area": "ft2", "volume": "gal"},
    "metric": {"length": "mm", "perimeter": "m", "area": "m2", "volume": "L"},
}
PER = {RUN: "per_perimeter", VOLUME: "per_volume", EACH: "number"}
SIZES = LENGTH_NM | AREA_NM2 | VOLUME_NM3


def money_for(unit: Unit | str) -> Unit:
    """Money for each unit of a quantity, or for each hour, minute, day, area."""
    if isinstance(unit, str):
        return Unit(f"{MONEY_CODE}/{unit}", "number")
    return Unit(f"{MONEY_CODE}/{unit.text}", PER[unit])


def whole_text(number: int) -> str:
    """A whole number of any length in decimal digits."""
    if number < 0:
        return "-" + whole_text(-number)
    if number < _WHOLE:
        return str(number)
    high, low = divmod(number, _WHOLE)
    return whole_text(high) + str(low).zfill(_CHUNK)


def terminating_places(denominator: int) -> int | None:
    """Decimal places of a fraction in lowest terms with this denominator, or None where they never end."""
    twos = (denominator & -denominator).bit_length() - 1
    rest, fives = denominator >> twos, 0
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None


def exact_text(value: Value) -> str:
    """The exact value: decimal where it terminates, else numerator/denominator; a text as it is."""
    if isinstance(value, str):
        return str(value)  # a plain text, also of one that says where it is from
    places = terminating_places(value.denominator)
    if places is None:
        return f"{whole_text(value.numerator)}/{whole_text(value.denominator)}"
    scaled = abs(value.numerator) * (10**places // value.denominator)
    digits = whole_text(scaled).rjust(places + 1, "0")
    text = f"{digits[:-places]}.{digits[-places:]}" if places else digits
    return "-" + text if value < 0 else text


def in_shown_unit(value: Fraction | int, unit: Unit, units: str, currency: str) -> tuple[Fraction, str]:
    """(the exact value in the unit that the answer's reader is shown, that unit's word)."""
    names = UNITS[units]
    word, size = unit.text, Fraction(1)
    if unit.shown == "money":
        word = currency
    elif unit.shown in names:
        word = names[unit.shown]
        size = 1 / SIZES[word]
    elif unit.shown == "coverage":
        word = f"{names['area']}/{names['volume']}"
        size = SIZES[names["volume"]] / SIZES[names["area"]]
    elif unit.shown.startswith("per_"):
        name = names[unit.shown.removeprefix("per_")]
        word, size = f"{currency}/{name}", SIZES[name]
    return Fraction(value * size), word


def print_value(value: Value, unit: Unit, units: str, currency: str) -> str:
    """The value as the answer prints it, with its unit; quantities half-up at six places."""
    if isinstance(value, str):
        return str(value)
    shown, word = in_shown_unit(value, unit, units, currency)
    if unit.shown == "money":
        return f"{print_money(int(shown * 10 ** minor_digits(currency)), currency)} {word}"
    return f"{print_quantity(shown)} {word}".rstrip()
