"""The end of every cell of a file: those of tables, what stands outside of them, what pages and comments say."""

from __future__ import annotations

from collections.abc import Iterable

from estimating.intake.ends import FACT, QUESTION, SET_ASIDE, CellEnd
from estimating.intake.sheets_state import SheetsReading
from estimating.intake.tables import Table
from rates.core.grid import GridRow, Sheet


def ends_of(reading: SheetsReading) -> Iterable[CellEnd]:
    """Where every cell that is not empty ended, and what pages and comments say."""
    inside: dict[tuple[str, int, int], tuple[str, str]] = {}
    by_sheet: dict[str, list[Table]] = {}
    for table in reading.tables:
        by_sheet.setdefault(table.sheet.name, []).append(table)
        for row in [*table.rows, *heading_rows(table)]:
            for column, cell in enumerate(row.cells):
                if cell:
                    at = (column + 1, row.number - 1) if table.sheet.turned else (row.number, column)
                    inside[table.sheet.name, *at] = note_end(table, row, column, reading)
    for sheet in reading.sheets:
        titles = {row for table in by_sheet.get(sheet.name, ()) for row, _ in table.titles}
        for row in sheet.rows:
            for column, cell in enumerate(row.cells):
                if cell:
                    end = inside.get((sheet.name, row.number, column)) or outside_end(sheet, row, titles, reading)
                    yield CellEnd(sheet.name, row.number, column, *end)
        for number, column, _ in sheet.comments:
            code = reading.comment_ends.get(sheet.place(number, column)) or reading.note_ends.get(
                sheet.place(number, column)
            )
            yield CellEnd(sheet.name, number, column, *((QUESTION, code) if code else (SET_ASIDE, "comment")))
        for text in sheet.pages:
            yield CellEnd(sheet.name, 0, 0, SET_ASIDE, f"page text {text}"[:60])


def heading_rows(table: Table) -> list[GridRow]:
    """The rows of a table's heading, as the sheet has them."""
    return [row for row in table.sheet.rows if table.first_row <= row.number <= table.heading_row]


def note_end(table: Table, row: GridRow, column: int, reading: SheetsReading) -> tuple[str, str]:
    """The end of a cell of a table; a note that a question is about ends in the question."""
    code = reading.note_ends.get(table.sheet.place(row.number))
    return (QUESTION, code) if code and row.number in table.ends.rows else table.ends.of(row.number, column)


def outside_end(sheet: Sheet, row: GridRow, titles: set[int], reading: SheetsReading) -> tuple[str, str]:
    """The end of a cell outside of any table."""
    if sheet.hidden:
        return SET_ASIDE, "hidden sheet"
    code = reading.note_ends.get(sheet.place(row.number))
    if code:
        return QUESTION, code
    return (FACT, "title") if row.number in titles else (SET_ASIDE, "note")
