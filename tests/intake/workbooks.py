"""Workbooks made for the tests, all content invented: one as an office makes it, and small ones cell by cell."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence

import xlsxwriter
from xlsxwriter.worksheet import Worksheet

Cells = Sequence[Sequence[object]]
WINDOW_ROWS, DOOR_ROWS = 260, 40
STOREYS = 10


def workbook(sheets: Mapping[str, Cells], touch: Callable[[dict[str, Worksheet]], None] | None = None) -> bytes:
    """A workbook of plain cells: numbers as numbers, text as text, None left blank; `touch` may add to the sheets."""
    held = io.BytesIO()
    with xlsxwriter.Workbook(held, {"in_memory": True}) as book:
        made = {}
        for name, rows in sheets.items():
            sheet = made[name] = book.add_worksheet(name)
            for r, row in enumerate(rows):
                for c, cell in enumerate(row):
                    if isinstance(cell, int | float) and not isinstance(cell, bool):
                        sheet.write_number(r, c, cell)
                    elif cell is not None:
                        sheet.write_string(r, c, str(cell))
        if touch is not None:
            touch(made)
    return held.getvalue()


def office_windows() -> list[tuple[str, int, float, float, str, str]]:
    """260 invented window lines: mark, count, width and height in inches, storey, elevation."""
    sides = ("North", "South", "East", "West")
    return [
        (
            f"W{i % 26 + 1:02}",
            1 + i % 3,
            24 + (i % 26) * 1.5 + 0.375,
            36 + (i % 26) * 2.0,
            f"Level {i // 26 + 1}",
            sides[i % 26 % 4],
        )
        for i in range(WINDOW_ROWS)
    ]


def office_doors() -> list[tuple[str, int, str]]:
    """40 invented door lines: mark, count, size."""
    return [
        (f"D{i + 1:02}", 1 + i % 2, "3'-4\" x 7'-2\"" if i % 2 else "6'-4 1/2\" x 7'-2\"") for i in range(DOOR_ROWS)
    ]


def office_workbook() -> bytes:
    """Title rows, a two-row heading with merged cells, the unit in it, a totals row, notes, a hidden column, doors."""
    held = io.BytesIO()
    with xlsxwriter.Workbook(held, {"in_memory": True}) as book:
        bold = book.add_format({"bold": True, "align": "center"})
        sheet = book.add_worksheet("Windows")
        sheet.merge_range("A1:H1", "INVENTED COMMUNITY HALL", bold)
        sheet.merge_range("A2:H2", "WINDOW SCHEDULE - ISSUED FOR BID (INVENTED)", bold)
        sheet.write("A3", "Sheet A-601")
        sheet.merge_range("A5:A6", "MARK", bold)
        sheet.merge_range("B5:B6", "QTY", bold)
        sheet.merge_range("C5:D5", "ROUGH OPENING (IN)", bold)
        sheet.write("C6", "WIDTH", bold)
        sheet.write("D6", "HEIGHT", bold)
        sheet.merge_range("E5:E6", "LEVEL", bold)
        sheet.merge_range("F5:F6", "ELEVATION", bold)
        sheet.merge_range("G5:G6", "QTY", bold)
        sheet.merge_range("H5:H6", "REMARKS", bold)
        sheet.set_column("G:G", 8, None, {"hidden": True})  # the count of an earlier issue
        rows = office_windows()
        for r, (mark, count, width, height, level, side) in enumerate(rows, 6):
            sheet.write_row(r, 0, [mark, count, width, height, level, side, count + 1])
            if r % 50 == 0:
                sheet.write(r, 7, "tempered glass")
        end = 6 + len(rows)
        sheet.write(end, 0, "TOTAL")
        sheet.write_formula(end, 1, f"=SUM(B7:B{end})", None, sum(row[1] for row in rows))
        sheet.write(end + 2, 0, "NOTES:")
        sheet.write(end + 3, 0, "1. ALL SIZES ARE TO BE CHECKED ON SITE.")
        sheet.write(end + 4, 0, "2. SEE A-801 FOR SILL DETAILS.")
        doors = book.add_worksheet("Doors")
        doors.write("A1", "EXTERIOR DOOR SCHEDULE (INVENTED)")
        doors.write_row(2, 0, ["DOOR NO.", "QTY", "R.O. SIZE (W x H)", "HARDWARE SET"])
        for r, (mark, count, size) in enumerate(office_doors(), 3):
            doors.write_row(r, 0, [mark, count, size, f"HS-{r % 4}"])
        book.add_worksheet("Cover").write("A1", "Issued 2027-01-15 (invented)")
    return held.getvalue()
