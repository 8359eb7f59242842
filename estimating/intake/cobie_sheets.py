"""The sheets of a COBie workbook (NBIMS-US V3 section 4.2) as records: by column name, filler and "n/a" left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.intake.vocabulary import UNKNOWN_WORDS
from rates.core.grid import Sheet

NEEDED = {"type": {"name", "nominalwidth", "nominalheight"}, "component": {"name", "typename"}}


@dataclass(frozen=True, slots=True)
class Record:
    """One row of a sheet."""

    sheet: Sheet
    row: int
    cells: dict[str, str]
    columns: dict[str, int]

    def text(self, name: str) -> str:
        """A value; blank where the cell is blank, n/a, or filled with its own column's name."""
        cell = self.cells.get(name, "").strip()
        plain = "".join(cell.lower().split())
        return "" if cell.lower() in UNKNOWN_WORDS or plain == name else cell

    def place(self, name: str | None = None) -> str:
        """The cell of a column, or the row."""
        return self.sheet.place(self.row, self.columns.get(name) if name else None)


def is_cobie(sheets: Sequence[Sheet]) -> bool:
    """Whether a workbook is a COBie handover: its Type and Component sheets have their columns."""
    named = {sheet.name.strip().lower(): sheet for sheet in sheets}
    return all(name in named and needed <= set(headings(named[name])) for name, needed in NEEDED.items())


def headings(sheet: Sheet) -> dict[str, int]:
    """Column by name, lower case without spaces."""
    if not sheet.rows:
        return {}
    return {"".join(cell.lower().split()): column for column, cell in enumerate(sheet.rows[0].cells) if cell}


def records(sheets: Sequence[Sheet], name: str) -> list[Record]:
    """The rows of the sheet of this name; none where there is no such sheet."""
    for sheet in sheets:
        if sheet.name.strip().lower() == name:
            columns = headings(sheet)
            return [
                Record(sheet, row.number, {key: row.cell(column) for key, column in columns.items()}, columns)
                for row in sheet.rows[1:]
            ]
    return []
