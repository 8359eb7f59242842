"""The cells of a schedule file as received, and which line each was read into: for looking at a doubt."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.collector import collector_paused
from estimating.intake.asking import Asker
from estimating.intake.reading import OF_A_SCHEDULE
from estimating.intake.report import read_line
from estimating.intake.sniffing import sniff
from estimating.intake.text_sheet import read_text
from estimating.models import ScheduleRevision
from rates.core.grid import GridRow, Sheet, column_letters
from rates.core.problems import Refused, Unreadable
from rates.documents import decompress, unpack
from rates.refusals import NotThere
from rates.sheets.workbook_reading import read_workbook

MOST_COLUMNS = 60
MOST_WRITTEN = 500_000  # bytes of a file that is read again for a few of its rows: half a second


@dataclass(frozen=True)
class Cell:
    """One cell as written. place: as questions name it; line: the line that it was read into, None for none.

    field: what it was read as; TIMES without a line: it multiplies counts, as far as the answer says so.
    """

    place: str
    text: str
    field: str
    line: int | None
    value: str


@dataclass(frozen=True)
class Row:
    """One row of the file with its number."""

    number: int
    hidden: bool
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class SourceCells:
    """A stretch of one sheet: the names of all sheets, which one it is, its columns' letters, its rows."""

    sheets: tuple[str, ...]
    sheet: str
    letters: tuple[str, ...]
    rows: tuple[Row, ...]
    has_more: bool


TIMES = "times"
NOTHING = SourceCells((), "", (), (), False)


def source_cells(*, company: uuid.UUID, id: uuid.UUID, sheet: str | None, start: int, limit: int) -> SourceCells:
    """The rows of a sheet of a revision's file from a place on; nothing of a file that has no cells; NotThere."""
    row = ScheduleRevision.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    with collector_paused():
        sheets = read_sheets(decompress(row.source))
        if not sheets:
            return NOTHING
        chosen = next((one for one in sheets if one.name == sheet), sheets[0])
        rows = chosen.rows[start : start + limit]
        width = min(chosen.width, MOST_COLUMNS)
        read = read_places(row, {place for one in rows for place in places_of(chosen, one, width)})
    return SourceCells(
        tuple(one.name for one in sheets),
        chosen.name,
        tuple(column_letters(column) for column in range(width)),
        tuple(show_row(chosen, one, width, read) for one in rows),
        start + limit < len(chosen.rows),
    )


def written_rows(*, company: uuid.UUID, id: uuid.UUID, rows: Collection[str]) -> dict[str, list[tuple[str, str, str]]]:
    """Rows of the file by their place, as Doors!row 7: the letters, place and text of each cell that holds something.

    Nothing of a file that has no cells, or that is long; NotThere.
    """
    found = ScheduleRevision.objects.of(company).filter(pk=id).only("source", "company").first()
    if found is None:
        raise NotThere
    data = decompress(found.source)
    if len(data) > MOST_WRITTEN:
        return {}
    with collector_paused():
        return {
            place: [
                (column_letters(column), sheet.place(row.number, column), text)
                for column, text in enumerate(row.cells[:MOST_COLUMNS])
                if text
            ]
            for sheet in read_sheets(data)
            for row in sheet.rows
            if (place := sheet.place(row.number)) in rows
        }


def read_sheets(data: bytes) -> list[Sheet]:
    """The sheets of a file; none of a model, of JSON, and of what can't be laid out again."""
    kind = sniff(data)
    try:
        if kind == "xlsx":
            return read_workbook(data, OF_A_SCHEDULE)
        return [read_text(data, Asker({}))] if kind == "text" else []
    except (Refused, Unreadable):
        return []


def places_of(sheet: Sheet, row: GridRow, width: int) -> Iterable[str]:
    """The places of a row's cells."""
    return (sheet.place(row.number, column) for column in range(width))


def read_places(row: ScheduleRevision, wanted: set[str]) -> Mapping[str, tuple[int | None, str, str]]:
    """Place -> (line, field, value) of what was read from there."""
    if row.report is None:
        return {}
    report: Mapping[str, Any] = unpack(row.report)
    lines: Sequence[Mapping[str, Any]] = list(unpack(row.openings))
    found: dict[str, tuple[int | None, str, str]] = {}
    for index, values in enumerate(lines):
        for name, field in read_line(report, index, values)["fields"].items():
            if field["cell"] in wanted:
                found.setdefault(field["cell"], (index, name, str(field["value"])))
    for question in report["questions"]:
        for cell in question["cells"] if question["code"] == "multiplier" else ():
            if cell in wanted:
                found.setdefault(cell, (None, TIMES, ""))
    return found


def show_row(sheet: Sheet, row: GridRow, width: int, read: Mapping[str, tuple[int | None, str, str]]) -> Row:
    """A row with what was read from each of its cells."""
    cells = []
    for column, place in enumerate(places_of(sheet, row, width)):
        line, field, value = read.get(place, (None, "", ""))
        cells.append(Cell(place, row.cell(column), field, line, value))
    return Row(row.number, row.hidden, tuple(cells))
