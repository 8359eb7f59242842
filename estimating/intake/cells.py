"""One cell read as a length or a size: what a JSON line would hold, or why it can't be read and what it could mean.

Nothing is decided here that the text doesn't decide: a bare number without a declared unit, 3068 and 6-8 without a
declared shorthand, 1,200 and a date are all left open, with the readings they could have.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.columns import split_size, with_unit
from estimating.intake.vocabulary import UNKNOWN_WORDS
from rates.core.exact import print_quantity, read_decimal
from rates.core.feet_inches import print_feet_inches
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable
from rates.core.units import read_length

MOST_PLACES = 9  # a metre to its nanometre; decimals behind are a computer's noise
_NOISE = re.compile(r"(-?[0-9]+\.[0-9]{10,})(.*)", re.ASCII | re.DOTALL)
_SIDE = re.compile(r"\s*([WH])\.?\s*$", re.IGNORECASE)
_COMMA = re.compile(r"([0-9]{1,3}),([0-9]{1,3})(\s*[a-z\"']*)", re.IGNORECASE | re.ASCII)
_SPACED = re.compile(r"([0-9]{1,2})[ '’]([0-9]{3})(?=\s*(?:mm)?$)", re.ASCII)  # 1 200 mm
_MORE_THAN_ONE = re.compile(r"(?<![0-9/.])([0-9]+)/(2|4|8|16|32|64)(?![0-9/])", re.ASCII)
_INCHES = re.compile(r"(?:\"|''|in|inch|inches)\.?\s*$", re.IGNORECASE)
_DAY = re.compile(r"[0-9]{4}-([0-9]{2})-([0-9]{2})", re.ASCII)
_BY = re.compile(r"\s*(?:[x×]|\bby\b)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Reading:
    """A length as a JSON line holds it, or the code and sentence of what is wrong.

    changed: how the text was tidied, blank where it stands as written; nm for comparing.
    """

    text: str = ""
    nm: Fraction | None = None
    snapped: bool = False
    changed: str = ""
    code: str = ""
    detail: str = ""
    could_be: tuple[str, ...] = ()


def blank(cell: str) -> bool:
    """Whether a cell says nothing: empty, a dash, TBD."""
    return cell.strip().lower() in UNKNOWN_WORDS


@lru_cache(maxsize=20_000)
def read_cell_length(cell: str, unit: str) -> Reading:
    """The length of a cell in a column of this unit (blank: none declared)."""
    if blank(cell):
        return Reading(code="unknown", detail="the cell says nothing")
    text, changed = tidy(cell)
    if unit == "mm" or text.endswith("mm"):
        text = _SPACED.sub(r"\1\2", text)
    if (unit == "in" or _INCHES.search(text)) and (lost := whole_and_part(text)) is not None:
        return Reading(code="not_a_length", detail=f"{cell[:40]!r} has a part of more than an inch", could_be=lost)
    text = with_unit(text, unit)
    try:
        length = read_length(text, unit="ft-in" if unit == "ft_in" else None)
    except Unreadable as why:
        return Reading(code=why.code, detail=why.detail, could_be=readings(cell, unit, why.code))
    if length.nm == 0:
        return Reading(code="unknown", detail="the cell says 0, which is no size")
    if length.nm < 0:
        return Reading(code="negative", detail="a size is not negative")
    return Reading(text, length.nm, length.snapped, changed)


def whole_and_part(text: str) -> tuple[str, ...] | None:
    """What 361/2 is where a space was lost, 36 1/2 in; None for a text without such a fraction."""
    match = _MORE_THAN_ONE.search(text)
    if match is None or int(match[1]) < int(match[2]):
        return None
    parts = [(match[1][:-digits], match[1][-digits:]) for digits in (1, 2)] if match.start() == 0 else []
    return tuple(
        f"{whole} {over}/{match[2]} in"
        for whole, over in parts
        if whole and not over.startswith("0") and int(over) < int(match[2])
    )


def tidy(cell: str) -> tuple[str, str]:
    """The text without binary noise in its decimals, and what was done."""
    text = " ".join(cell.replace("\u00a0", " ").split())
    match = _NOISE.fullmatch(text)
    if match is None:
        return text, ""
    whole, _, places = match[1].partition(".")
    try:
        value = read_decimal(f"{whole}.{places[:17]}", max_digits=30, max_places=17)
    except Unreadable:
        return text, ""
    scaled = value * 10**MOST_PLACES
    near = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    digits = str(abs(near)).rjust(MOST_PLACES + 1, "0")
    plain = f"{digits[:-MOST_PLACES]}.{digits[-MOST_PLACES:]}".rstrip("0").rstrip(".")
    return f"{'-' if near < 0 else ''}{plain}{match[2]}", "noise"


def readings(cell: str, unit: str, code: str) -> tuple[str, ...]:
    """What an ambiguous text could mean, each written so that it can be read."""
    comma = _COMMA.fullmatch(cell.strip())
    if comma:
        tail = comma[3].strip() or unit.replace("_", "-")
        return tuple(f"{number} {tail}".strip() for number in (f"{comma[1]}{comma[2]}", f"{comma[1]}.{comma[2]}"))
    return ()


def day_readings(cell: str) -> tuple[str, ...]:
    """The sizes that a date may have been typed as: 8 June for 6-8 or 8-6."""
    match = _DAY.fullmatch(cell)
    if match is None:
        return ()
    month, day = int(match[1]), int(match[2])
    return tuple(f"{feet}'-{inches}\"" for feet, inches in dict.fromkeys(((month, day), (day, month))) if inches < 12)


@lru_cache(maxsize=20_000)
def read_cell_size(cell: str, unit: str) -> tuple[Reading, Reading]:
    """Width and height of a cell such as 3'-0" x 6'-8", 6'-8"H x 3'-0"W, or 3068 where the column declares ft_in."""
    if blank(cell):
        nothing = Reading(code="unknown", detail="the cell says nothing")
        return nothing, nothing
    pair = split_size(cell.strip(), unit)
    parts = pair if isinstance(pair, tuple) else _BY.split(cell.strip())
    if len(parts) != 2:
        code = "ambiguous" if cell.strip().isdigit() and len(cell.strip()) == 4 else "not_a_size"
        wrong = Reading(
            code=code, detail=f"a width and a height such as 3'-0\" x 6'-8\" are expected, not {cell[:40]!r}"
        )
        return wrong, wrong
    sides = [_SIDE.search(part) for part in parts]
    texts = [_SIDE.sub("", part).strip() for part in parts]
    first, second = (read_cell_length(text, unit) for text in texts)
    turned = bool(sides[0] and sides[0][1].upper() == "H") or bool(sides[1] and sides[1][1].upper() == "W")
    return (second, first) if turned else (first, second)


def show(nm: Fraction, metric: bool) -> str:
    """A length as sentences print it."""
    if metric:
        return f"{print_quantity(Fraction(nm, 10**6), 1)} mm"
    return print_feet_inches(nm)
