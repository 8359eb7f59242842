"""Where each cell of a file ended: in a field of a line, a fact of the table, a question, or set aside with a reason.

table > what its columns and rows end in > single cells that end elsewhere > one end for every cell that is not empty
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

FIELD, FACT, QUESTION, SET_ASIDE = "field", "fact", "question", "set_aside"
End = tuple[str, str]


class CellEnd(NamedTuple):
    """One cell's end; row from 1, column from 0, row 0 for what a page carries above and below."""

    sheet: str
    row: int
    column: int
    end: str
    name: str


@dataclass(slots=True)
class TableEnds:
    """The ends of one table's cells: a cell's own, else its row's, else its column's."""

    columns: dict[int, End] = field(default_factory=dict)
    rows: dict[int, End] = field(default_factory=dict)
    cells: dict[tuple[int, int], End] = field(default_factory=dict)

    def column(self, column: int, end: str, name: str) -> None:
        """What the cells of a column end in on rows that are lines."""
        self.columns[column] = (end, name)

    def row(self, row: int, end: str, name: str) -> None:
        """What the cells of a row end in that is no line."""
        self.rows[row] = (end, name)

    def cell(self, row: int, column: int, end: str, name: str) -> None:
        """What one cell ends in."""
        self.cells[row, column] = (end, name)

    def of(self, row: int, column: int) -> End:
        """Where a cell ended; what nothing took is set aside as not used."""
        found = self.cells.get((row, column)) or self.rows.get(row) or self.columns.get(column)
        return found or (SET_ASIDE, "not_used")
