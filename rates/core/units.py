"""Lengths, areas and volumes with their units, as exact nanometres, nm² and nm³.

One inch is 25.4 mm and one US gallon 231 in³, both exactly (NIST Handbook 44, Appendix C). The grammar of a length
stands in feet_inches; an area or a volume is one amount and one unit, a coverage "40 ft2/gal".
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from rates.core.exact import round_half_up, shorten
from rates.core.feet_inches import (
    AMOUNT_UNIT,
    INCH_NM,
    fold,
    join_feet_inches,
    match_dashed,
    match_feet,
    read_amount,
)
from rates.core.feet_inches import print_feet_inches as print_feet_inches
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable

LENGTH_NM: dict[str, Fraction] = {
    "in": Fraction(INCH_NM),
    "ft": Fraction(12 * INCH_NM),
    "yd": Fraction(36 * INCH_NM),
    "mil": Fraction(INCH_NM, 1000),
    "mm": Fraction(10**6),
    "cm": Fraction(10**7),
    "m": Fraction(10**9),
    "um": Fraction(10**3),
}
AREA_NM2: dict[str, Fraction] = {f"{unit}2": LENGTH_NM[unit] ** 2 for unit in ("in", "ft", "mm", "m")}
_CUBIC_INCH = LENGTH_NM["in"] ** 3
VOLUME_NM3: dict[str, Fraction] = {
    "gal": 231 * _CUBIC_INCH,
    "qt": 231 * _CUBIC_INCH / 4,
    "pt": 231 * _CUBIC_INCH / 8,
    "fl oz": 231 * _CUBIC_INCH / 128,
    "in3": _CUBIC_INCH,
    "L": Fraction(10**24),
    "mL": Fraction(10**21),
    "m3": Fraction(10**27),
}
FEET_INCHES = "ft-in"  # the declared unit of a column that writes 6-8 for 6'-8"
_SNAP_NM = Fraction(INCH_NM, 64)


def _spellings(units: dict[str, Fraction], others: dict[str, str]) -> dict[str, Fraction]:
    spelt = {unit.lower(): size for unit, size in units.items()}
    return spelt | {word: units[unit] for unit, words in others.items() for word in words.split(",")}


_LENGTHS = _spellings(
    LENGTH_NM,
    {
        "in": '",in.,inch,inches',
        "ft": "',ft.,foot,feet",
        "yd": "yd.,yds,yard,yards",
        "mil": "mils",
        "mm": "millimetre,millimetres,millimeter,millimeters",
        "cm": "centimetre,centimetres,centimeter,centimeters",
        "m": "metre,metres,meter,meters",
        "um": "micron,microns",
    },
)
_AREAS = _spellings(AREA_NM2, {"in2": "sq in", "ft2": "sq ft,sf", "mm2": "sq mm", "m2": "sq m"})
_VOLUMES = _spellings(
    VOLUME_NM3,
    {
        "gal": "gallon,gallons",
        "qt": "quart,quarts",
        "pt": "pint,pints",
        "fl oz": "floz",
        "in3": "cu in",
        "L": "litre,litres,liter,liters",
        "mL": "millilitre,millilitres,milliliter,milliliters",
        "m3": "cu m",
    },
)


@dataclass(frozen=True, slots=True)
class Length:
    """A length in nanometres; snapped says that decimal feet were moved to the nearest 1/64 in."""

    nm: Fraction
    snapped: bool = False


@lru_cache(maxsize=10_000)  # a schedule writes the same few lengths over and over
def read_length(text: str, *, unit: str | None = None) -> Length:
    """The exact length of a text in the grammar of feet_inches; a bare number takes `unit`.

    unit is a key of LENGTH_NM, or "ft-in" where 6-8 stands for 6'-8". Decimal feet that are no whole 1/64 in go to
    the nearest 1/64 in, half away from zero. Negative and zero are read: bounds are the caller's matter. Unreadable:
    unit_missing, ambiguous, unknown_unit, not_a_length and the codes of feet_inches.
    """
    sign, plain = fold(text)
    feet = match_feet(plain)
    if feet is not None:
        return _length_of_feet(sign, *feet)
    dashed = match_dashed(plain)
    if dashed is not None:
        if unit != FEET_INCHES:
            raise _ambiguous(text, f"{dashed[0]} ft {dashed[1]} in, or a range or a difference")
        return Length(sign * join_feet_inches(*dashed) * INCH_NM)
    match = AMOUNT_UNIT.fullmatch(plain)
    if match is None:
        raise Unreadable("not_a_length", f"{shorten(text)} can't be read as a length.")
    amount, word = match.groups()
    return _bare_length(text, sign, amount, unit) if not word else Length(sign * _times(amount, word, _LENGTHS, text))


def _length_of_feet(sign: int, feet: str, inches: str | None) -> Length:
    if inches is not None:
        return Length(sign * join_feet_inches(feet, inches) * INCH_NM)
    nm = read_amount(feet) * LENGTH_NM["ft"]
    steps = nm / _SNAP_NM
    if "." not in feet or steps.denominator == 1:
        return Length(sign * nm)
    return Length(sign * round_half_up(steps) * _SNAP_NM, snapped=True)


def _bare_length(text: str, sign: int, amount: str, unit: str | None) -> Length:
    if unit is None and _is_size_pair(amount):
        pair = f"{amount[0]}'-{amount[1]}\" x {amount[2]}'-{amount[3]}\""
        raise _ambiguous(text, f"{pair}, {amount} mm or another unit")
    if unit is None or unit == FEET_INCHES:
        raise Unreadable("unit_missing", f"{shorten(text)} has no unit and the document declares none that fits.")
    if unit == "ft":
        return _length_of_feet(sign, amount, None)
    if unit not in LENGTH_NM:
        raise Unreadable("unknown_unit", f"{shorten(unit)} is not a unit of length.")
    return Length(sign * read_amount(amount) * LENGTH_NM[unit])


def _is_size_pair(amount: str) -> bool:
    """Four digits that door schedules use for width and height, such as 3068 for 3'-0\" x 6'-8\"."""
    return len(amount) == 4 and amount.isdigit() and amount[:2] > "00" and amount[2:] > "00"


def _ambiguous(text: str, readings: str) -> Unreadable:
    return Unreadable("ambiguous", f"{shorten(text)} could be {readings}; write it with its units.")


def _times(amount: str, word: str, sizes: dict[str, Fraction], text: str) -> Fraction:
    size = sizes.get(word)
    if size is None:
        raise Unreadable("unknown_unit", f"The unit {shorten(word)} of {shorten(text)} is not known here.")
    return read_amount(amount) * size


def _read(text: str, sizes: dict[str, Fraction], code: str, what: str) -> Fraction:
    sign, plain = fold(text)
    match = AMOUNT_UNIT.fullmatch(plain)
    if match is None:
        raise Unreadable(code, f"{shorten(text)} can't be read as {what}.")
    if not match[2]:
        raise Unreadable("unit_missing", f"{shorten(text)} has no unit.")
    return sign * _times(match[1], match[2], sizes, text)


def read_area(text: str) -> Fraction:
    """The exact area in nm² of an amount with in2, ft2, mm2 or m2.

    Unreadable: not_an_area, unit_missing, unknown_unit and the codes of feet_inches.
    """
    return _read(text, _AREAS, "not_an_area", "an area")


def read_volume(text: str) -> Fraction:
    """The exact volume in nm³ of an amount with gal, qt, pt, fl oz (US), in3, L, mL or m3. Unreadable: as read_area."""
    return _read(text, _VOLUMES, "not_a_volume", "a volume")


def read_coverage(text: str) -> Fraction:
    """Area covered per volume, in 1/nm, of a text such as 40 ft2/gal or 5.2 m2/L.

    Unreadable: not_a_coverage, or as read_area for its upper part and read_volume for its lower.
    """
    area, slash, per = text.rpartition("/")
    lower = per.strip().lower()
    if not slash or lower not in _VOLUMES:
        raise Unreadable("not_a_coverage", f"{shorten(text)} is not an area per volume such as 40 ft2/gal.")
    return read_area(area) / _VOLUMES[lower]


def read_pack_size(text: str) -> tuple[str, Fraction]:
    """What a pack holds: ("length", nm), ("volume", nm³) or ("each", whole count).

    Unreadable: not_a_pack_size, unit_missing, unknown_unit and the codes of read_length.
    """
    sign, plain = fold(text)
    match = AMOUNT_UNIT.fullmatch(plain)
    if match is not None and match[2] in ("each", "ea"):
        count = read_amount(match[1])
        if count.denominator != 1:
            raise Unreadable("not_a_pack_size", f"{shorten(text)} is no whole number of pieces.")
        return ("each", sign * count)
    if match is not None and match[2] in _VOLUMES:
        return ("volume", read_volume(text))
    return ("length", read_length(text).nm)
