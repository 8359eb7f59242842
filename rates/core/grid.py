"""What every table is read into, sheets of text cells that know where they stand, and what it is written of."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from functools import lru_cache


class NumberText(str):
    """A decimal number as its text, every digit as printed."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Computed:
    """A number that a cell holds with more digits than it shows, or that its formula gives.

    value: plain decimal text, beside a formula what it gave when the workbook was made; places: decimal places shown;
    formula: as spreadsheets write it (OpenFormula, ISO/IEC 26300), without the sign of equality; blank for none.
    """

    value: str
    places: int
    formula: str = ""


Cell = str | NumberText | Computed | bool | datetime.date | datetime.datetime | None  # of a table that is written
Cells = list[Cell]

FORMULA, NO_VALUE, DATE, ERROR = "formula", "formula_without_value", "date", "error"


@dataclass(slots=True)
class GridRow:
    """One row that is not blank: its number in the file from 1, its cells, and what is unusual about some of them."""

    number: int
    cells: list[str]
    hidden: bool = False
    marked: dict[int, str] = field(default_factory=dict)  # column -> FORMULA, NO_VALUE, DATE or ERROR
    struck: dict[int, str] = field(default_factory=dict)  # column -> what is struck through of its text
    broken: dict[int, tuple[str, ...]] = field(default_factory=dict)  # column -> the lines of a cell of several

    def cell(self, column: int) -> str:
        """The cell's text; blank where the row is shorter."""
        return self.cells[column] if column < len(self.cells) else ""

    @property
    def filled(self) -> int:
        """How many cells hold something."""
        return len(self.cells) - self.cells.count("")


@dataclass(slots=True)
class Sheet:
    """One sheet of a workbook, or the only one of a text file (its name is blank)."""

    name: str
    rows: list[GridRow]
    hidden_columns: frozenset[int] = frozenset()
    merges: tuple[tuple[int, int, int, int], ...] = ()  # first row, first column, last row, last column
    hidden: bool = False
    comments: tuple[tuple[int, int, str], ...] = ()  # row, column, text of a cell's comment
    pages: tuple[str, ...] = ()  # what each printed page carries above and below
    boxes: tuple[str, ...] = ()  # texts in boxes that lie over the sheet
    turned: bool = False  # rows and columns changed places: the file has its openings side by side

    @property
    def width(self) -> int:
        """The number of columns in use."""
        return max((len(row.cells) for row in self.rows), default=0)

    def place(self, row: int, column: int | None = None) -> str:
        """A cell as a person names it: Doors!C7, or C7 in a file of one sheet; the row where no column is given."""
        if self.turned:
            if column is None:
                return place_of(self.name, None, row - 1)
            return place_of(self.name, column + 1, row - 1)
        return place_of(self.name, row, column)


def place_of(sheet: str, row: int | None, column: int | None = None) -> str:
    """Doors!C7, C7, Doors!row 7 for the whole row, Doors!column C for the whole column."""
    letters = column_letters(column) if column is not None else ""
    cell = f"row {row}" if not letters else f"{letters}{row}" if row is not None else f"column {letters}"
    return f"{sheet}!{cell}" if sheet else cell


@lru_cache(maxsize=1000)
def column_letters(column: int) -> str:
    """The letters of a column counted from 0: A, Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def column_number(letters: str) -> int:
    """The column, from 0, that letters name."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number - 1
