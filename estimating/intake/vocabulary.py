"""The words that headings and cells of schedules are written with, and the field or value that each means.

Trade words (common practice, no source). Where a heading could mean two things it is left out and asked about.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from estimating.intake.columns import read_heading
from rates.core.tables import ACCESS, SUBSTRATES

UNIT_WORDS = {
    **dict.fromkeys(("mm", "millimeters", "millimetres", "millimeter", "millimetre"), "mm"),
    **dict.fromkeys(("cm", "centimeters", "centimetres"), "cm"),
    **dict.fromkeys(("m", "meters", "metres", "meter", "metre"), "m"),
    **dict.fromkeys(("in", "inch", "inches", '"'), "in"),
    **dict.fromkeys(("ft", "feet", "foot", "'"), "ft"),
    **dict.fromkeys(
        ("ft-in", "ftin", "feet-inches", "ft in", "feet & inches", "feet and inches", "feet inches"), "ft_in"
    ),
}
BASIS = {
    "rough": "rough", "ro": "rough", "r.o": "rough", "r.o.": "rough", "structural": "rough", "masonry": "rough",
    "nominal": "nominal", "nom": "nominal", "nom.": "nominal", "frame": "frame", "unit": "frame", "overall": "frame",
    "leaf": "leaf", "panel": "leaf", "slab": "leaf", "clear": "clear", "glass": "clear", "daylight": "clear",
}  # fmt: skip
FILLER = frozenset({"opening", "openings", "window", "windows", "door", "doors", "the", "of", "&", "and", "dims"})
FIELDS = {
    "mark": "mark tag no no. number # symbol item",
    "quantity": "qty qty. quantity count nos ea ea. each pcs total-qty total-quantity no-of no.-of no-off number-of"
    " qty-total",
    "width": "width w wide wd w.",
    "height": "height h ht ht. high hgt h.",
    "size": "size sizes dimensions dimension wxh w-x-h width-x-height size-wxh size-w-x-h",
    "diameter": "diameter dia dia. diam",
    "kind": "kind category opening-kind opening-type",
    "storey": "storey story level floor lvl level/floor floor/level storey/level",
    "elevation": "elevation elev elev. facade façade face side orientation",
    "access": "access",
    "substrate": "substrate sheathing",
    "external": "external exterior is-external ext/int int/ext exterior/interior interior/exterior isexternal",
    "treated_depth": "treated-depth return-depth return",
    "height_above_grade": "height-above-grade above-grade",
    "note": "note notes remark remarks comment comments",
    "type": "type type-mark",
}
MEANING = {word: field for field, words in FIELDS.items() for word in words.split()}
ELEVATIONS = {
    **{name: name.capitalize() for name in ("north", "south", "east", "west")},
    **{name[0]: name.capitalize() for name in ("north", "south", "east", "west")},
}
KINDS = (
    ("window", ("window", "windows", "win", "fixed", "casement", "awning", "slider", "hung")),
    ("door", ("door", "doors", "entrance")),
    ("louvre", ("louvre", "louver", "louvres", "louvers")),
    ("duct", ("duct", "ducts")),
    ("pipe", ("pipe", "pipes", "conduit", "sleeve")),
    ("other", ("other",)),
)
APART = re.compile(
    r"curtain[ -]?wall|skylight|roof[ -]window|storefront|infill(?:ed)?\b|by others", re.IGNORECASE
)  # usually another trade's work, or none
TRUE_WORDS = frozenset({"true", "yes", "y", "ext", "ext.", "exterior", "external", "x", "1"})
FALSE_WORDS = frozenset({"false", "no", "n", "int", "int.", "interior", "internal", "0"})
UNKNOWN_WORDS = frozenset({"", "n/a", "na", "-", "–", "—", "?", "tbd", "tbc", "unknown", "none given", "varies", "var"})
TOTAL = re.compile(r"(?:grand |sub-?\s?)?totals?\b|sum\b", re.IGNORECASE)
_BRACKETS = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_DECLARED = re.compile(
    r"(?:all\s+)?(?:dimensions?|dims\.?|sizes|lengths|units?)\b[^.;]{0,30}?\b"
    r"(millimet(?:re|er)s|centimet(?:re|er)s|met(?:re|er)s|inches|feet|mm|cm)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Heading:
    """What a heading means: a field (or "elevation_count"), its unit, its size basis, its dotted path."""

    field: str
    unit: str = ""
    basis: str = ""
    path: tuple[str, ...] = ()


@lru_cache(maxsize=4096)
def understand(text: str) -> Heading | None:
    """The meaning of a heading, None where it has none here."""
    exact = read_heading(text) if "_" in text or " " not in text.strip() else None
    if exact is not None and text.strip().lower() == text.strip():
        name = ".".join(exact.path)
        return Heading(name, unit_suffix(text), "", exact.path)
    words, unit = split_unit(text)
    basis = next((BASIS[word] for word in words if word in BASIS), "")
    joined = "-".join(words)
    kept = [word for word in words if word not in BASIS and word not in FILLER]
    field = MEANING.get(joined) or MEANING.get("-".join(kept))
    if field is None and not kept and words:
        field = "mark" if basis == "" and words[0] in ("opening", "window", "door") else ("size" if basis else None)
    if field is None:
        return None
    return Heading(field, unit, basis if field in ("width", "height", "size") else "", (field,))


def unit_suffix(text: str) -> str:
    """The unit that a heading such as width_mm ends with."""
    name = text.strip().lower()
    return next((unit for unit in ("ft_in", "mm", "cm", "in", "ft", "m") if name.endswith(f"_{unit}")), "")


def split_unit(text: str) -> tuple[list[str], str]:
    """A heading's words in lower case, without brackets and dashes, and the unit that it states."""
    plain = " ".join(text.lower().replace("\u00a0", " ").split())
    unit = ""
    for inner in _BRACKETS.findall(plain):
        found = unit_of(inner)
        if found:
            unit = found
            plain = plain.replace(f"({inner})", " ").replace(f"[{inner}]", " ").replace(f"{{{inner}}}", " ")
    plain = re.sub(r"[()\[\]{},:_]", " ", plain)
    words = plain.replace(" - ", " ").split()
    if len(words) > 1 and not unit and words[-1].strip(".") in UNIT_WORDS:
        unit = UNIT_WORDS[words.pop().strip(".")]
        if words[-1:] == ["in"] and len(words) > 1:
            words.pop()
    return words, unit


def unit_of(text: str) -> str:
    """The unit that the text of a bracket names; blank where it names none."""
    plain = text.strip().strip(".").removeprefix("in ").strip()
    return UNIT_WORDS.get(plain) or UNIT_WORDS.get(text.strip().strip(".")) or ""


def declared_unit(text: str) -> str:
    """The unit that a title or a note declares for the sheet (ALL DIMENSIONS IN MILLIMETRES), blank where none."""
    match = _DECLARED.search(text[:400])
    return UNIT_WORDS.get(match[1].lower(), "") if match else ""


@lru_cache(maxsize=4096)
def kind_of(text: str) -> str | None:
    """The kind of opening that a cell, a sheet's name or a title names; None where it names none, or several."""
    words = set(re.findall(r"[a-z]+", text.lower()))
    found = [kind for kind, names in KINDS if words & set(names)]
    return found[0] if len(found) == 1 else None


def apart(text: str) -> str | None:
    """What takes an opening out of the usual work (a curtain wall, a skylight), where its words say so."""
    match = APART.search(text)
    return match[0].lower() if match else None


def choice_of(text: str, words: tuple[str, ...]) -> str | None:
    """One of a field's words, however it is spaced; None where it is none of them."""
    plain = "_".join(text.lower().replace("-", " ").split())
    return plain if plain in words else None


def access_of(text: str) -> str | None:
    """The access that a cell names."""
    return choice_of(text, ACCESS)


def substrate_of(text: str) -> str | None:
    """The substrate that a cell names."""
    return choice_of(text, SUBSTRATES)
