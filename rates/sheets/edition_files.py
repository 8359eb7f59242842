"""A file with tables of an edition as sheets by their names; what is none is refused, each fault at its place."""

from __future__ import annotations

from rates.core.grid import GridRow, Sheet
from rates.core.jsonplaces import Lines
from rates.core.problems import Problem, Refused, Unreadable
from rates.core.table_sheets import MOST_COLUMNS, MOST_ROWS
from rates.sheets.csv_reading import decode_bytes, read_table
from rates.sheets.workbook_reading import Wanted, read_workbook

OF_AN_EDITION = Wanted(MOST_ROWS + 1, MOST_COLUMNS, 600_000, tidy=str, places=True)


def read_csv(data: bytes, table: str, most_rows: int = MOST_ROWS) -> Sheet:
    """The sheet of a CSV; Refused."""
    read = read_table(decode_bytes(data), most_rows + 2)
    if read.faults:
        places = read.places([fault.offset for fault in read.faults])
        problems = (
            Problem("", fault.code, fault.detail, "edition", *place, table)
            for fault, place in zip(read.faults, places, strict=True)
        )
        raise Refused(list(problems))
    lines = Lines(read.text)
    return Sheet(table, [GridRow(lines.place(row.offset)[0], row.cells) for row in read.rows])


def read_sheets(data: bytes) -> list[Sheet]:
    """The sheets of a workbook; Refused."""
    try:
        return read_workbook(data, OF_AN_EDITION)
    except Unreadable as why:
        raise Refused([Problem("", why.code, why.detail, "edition")]) from None
