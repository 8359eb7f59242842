"""One cell of sizes read whole: its dimensions as lengths, counts and words beside them, or what can't be read of it.

cell > the decimal comma of its table > a plain length or pair > every dimension that its words name > the rest
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache

from estimating.intake.cells import Reading, blank, read_cell_length, read_cell_size
from estimating.intake.scope_words import read_words
from estimating.intake.size_patterns import BARE
from estimating.intake.size_words import Dimension, SizeText, Times, read_size_text
from rates.core.fraction import Fraction
from rates.core.units import LENGTH_NM

_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")
_POINT_THOUSANDS = re.compile(r"(?<=[0-9])\.(?=[0-9]{3}(?:[^0-9]|$))")
_QUOTED = re.compile(r"'([^']*)'")
_FEET_SLASH = re.compile(r"([0-9]{1,2})/([0-9]|1[01])", re.ASCII)
_SLASH = re.compile(r"([0-9]{2,5}(?:\.[0-9]+)?)\s*/\s*([0-9]{2,5}(?:\.[0-9]+)?)", re.ASCII)
_FEET = r"[0-9]{1,2}(?:'\s?-?\s?|\s?-\s?)[0-9]{1,2}(?:\s[0-9]{1,2}/[0-9]{1,2})?\"?"
_FEET_PAIR = re.compile(rf"(?<![0-9/'\"-])({_FEET})\s*/\s*({_FEET})(?![0-9/'-])", re.ASCII)  # 3-0/5-0: width and height
SIDES = {"first": "width", "second": "height", "width": "width", "height": "height"}
LEVELS = ("sill_height", "head_height")
DEEPEST = 16 * LENGTH_NM["in"]  # a third dimension above it is hardly a wall's depth (common practice, no source)
_ZERO = re.compile(r"[+±]?\s*0+(?:[.,]0+)?\s*(?:mm|cm|m|in|ft|\"|'(?:\s*-?\s*0\")?)?", re.ASCII)
_CHANGES = re.compile(
    r"(?<!△)(?<!△ )[0-9½¼¾°]"
    r"|(?<![a-z.])(?:[a-z](?!\.?\s?[a-z])|o\.?\s?c|[oi]\.?\s?d|cent(?:er|re)s?|deg\w*|spring\w*)(?![a-z])",
    re.IGNORECASE,
)
_LOOSE = re.compile(
    r"[<>]|\b(?:max|min|avg|average|var(?:y|ies|ying)?|up to|ea|each|a\.?f\.?f)\b"
    r"|\d['\"]?\s*(?:in|mm|cm|ft)?\.?\s+(?:to|thru)\s+\d",
    re.IGNORECASE,
)
_ABOUT = re.compile(r"[~±≈?]|\+ ?/ ?-|\b(?:approx|about|circa|ca|env|etwa|aprox)\b", re.IGNORECASE)
PARTS_OF_INCH = frozenset({2, 4, 8, 16, 32, 64})
_FRACTION = re.compile(r"([0-9]+)/([0-9]+)", re.ASCII)
MM = LENGTH_NM["mm"]
ROUNDING_NM = 2 * MM
_METRIC = re.compile(r"[0-9 ](?:mm|cm|m)\b")
_LENGTH_UNIT = re.compile(r"(?:mm|cm|m|in|ft|\"|'')\s*$")
DECIMAL, THOUSANDS = "decimal", "thousands"
NAMED = ("springline", "rise")
AROUND = {"diameter": "diameter", "outside_diameter": "diameter"}
ASIDE = frozenset({"thickness", "depth", "third", "sill_height", "head_height"})


@dataclass(frozen=True, slots=True)
class SizeCell:
    """found: field -> length as a line holds it; wrong: field (or "size") -> what can't be read of it.

    nominal: a nominal pipe size; outside: the diameter is said to be the outside one; counts, basis: told beside the
    size; aside: dimensions that make no opening; rest: words, and lengths that belong to no field; radius: a length.
    """

    found: dict[str, Reading] = field(default_factory=dict)
    wrong: dict[str, Reading] = field(default_factory=dict)
    nominal: str = ""
    outside: bool = False
    counts: tuple[Times, ...] = ()
    basis: tuple[str, ...] = ()
    aside: tuple[tuple[str, str], ...] = ()
    rest: str = ""
    radius: str = ""

    @property
    def comma_open(self) -> bool:
        """Whether it can't be read before it is known what its commas are."""
        return bool(self.wrong) and all(
            reading.could_be and reading.code == "ambiguous" for reading in self.wrong.values()
        )

    @property
    def unit_missing(self) -> bool:
        """Whether it can't be read for want of a declared unit or shorthand, and for nothing else."""
        open_units = [r.code in ("unit_missing", "ambiguous") and not r.could_be for r in self.wrong.values()]
        return bool(open_units) and all(open_units)


@lru_cache(maxsize=40_000)
def read_dimension(cell: str, name: str, unit: str, comma: str) -> SizeCell:
    """What a cell of a column of widths, heights or diameters says; `comma`: what a comma is, blank for unknown."""
    text = with_points(cell, comma)
    plain = read_cell_length(text, unit)
    if name in LEVELS and _ZERO.fullmatch(cell.strip()):
        return SizeCell({name: Reading("0 in", Fraction(0))})
    if (odd := odd_fraction(text, unit)) is not None:
        return SizeCell(wrong={name: odd})
    if not plain.code:
        return SizeCell({name: kept(plain, cell, text)})
    if blank(cell) or plain.could_be:
        return SizeCell(wrong={name: plain})
    said = read_size_text(text)
    dimensions = drop_said_again(said.dimensions, text)
    single = [one for one in dimensions if one.role in ("length", "bare", name)]
    radii = [one for one in dimensions if one.role == "radius"]
    if len(single) == 1 and len(dimensions) == 1 + len(radii):
        reading = read_cell_length(single[0].text, unit)
        done = {name: kept(reading, cell, reading.text)} if not reading.code else {}
        wrong = {} if done else {name: reading}
        radius = read_one(radii[0], unit).text if radii else ""
        rest = f"{said.residue} radius {radii[0].text}".strip() if radii and not radius else said.residue
        counts = tuple(one for one in said.counts if not is_millimetres(one, reading))
        return SizeCell(done, wrong, "", False, counts, said.basis, (), rest, radius)
    if said.dimensions and all(one.role not in ("bare", "length", "four_digits") for one in said.dimensions):
        return spread(said, unit, cell)
    return SizeCell(wrong={name: plain})


@lru_cache(maxsize=40_000)
def read_size(cell: str, unit: str, comma: str) -> SizeCell:
    """What a cell of a column of sizes says: width and height, a diameter, a nominal pipe size, words beside them."""
    text = _FEET_PAIR.sub(r"\1 x \2", with_points(cell, comma))
    pair = read_cell_size(text, unit)
    if not any(reading.code for reading in pair):
        return SizeCell({name: kept(r, cell, text) for name, r in zip(("width", "height"), pair, strict=True)})
    if blank(cell):
        return SizeCell(wrong={"size": pair[0]})
    if (slash := _SLASH.fullmatch(text.strip())) and unit not in ("", "ft_in", "ft"):
        sides = [read_cell_length(part, unit) for part in slash.groups()]
        if not any(side.code for side in sides):
            return SizeCell(
                {name: kept(side, cell, side.text) for name, side in zip(("width", "height"), sides, strict=True)}
            )
    said = read_size_text(text)
    if not said.dimensions:
        return SizeCell(wrong={"size": wrong_size(cell, pair)}, counts=said.counts, basis=said.basis, rest=said.residue)
    return spread(said, unit, cell)


def wrong_size(cell: str, pair: Iterable[Reading]) -> Reading:
    """Why a cell is no size."""
    return next(
        (reading for reading in pair if reading.code), Reading(code="not_a_size", detail=f"{cell[:40]!r} is no size")
    )


def spread(said: SizeText, unit: str, cell: str) -> SizeCell:
    """The dimensions of a text by the field that each belongs to."""
    found: dict[str, Reading] = {}
    wrong: dict[str, Reading] = {}
    aside: list[tuple[str, str]] = []
    loose: list[Dimension] = []
    radius = unread = ""
    for one in drop_said_again(said.dimensions, cell):
        name = SIDES.get(one.role) or AROUND.get(one.role) or (one.role if one.role in NAMED else "")
        if one.role == "overall_height":
            name = "height"
        elif one.role == "radius":
            radius = read_one(one, unit).text
            unread += f" radius {one.text}" if not radius else ""
        elif one.role in ASIDE and not (one.role == "third" and too_deep(one, said, unit)):
            aside.append((one.role, one.text))
        if one.role == "four_digits" and unit == "ft_in" and not found:
            pair = read_cell_size(one.text, unit)
            if not any(side.code for side in pair):
                found |= {
                    field: kept(side, cell, side.text) for field, side in zip(("width", "height"), pair, strict=True)
                }
                continue
        if not name:
            if (
                one.role in ("length", "bare", "four_digits", "inside_diameter", "third")
                and (one.role, one.text) not in aside
            ):
                loose.append(one)
            continue
        reading = read_one(one, unit)
        if name in found or name in wrong:
            wrong[name] = Reading(code="not_a_size", detail=f"{cell[:60]!r} gives more than one {name}")
            found.pop(name, None)
        elif reading.code:
            wrong[name] = reading
        else:
            found[name] = kept(reading, cell, reading.text)
    nominals = {one.text for one in said.dimensions if one.role == "nominal_pipe"}
    rest = (said.residue + unread).strip()
    if len(nominals) > 1 or (nominals and (found or loose or any(map(str.isdigit, rest)))):
        wrong, found = {"diameter": Reading(code="not_a_size", detail=f"{cell[:60]!r} gives more than one size")}, {}
    elif {"width", "height"} <= set(found) or "diameter" in found:
        rest = " ".join((rest, *(one.text for one in loose))).strip()
    elif loose:
        wrong["size"] = four_digits(loose[0], unit)
    outside = any(one.role == "outside_diameter" for one in said.dimensions)
    nominal = next(iter(nominals)) if nominals and not wrong else ""
    return SizeCell(found, wrong, nominal, outside, said.counts, said.basis, tuple(aside), rest, radius)


def differ(text: str, reading: Reading) -> bool:
    """Whether another cell gives the same side of an opening differently, by more than two systems round."""
    other = read_cell_length(text, "").nm
    return other is not None and reading.nm is not None and abs(other - reading.nm) > ROUNDING_NM


def is_millimetres(one: Times, reading: Reading) -> bool:
    """Whether a number in brackets is the length before it once more in millimetres: 48 in (1219)."""
    return one.how == "brackets" and reading.nm is not None and abs(one.count * MM - reading.nm) <= ROUNDING_NM


def drop_said_again(dimensions: tuple[Dimension, ...], text: str) -> tuple[Dimension, ...]:
    """The dimensions without those that say one before them again in the other system: 36 in (914 mm), 3'-0" [914].

    They agree within 2 mm, as figures rounded to the millimetre or to 1/16 in do; others stay, and are asked about.
    """
    kept: list[Dimension] = []
    first: dict[str, Fraction] = {}
    for one in dimensions:
        role = "length" if one.role in ("bare", "four_digits") else one.role
        length = read_one(one, "")
        if length.code and re.search(rf"\[[^\]]*{re.escape(one.text)}[^\]]*\]", text):
            length = read_cell_length(f"{one.text} mm", "")  # bare in square brackets: millimetres, as drawings have it
        again = role in first and length.nm is not None and _METRIC.search(length.text) is not None
        if again and length.nm is not None and abs(length.nm - first[role]) <= ROUNDING_NM:
            continue
        kept.append(one)
        if length.nm is not None and not _METRIC.search(length.text):
            first.setdefault(role, length.nm)
    return tuple(kept)


def odd_fraction(text: str, unit: str) -> Reading | None:
    """What is wrong with a number such as 1200/1210 or 35/36, which is two lengths and no part of an inch."""
    match = _FRACTION.search(text)
    if match is None or not (unit or _LENGTH_UNIT.search(text)):
        return None
    over, under = int(match[1]), int(match[2])
    metric = unit in ("mm", "cm", "m") or (not unit and _METRIC.search(text) is not None)
    if (under in PARTS_OF_INCH and over < under and not metric) or under < 12:
        return None
    unit = unit.replace("_", "-") if unit else _LENGTH_UNIT.search(text)[0].strip()  # type: ignore[index]
    both = (f"{over} {unit}", f"{under} {unit}") if match.start() == 0 else ()
    return Reading(code="not_a_size", detail=f"{match[0]} may be two lengths", could_be=both)


def too_deep(one: Dimension, said: SizeText, unit: str) -> bool:
    """Whether a third dimension is hardly a depth: a number without the unit of the others, or a length above 16 in."""
    if BARE.fullmatch(one.text) and not (BARE.fullmatch(said.dimensions[0].text) or one.unit):
        return True
    reading = read_one(one, unit)
    return reading.nm is not None and reading.nm > DEEPEST


def code_beside(cell: str, rest: str) -> str:
    """The code of what a cell says beside its size, blank where that changes nothing; rest: its words not read.

    A limit, one of several and a level may change it (36 in max, 36 to 40 in, 60 in AFF), as a number, an angle or o.c.
    may that is heard as nothing else; one that is about so is to be verified (~36 in, 36 in +/-).
    """
    alters = bool(_CHANGES.search(rest)) and not read_words(rest).of("scope", "shape", "count")
    if alters or _LOOSE.search(cell):
        return "words_beside_size"
    return "to_verify" if _ABOUT.search(cell) else ""


def four_digits(one: Dimension, unit: str) -> Reading:
    """What a number alone leaves open in a column of sizes."""
    if one.role == "four_digits" and not unit:
        return Reading(code="ambiguous", detail=f"{one.text} is a size only where the column is declared so")
    if one.role == "bare" and not unit:
        return Reading(code="unit_missing", detail=f"{one.text} has no unit and is one number")
    expected = 'a width and a height such as 3\'-0" x 6\'-8", or a diameter such as 4" dia, are expected'
    return Reading(code="not_a_size", detail=f"{expected}, not {one.text!r}")


def read_one(one: Dimension, unit: str) -> Reading:
    """The length of one dimension; the unit behind its pair counts for it, feet/inches for 6/8."""
    slash = _FEET_SLASH.fullmatch(one.text.strip())
    if slash and one.role in SIDES:
        return replace(read_cell_length(f"{slash[1]}'-{slash[2]}\"", ""), changed="feet/inches")
    own = read_cell_length(one.text, "")
    if own.code and one.unit:
        return read_cell_length(f"{one.text} {one.unit}", "")
    return read_cell_length(one.text, unit) if own.code else own


def kept(reading: Reading, cell: str, text: str) -> Reading:
    """The reading, marked as changed where the line does not hold the cell as it was written."""
    return reading if cell == text or reading.changed else replace(reading, changed="words")


def with_points(text: str, comma: str) -> str:
    """The text with points for decimal commas, thousands without their marks, and no quotes around the whole of it."""
    text = quoted[1] if (quoted := _QUOTED.fullmatch(text.strip())) else text
    if comma == THOUSANDS:
        return _COMMA.sub("", text)
    if comma == DECIMAL and "," in text:
        return _COMMA.sub(".", _POINT_THOUSANDS.sub("", text))
    return text


def names_sides(cell: str) -> bool:
    """Whether a size says itself which of its lengths is the width."""
    return any(one.role in ("width", "height") for one in read_size_text(cell).dimensions)
