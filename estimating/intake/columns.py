"""The heading of a CSV schedule: which field of an opening line each column holds, and how its cells are read.

The names are those of the JSON lines; a field within a field has a dotted name (sill.kind, source.sheet). A length says
its unit in the heading (width_mm), which counts for bare numbers below it; a cell with units of its own keeps them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from estimating.core.kind_reading import kind_fields
from estimating.core.schedule_lines import LENGTH_NAMES, LINE_FIELDS
from rates.core.fields import Record

ALIASES = {
    "count": "quantity",
    "is_external": "external",
    "storey_elev": "storey_elevation",
    "alternate.name": "alternate",
}
# size: width and height in one cell
LENGTHS = (*LENGTH_NAMES, "size", "points", "storey_elevation", "sill.back_dam")
UNITS = ("mm", "cm", "m", "ft_in", "in", "ft")
REQUIRED = ("mark", "quantity")
_BARE = re.compile(r"-?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+|(?:[0-9]+[ -])?[0-9]+/[0-9]+)", re.ASCII)
_DASHED = re.compile(r"([0-9]+)-([0-9].*)", re.ASCII)
_PAIR = re.compile(r"([0-9])([0-9])([0-9])([0-9])", re.ASCII)
_BY = re.compile(r"\s*(?:[x×]|\bby\b)\s*", re.IGNORECASE)
_NAME = re.compile(r"[^a-z0-9.]+")

Value = object
ReadCell = Callable[[str], Value]


@dataclass(frozen=True, slots=True)
class Column:
    """A column: the path of its field in the line, and the reader of its cells."""

    path: tuple[str, ...]
    read: ReadCell


@lru_cache(maxsize=1)
def known_paths() -> dict[str, tuple[str, ...]]:
    """Every column name without its unit -> the path in a line."""
    paths: dict[str, tuple[str, ...]] = {"size": ("size",)}
    for field in (*LINE_FIELDS, *kind_fields(None)):
        inner = getattr(field.reader, "fields", ())
        paths |= {f"{field.name}.{own.name}": (field.name, own.name) for own in inner if own.name != "name"}
        if not isinstance(field.reader, Record):
            paths[field.name] = (field.name,)
    return paths


def read_heading(cell: str) -> Column | None:
    """The column that a heading names, or None where no field has this name."""
    name = _NAME.sub("_", cell.strip().lower()).strip("_")
    unit = next((unit for unit in UNITS if name.endswith(f"_{unit}")), "")
    for base, stated in ((name, ""), (name.removesuffix(f"_{unit}"), unit)):
        field = ALIASES.get(base, base)
        if field in known_paths() and (not stated or field in LENGTHS):
            return Column(known_paths()[field], cell_reader(field, stated))
    return None


def cell_reader(base: str, unit: str) -> ReadCell:
    """How a cell of this field is turned into what a JSON line would hold."""
    if base == "quantity":
        return read_count
    if base == "alternate.replaces":
        return read_marks
    if base not in LENGTHS:
        return str
    if base == "size":
        return lambda cell: split_size(cell, unit)
    if base == "points":
        return lambda cell: [[with_unit(part, unit) for part in point.split(",")] for point in cell.split(";")]
    return lambda cell: with_unit(cell, unit)


def read_count(cell: str) -> Value:
    """A plain whole number as int, anything else as it stands."""
    return int(cell) if len(cell) < 10 and cell.isascii() and cell.isdigit() else cell


def read_marks(cell: str) -> Value:
    """One mark, or several with a semicolon between them."""
    marks = [mark.strip() for mark in cell.split(";")]
    return marks if len(marks) > 1 else cell


def with_unit(cell: str, unit: str) -> str:
    """A bare number with the heading's unit; 6-8 in a column declared ft_in as 6' 8"."""
    text = cell.strip()
    if unit == "ft_in":
        dashed = _DASHED.fullmatch(text)
        return f"{dashed[1]}' {dashed[2]}" if dashed else text
    return f"{text} {unit}" if unit and _BARE.fullmatch(text) else text


def split_size(cell: str, unit: str) -> Value:
    """(width, height) of a size such as 3'-0" x 6'-8", or of 3068 in a column declared ft_in; None where it is none."""
    pair = _PAIR.fullmatch(cell) if unit == "ft_in" else None
    if pair is not None:
        return f"{pair[1]}' {pair[2]}\"", f"{pair[3]}' {pair[4]}\""
    parts = _BY.split(cell)
    return (with_unit(parts[0], unit), with_unit(parts[1], unit)) if len(parts) == 2 and all(parts) else None
