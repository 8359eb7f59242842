"""What each row of a table is: an opening line, a stated total, a section heading, or a note."""

from __future__ import annotations

import re
from dataclasses import dataclass

from estimating.intake.expansion import read_count
from estimating.intake.grid import GridRow
from estimating.intake.tables import Table
from estimating.intake.vocabulary import TOTAL

LINE, TOTALS, SECTION, NOTE = "line", "totals", "section", "note"
_STOREY = re.compile(
    r"(?:level|floor|storey|story|lvl)\s+[a-z0-9]{1,3}|(?:[0-9]{1,3}(?:st|nd|rd|th)|first|second|third|fourth|ground)"
    r"\s+(?:floor|level|storey|story)|basement|ground|roof|penthouse|mezzanine",
    re.IGNORECASE,
)
_SIDE = re.compile(r"((?:north|south|east|west){1,2})(?:\s+(?:elevation|facade|side|face))", re.IGNORECASE)
_NOTES = re.compile(r"(?:general |window |door )?notes?\b", re.IGNORECASE)
_MARK = re.compile(r"[^\s]{1,16}")
SIZES = ("width", "height", "size", "diameter")


@dataclass(slots=True)
class Columns:
    """Where a table's carrying fields stand."""

    mark: int | None
    quantity: int | None
    sizes: tuple[int, ...]
    counts: tuple[tuple[int, str], ...]  # (column, elevation)

    @classmethod
    def of(cls, table: Table) -> Columns:
        """Those of a table; a type column stands in for a missing mark column."""
        mark = table.column("mark")
        if mark is None:
            mark = table.column("type")
        sizes = tuple(c for name in SIZES if (c := table.column(name)) is not None)
        counts = tuple((c, h.path[0]) for c, h in table.columns.items() if h.field == "elevation_count")
        return cls(mark, table.column("quantity"), sizes, counts)

    def text(self, row: GridRow, column: int | None) -> str:
        """A cell's text, blank where there is no such column."""
        return row.cell(column) if column is not None else ""


def kind_of_row(row: GridRow, columns: Columns, in_notes: bool) -> str:
    """LINE, TOTALS, SECTION or NOTE."""
    mark = columns.text(row, columns.mark)
    counted = [columns.text(row, columns.quantity), *(row.cell(c) for c, _ in columns.counts)]
    sized = any(row.cell(c) for c in columns.sizes)
    if not sized and any(TOTAL.match(cell) for cell in row.cells if cell):
        return TOTALS
    if sized or any(counted):
        return NOTE if in_notes and row.filled <= 2 and not sized else LINE
    if not mark:
        return NOTE if in_notes or _NOTES.match(first(row)) or not place_of_section(first(row)) else SECTION
    if row.filled == 1:
        if place_of_section(mark) and not in_notes:
            return SECTION
        return LINE if _MARK.fullmatch(mark) and any(c.isdigit() for c in mark) and not in_notes else NOTE
    return NOTE if in_notes or _NOTES.match(mark) or len(mark) > 40 else LINE


def first(row: GridRow) -> str:
    """The first filled cell."""
    return next((cell for cell in row.cells if cell), "")


def starts_notes(row: GridRow) -> bool:
    """Whether notes begin here: a lone cell NOTES, or NOTE 1: …"""
    return row.filled <= 2 and bool(_NOTES.match(first(row)))


def place_of_section(text: str) -> tuple[str, str] | None:
    """("storey" or "elevation", its name) where a section's heading is just that."""
    plain = text.strip().rstrip(":")
    if _STOREY.fullmatch(plain):
        return "storey", plain
    side = _SIDE.fullmatch(plain)
    return ("elevation", side[1].capitalize()) if side else None


def stated_total(row: GridRow, columns: Columns) -> int | None:
    """The count that a totals row states; None where it states none that can be read."""
    stated = columns.text(row, columns.quantity)
    if stated:
        return read_count(stated)
    counts = [read_count(row.cell(c)) for c, _ in columns.counts if row.cell(c)]
    if counts and all(count is not None for count in counts):
        return sum(count or 0 for count in counts)
    numbers = [count for cell in row.cells if (count := read_count(cell)) is not None]
    return numbers[0] if len(numbers) == 1 else None
