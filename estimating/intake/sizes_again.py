"""Columns that give a side once more in another unit, 48 in beside 1219 mm: held against the column that is read."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.intake.cell_sizes import differ, read_dimension
from estimating.intake.headings import understand
from estimating.intake.tables import Table
from rates.core.grid import GridRow

SIDES = ("width", "height")
Again = tuple[int, str, str]  # column, side, unit


def columns_again(table: Table) -> list[Again]:
    """The unused columns whose heading gives a side on the basis of the one that is read, in a unit of its own."""
    found = []
    for column, heading in enumerate(table.headings):
        meant = understand(heading) if heading and column not in table.columns else None
        used = table.column(meant.field) if meant is not None and meant.field in SIDES else None
        if meant is None or used is None or not meant.unit or column in table.sheet.hidden_columns:
            continue
        if meant.basis == table.columns[used].basis and meant.unit != table.columns[used].unit:
            found.append((column, meant.field, meant.unit))
    return found


def disagreeing(row: GridRow, values: dict[str, object], again: list[Again], comma: str) -> Iterator[tuple[int, str]]:
    """The columns, with their sides, whose cells give another length than the line has, by more than rounding."""
    for column, name, unit in again:
        reading = read_dimension(row.cell(column), name, unit, comma).found.get(name)
        if reading is not None and name in values and differ(str(values[name]), reading):
            yield column, name
