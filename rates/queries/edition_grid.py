"""A table of an edition as a grid: each cell as written, and beside it what the edition before wrote there."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rates.core.exact import print_quantity, read_decimal
from rates.core.grid import Cell, Cells
from rates.core.problems import Unreadable
from rates.core.table_sheets import write_sheet
from rates.queries.books import WholeEdition, table_of
from rates.queries.rate_moves import edition_before

PERCENT_PLACES = 2


@dataclass(frozen=True)
class GridCell:
    """One cell, and what the edition before has there; None where that lacks the row."""

    text: str
    before: str | None = None

    @property
    def differs(self) -> bool:
        """Whether another text stood there before."""
        return self.before is not None and self.before != self.text

    @property
    def percent(self) -> str | None:
        """How far the number lies from the one before, in percent of that; None for anything else."""
        try:
            new, old = read_decimal(self.text), read_decimal(self.before or "")
        except Unreadable:
            return None
        return print_quantity((new - old) / old * 100, PERCENT_PLACES) if old else None


@dataclass(frozen=True)
class Grid:
    """The headings (paths of fields) and rows of a table; `before`: the number of the edition before, None: none."""

    headings: tuple[str, ...]
    rows: tuple[tuple[GridCell, ...], ...]
    gone: tuple[str, ...]  # codes, or paths of the production table, that only the edition before has
    before: int | None


def grid(*, company: uuid.UUID, whole: WholeEdition, table: str, now: datetime.datetime) -> Grid:
    """A table beside that of the edition of its book that stood before."""
    earlier = edition_before(company=company, edition=whole.edition.id, now=now)
    sheet = write_sheet(table, table_of(whole, table))
    if earlier is None:
        return Grid(texts(sheet[0]), tuple(tuple(map(GridCell, texts(row))) for row in sheet[1:]), (), None)
    held = write_sheet(table, table_of(earlier, table))
    return beside(texts(sheet[0]), sheet[1:], held, earlier.edition.number)


def beside(headings: Sequence[str], rows: Iterable[Cells], held: Sequence[Cells], number: int) -> Grid:
    """The rows with what the edition before wrote, by their code and heading."""
    names = texts(held[0])
    key, key_before = place_of_code(headings), place_of_code(names)
    was = {texts(row)[key_before]: dict(zip(names, texts(row), strict=True)) for row in held[1:]}
    found, left = [], dict.fromkeys(was)
    for row in map(texts, rows):
        old = was.get(row[key])
        left.pop(row[key], None)
        cells = zip(headings, row, strict=True)
        found.append(tuple(GridCell(text, None if old is None else old.get(name, "")) for name, text in cells))
    return Grid(tuple(headings), tuple(found), tuple(left), number)


def place_of_code(headings: Sequence[str]) -> int:
    """The column that names a row."""
    return headings.index("code") if "code" in headings else 0


def texts(cells: Iterable[Cell]) -> tuple[str, ...]:
    """Cells as a person writes them."""
    return tuple("" if cell is None else str(cell).lower() if isinstance(cell, bool) else str(cell) for cell in cells)
