"""A CSV schedule as opening lines, and the way back from a line's field to its cell.

bytes > csv_table (cells with places) > columns (heading) > rows as a JSON schedule would hold them
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from estimating.core.schedule import MOST_LINES
from estimating.intake.columns import REQUIRED, Column, known_paths, read_heading
from rates.core.fields import shown
from rates.core.problems import Problem
from rates.sheets.csv_reading import Fault, Row, Table, decode_bytes, read_table

MOST_FAULTS = 1_000
SIZE = ("size",)
Place = tuple[int, int]


@dataclass
class CsvSchedule:
    """What a CSV schedule holds: rows that can be handed on, where each stands, and the faults of its form."""

    table: Table
    columns: list[Column | None]
    missing: frozenset[str]
    rows: list[dict[str, object]] = field(default_factory=list)
    origin: list[Row] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)

    def problems(self) -> tuple[Problem, ...]:
        """The faults of the form, in the order of the file, the first thousand."""
        faults = sorted(self.faults, key=lambda fault: fault.offset)
        if len(faults) > MOST_FAULTS:
            more = Fault(faults[MOST_FAULTS].offset, "more_faults", f"and {len(faults) - MOST_FAULTS:,} more faults")
            faults = [*faults[:MOST_FAULTS], more]
        places = self.table.places([fault.offset for fault in faults])
        return tuple(
            Problem("", fault.code, fault.detail, "schedule", line, column)
            for fault, (line, column) in zip(faults, places, strict=True)
        )

    def places(self, pointers: Iterable[str]) -> dict[str, Place]:
        """Line and column of each pointer into /openings: the cell, else the row, else the file's beginning."""
        asked = list(pointers)
        return dict(zip(asked, self.table.places([self.offset(pointer) for pointer in asked]), strict=True))

    def offset(self, pointer: str) -> int:
        """Where the cell of a pointer starts."""
        steps = pointer.split("/")[1:]
        if len(steps) < 2 or not steps[1].isdigit() or int(steps[1]) >= len(self.origin):
            return 0
        row = self.origin[int(steps[1])]
        index = self.column_of(tuple(steps[2:]))
        return row.offset if index is None else self.table.cell_offset(row, index)

    def column_of(self, path: tuple[str, ...]) -> int | None:
        """The column that holds a field, or the nearest thing to it."""
        if not path:
            return None
        tries = [path[:2], path[:1], SIZE if path[0] in ("width", "height") else path[:1]]
        paths = [column.path if column else () for column in self.columns]
        for wanted in tries:
            if wanted in paths:
                return paths.index(wanted)
        return next((i for i, found in enumerate(paths) if found[:1] == path[:1]), None)


def read_csv(data: bytes) -> CsvSchedule:
    """The schedule of a CSV file, all faults of its form noted: of the bytes, the quotes, the heading, the rows."""
    table = read_table(decode_bytes(data), MOST_LINES + 1)
    faults = list(table.faults)
    if not table.rows:
        return CsvSchedule(table, [], frozenset(), faults=[*faults, Fault(0, "empty", "the file has no heading")])
    heading, *rows = table.rows
    columns = read_columns(table, heading, faults)
    given = {column.path[0] for column in columns if column}
    missing = frozenset(REQUIRED) - given
    for name in sorted(missing):
        faults.append(Fault(heading.offset, "missing_column", f"the heading has no column {name}"))
    schedule = CsvSchedule(table, columns, missing, faults=faults)
    fill(schedule, rows)
    return schedule


def read_columns(table: Table, heading: Row, faults: list[Fault]) -> list[Column | None]:
    """The columns by the heading; unknown and repeated ones are noted, blank headings are kept for rows to answer."""
    columns: list[Column | None] = []
    seen: dict[str, str] = {}
    for index, cell in enumerate(heading.cells):
        column = read_heading(cell) if cell else None
        columns.append(column)
        if column is None:
            if cell:
                names = ", ".join(name for name in known_paths() if "." not in name)
                detail = f"no such column: {shown(cell)}; known here, as width_mm and sill.kind: {names}"
                faults.append(Fault(table.cell_offset(heading, index), "unknown_column", detail))
            continue
        names_here = ("width", "height") if column.path == SIZE else (".".join(column.path),)
        for name in names_here:
            if name in seen:
                detail = f"{shown(cell)} and {shown(seen[name])} both give {name}"
                faults.append(Fault(table.cell_offset(heading, index), "repeated_column", detail))
        seen |= dict.fromkeys(names_here, cell)
    return columns


def fill(schedule: CsvSchedule, rows: list[Row]) -> None:
    """Turn each record into a line; a record whose form is at fault is left out, its fault noted."""
    table, heading = schedule.table, schedule.table.rows[0]
    broken = broken_rows(schedule.faults, rows)
    width = len(heading.cells)
    cache: list[dict[str, object]] = [{} for _ in schedule.columns]
    unnamed = [i for i, cell in enumerate(heading.cells) if not cell]
    for index, row in enumerate(rows):
        if index in broken:
            continue
        if len(row.cells) != width:
            detail = f"this row has {len(row.cells)} cells, the heading has {width}"
            schedule.faults.append(Fault(table.cell_offset(row, width), "ragged_row", detail))
            continue
        for i in unnamed:
            if row.cells[i]:
                detail = "a cell in a column without a heading"
                schedule.faults.append(Fault(table.cell_offset(row, i), "unnamed_column", detail))
        schedule.rows.append(read_row(schedule, row, cache))
        schedule.origin.append(row)


def broken_rows(faults: list[Fault], rows: list[Row]) -> set[int]:
    """Indexes of the rows in which a fault of the form stands."""
    offsets = sorted(fault.offset for fault in faults)
    broken, at = set(), 0
    for index, row in enumerate(rows):
        end = rows[index + 1].offset if index + 1 < len(rows) else None
        while at < len(offsets) and offsets[at] < row.offset:
            at += 1
        if at < len(offsets) and (end is None or offsets[at] < end):
            broken.add(index)
    return broken


def read_row(schedule: CsvSchedule, row: Row, cache: list[dict[str, object]]) -> dict[str, object]:
    """The line of a record; blank cells are unknown and left out."""
    line: dict[str, object] = {}
    for index, (column, cell) in enumerate(zip(schedule.columns, row.cells, strict=True)):
        if not cell or column is None:
            continue
        known = cache[index]
        if cell not in known:
            known[cell] = column.read(cell)
        path, value = column.path, known[cell]
        if path == SIZE:
            put_size(schedule, row, index, line, value)
        elif len(path) == 1:
            before = line.get(path[0])
            line[path[0]] = {**before, "name": value} if isinstance(before, dict) else value
        else:
            line[path[0]] = {**named(line.get(path[0])), path[1]: value}
    return line


def named(value: object) -> dict[str, object]:
    """The fields of a field as read so far; a text alone is its name."""
    if isinstance(value, dict):
        return value
    return {} if value is None else {"name": value}


def put_size(schedule: CsvSchedule, row: Row, index: int, line: dict[str, object], value: object) -> None:
    """Set width and height from a cell that holds both."""
    if isinstance(value, tuple):
        line["width"], line["height"] = value
        return
    detail = f"a width and a height such as 3'-0\" x 6'-8\" are expected, not {shown(row.cells[index])}"
    schedule.faults.append(Fault(schedule.table.cell_offset(row, index), "not_a_size", detail))
