"""Pipes in the rows of a table: nominal sizes as outside diameters; a bare size is one or the other, asked once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.cells import Reading
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.pipe_sizes import BARE, LONE, nominal_heading, outside_diameter, round_length, says_nominal
from estimating.intake.tables import Table
from rates.core.grid import GridRow

if TYPE_CHECKING:
    from estimating.intake.row_sizes import SizeReader

NOMINAL, OUTSIDE = "nominal", "outside"


def is_nominal(reader: SizeReader, draft: Draft, column: int, cell: str) -> bool:
    """Whether a cell is a nominal pipe size by its heading, or by the word beside a pipe's size."""
    if draft.values.get("kind", "pipe") != "pipe":
        return False
    by_heading = bool(nominal_heading(reader.heading(column))) and bool(BARE.fullmatch(cell.strip()))
    return by_heading or ("kind" in draft.values and says_nominal(cell) and "x" not in cell.lower())


def size_of_pipe(draft: Draft, cell: str) -> str:
    """The size of a pipe, or of a sleeve or core in words, whose one length can be nothing but a diameter."""
    kind = draft.values.get("kind")
    if kind == "pipe" and LONE.fullmatch(cell.strip()):
        return f"Ø{cell}"
    length = round_length(cell) if kind in (None, "pipe", "duct", "other") else ""
    return f"Ø{length}" if length else cell


def put_nominal(reader: SizeReader, row: GridRow, draft: Draft, column: int, cell: str, nominal: str) -> None:
    """A nominal pipe size as the outside diameter of its standard."""
    diameter = outside_diameter(nominal)
    if diameter is None:
        reader.note(
            row,
            draft,
            "diameter",
            column,
            cell,
            Reading(code="not_a_size", detail=f"{nominal} is no pipe size known here"),
        )
        return
    draft.values.setdefault("kind", "pipe")
    draft.values["diameter"] = diameter
    draft.written["diameter"] = cell
    draft.places["diameter"] = reader.place(row, column)


def settle_pipes(reader: SizeReader, asker: Asker) -> None:
    """The sizes of a table's pipes: outside diameters, or nominal sizes; asked once for the table."""
    table = reader.table
    if not reader.pipes:
        return
    cells = [table.sheet.place(row, column) for _, row, column in reader.pipes]
    first = reader.pipes[0][0]
    written = first.written.get("diameter", first.values["diameter"])
    answer = asker.ask(
        "pipe_size", BLOCKS_COSTING,
        f"Are the sizes of pipes such as {first.values['mark']} {written[:30]!r} nominal, or outside diameters?",
        about=(table.fingerprint,), choices=(NOMINAL, OUTSIDE), cells=cells,
    )  # fmt: skip
    for draft, row, column in [(d, row, column) for one, row, column in reader.pipes for d in one.places_of or [one]]:
        table.ends.cell(row, column, QUESTION, "pipe_size")
        diameter = outside_diameter(draft.values["diameter"]) if answer == NOMINAL else None
        if diameter is not None:
            draft.written["diameter"] = table_cell(table, row, column)
            draft.values["diameter"] = diameter
        elif answer == NOMINAL:
            wrong = Reading(code="not_a_size", detail="no nominal pipe size known here; give the outside diameter")
            reader.note(GridRow(row, []), draft, "diameter", column, table_cell(table, row, column), wrong)
            draft.values.pop("diameter")


def table_cell(table: Table, row: int, column: int) -> str:
    """The text of a cell."""
    return next(one.cell(column) for one in table.rows if one.number == row)
