"""What the heading of a column means: a field, its unit, the basis of its sizes, feet or inches alone, a place counted.

Trade words (common practice, no source). Where a heading could mean two things it is not sure, and asked about.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.columns import read_heading
from estimating.intake.heading_words import read_heading_words
from estimating.intake.row_labels import read_row_label
from estimating.intake.vocabulary import UNIT_WORDS

COUNT = "count"  # openings of one place: a storey, an elevation, a building
OTHER = "other_size"  # a size on another basis than the rough opening, beside one that is rough
PART = "part"  # a unit alone, which says which part of the length beside it stands here
KNOWN_APART = frozenset({"property", "revision", "source", "room", "unit", "sides", "sill", "method"})  # words, heard
_UNIT_SIDE = re.compile(r"unit\s+(w|h|wd|ht|width|height)\.?", re.IGNORECASE)  # of the unit's frame, no dwelling W
_LEAVES = re.compile(
    r"(?:no\.? of |nr\.? of |number of |#\s*)?(?:leaves|leafs|panels)|vantaux|(?:anz\.? )?flügel|hojas", re.IGNORECASE
)
_UNITS = (
    r"(feet\s*(?:/|&|and)\s*inches|ft\.?\s*[-/&]?\s*in\b|millimet(?:re|er)s?|centimet(?:re|er)s?|m[eèé]tres?|meters?|mil[ií]metros|millimètres"
    r"|cent[ií]metros|centimètres|metros|millimeter|zentimeter|inches|feet|mm|cm|m|ft(?=\\s*(?:$|[.;,)])))"
)
_DECLARED = re.compile(
    r"(?:all\s+)?(?:dimensions?|dims\.?|sizes|lengths|units?|measurements?|ma(?:ß|ss)e|angaben|cotes|medidas)\b[^.;]{0,30}?"
    rf"\b(?:(?:in|en)\s+)?{_UNITS}\b"
    rf"|(?:openings?|\br\.?\s?o\.?|\bw\s*[x×]\s*h|öffnungen|baies|huecos)\b\.?(?:\s*,\s*|\s+(?:all\s+)?(?:in|en)\s+){_UNITS}\b\.?\s*(?:$|[.;,)])",
    re.IGNORECASE,
)
_DECLARED_WORDS = {
    "zentimeter": "cm", "milímetros": "mm", "milimetros": "mm", "centímetros": "cm", "centimetros": "cm",
    "metros": "m", "mètres": "m", "mètre": "m", "métres": "m", "centimètres": "cm", "millimètres": "mm",
}  # fmt: skip
_VALUE = re.compile(
    r"[^A-Za-z]*[0-9][^A-Za-z]*(?:\s*(?:x|×|by|mm|cm|m|in|ft|inch|inches|feet)\b[^A-Za-z]*)*", re.IGNORECASE
)

LONGEST = 1_000  # characters; a longer text heads no column


@dataclass(frozen=True, slots=True)
class Heading:
    """What a heading means. path: the field's dotted path; of a count its elevation, storey and building.

    part: "feet" or "inches" where the column holds that part of a length alone. sure: whether it can mean nothing else;
    choices: what it may mean. order: "height_first" where its sizes are height by width;
    title: the heading of a column of scope.
    """

    field: str
    unit: str = ""
    basis: str = ""
    path: tuple[str, ...] = ()
    part: str = ""
    sure: bool = True
    choices: tuple[str, ...] = ()
    order: str = ""
    title: str = ""


@lru_cache(maxsize=8192)
def understand(text: str) -> Heading | None:
    """The meaning of a heading, None where it has none here."""
    if len(text) > LONGEST or is_value(text):
        return None
    exact = read_heading(text) if "_" in text or " " not in text.strip() else None
    if exact is not None and text.strip().lower() == text.strip():
        return Heading(".".join(exact.path), unit_suffix(text), "", exact.path)
    if _LEAVES.fullmatch(text.strip()):
        return Heading("leaves", path=("leaves",))
    unit_side = _UNIT_SIDE.fullmatch(text.strip())
    if unit_side:
        field = "width" if unit_side[1].lower().startswith("w") else "height"
        return Heading(field, "", "frame", (field,))
    said = read_heading_words(text)
    if not said.field and read_row_label(text).kind in ("total", "subtotal"):
        return Heading("quantity", path=("quantity",))
    if not said.field and text.strip().lower().endswith("s"):
        said = read_heading_words(text.strip()[:-1])
    if said.field in ("", "count_at"):
        return Heading(PART, said.unit, "", (PART,), said.part) if said.part else None
    if (said.residue and said.field in KNOWN_APART) or (not said.sure and said.field in ("note", "property")):
        return None
    if said.residue and (len(text.strip()) < 5 or any(map(str.isdigit, said.residue))):
        return None  # W1 is a mark, no width
    part = {"ft": "feet", "in": "inches"}.get(said.unit, "") if said.field in ("width", "height") else ""
    basis = said.basis if said.field in ("width", "height", "size") else ""
    if basis or said.field in ("width", "height", "size"):
        basis = "rough" if "structural" in text.lower() else "masonry" if "brick" in text.lower() else basis
    return Heading(said.field, said.unit, basis, (said.field,), part, said.sure, said.choices, said.order, text)


def unit_suffix(text: str) -> str:
    """The unit that a heading such as width_mm ends with."""
    name = text.strip().lower()
    return next((unit for unit in ("ft_in", "mm", "cm", "in", "ft", "m") if name.endswith(f"_{unit}")), "")


def unit_of(text: str) -> str:
    """The unit that the text of a bracket names; blank where it names none."""
    plain = text.strip().strip(".").removeprefix("in ").strip()
    return UNIT_WORDS.get(plain) or UNIT_WORDS.get(text.strip().strip(".")) or ""


def declared_unit(text: str) -> str:
    """The unit that a title or a note declares for the sheet (ALL DIMENSIONS IN MILLIMETRES), blank where none."""
    match = _DECLARED.search(text[:400])
    if match is None:
        return ""
    word = (match[1] or match[2]).lower()
    if word.startswith(("feet", "ft")) and "in" in word:
        return "ft_in"
    return UNIT_WORDS.get(word) or _DECLARED_WORDS.get(word) or UNIT_WORDS.get(word.rstrip("s") + "s", "")


@lru_cache(maxsize=20_000)
def is_value(cell: str) -> bool:
    """Whether a cell is a number or a size, as lines hold and headings do not."""
    return bool(_VALUE.fullmatch(cell)) if cell else False
