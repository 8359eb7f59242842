"""A table of an edition as a sheet of text cells, and the way back: exact both ways.

A list table is one row for each of its rows; a column's heading is the path of a field, its steps joined by "/" and
places in lists counted from 1 (`packs/1/size`, `waste/percent`). The production table has a column for the path and
one for the value. A blank cell says nothing; (none) in a layer's sheet takes a field of the layer below away.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from rates.core.fields import Faults, ListOf, MapOf, Record, shown
from rates.core.grid import ERROR, NO_VALUE, Cell, Cells, GridRow, NumberText, Sheet, place_of
from rates.core.layer_reading import ROWS
from rates.core.normal_form import is_boolean
from rates.core.problems import Problem, escape
from rates.core.production import PRODUCTION
from rates.core.sheet_headings import Path, heading, near_field, rank, read_path, reader_at

Value = tuple[Path, Any, int]  # and the column of its cell, or in the production table the row
NONE = "(none)"
_NONE = re.compile(r"'*\(none\)")
NESTED = (Record, ListOf, MapOf)
MOST_COLUMNS, MOST_ROWS = 500, 1000
PRODUCTION_HEADING = ("field", "value")


@dataclass
class ReadSheet:
    """What a sheet says, and where: pointer of each value -> (row, column) counted from 1."""

    content: Any
    places: dict[str, tuple[int, int]] = field(default_factory=dict)
    columns: dict[str, int] = field(default_factory=dict)  # by the pointer inside a row
    heading_row: int = 1
    aside: list[tuple[int, str]] = field(default_factory=list)  # column and heading of what the office keeps for itself

    def place(self, pointer: str) -> tuple[int, int]:
        """The cell of a pointer, blank or not, else of the nearest thing that it lies in, else the heading."""
        found = pointer
        while found and found not in self.places:
            found = found.rpartition("/")[0]
        row, column = self.places.get(found, (self.heading_row, 1))
        return row, self.columns.get(pointer.removeprefix(found), column)


def leaves(value: Any, at: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Every (path, value) of a table in its normal form."""
    if isinstance(value, Mapping):
        for name, item in value.items():
            yield from leaves(item, (*at, name))
    elif isinstance(value, list | tuple):
        for i, item in enumerate(value):
            yield from leaves(item, (*at, i))
    else:
        yield at, value


def write_cell(value: Any, reader: Any) -> Cell:
    """A value of a field as a cell: what the field reads as a number is one."""
    if value is None:
        return NONE
    if isinstance(value, bool):
        return value
    if is_number(reader):
        return NumberText(value)
    return f"'{value}" if _NONE.fullmatch(str(value)) else str(value)


def is_number(reader: Any) -> bool:
    """Whether a reader takes plain numbers alone."""
    schema = getattr(reader, "schema", {})
    return "pattern" in schema and bool({"number", "integer"} & set(schema.get("type", ())))


def write_sheet(table: str, content: Any) -> list[Cells]:
    """The cells of a table in its normal form, the heading first."""
    if table == "production":
        values = ([heading(p), write_cell(v, reader_at(PRODUCTION, p))] for p, v in leaves(content))
        return [list(PRODUCTION_HEADING), *values]
    record = ROWS[table]
    names: dict[Path, int] = {}
    written = [dict(leaves(row)) for row in content]
    for row in written:
        for path in row:
            for end in range(1, len(path) + 1):
                names.setdefault(path[:end], len(names))
    paths = sorted({path: None for row in written for path in row}, key=lambda path: rank(record, path, names))
    columns = paths or [(f.name,) for f in record.fields if f.required and not isinstance(f.reader, NESTED)]
    readers = {path: reader_at(record, path) for path in columns}
    cells = [[write_cell(row[path], readers[path]) if path in row else None for path in columns] for row in written]
    return [[heading(path) for path in columns], *cells]


def read_cell(text: str, path: Path, reader: Any) -> Any:
    """The value of a cell that is not blank."""
    if text == NONE:
        return None
    if _NONE.fullmatch(text):
        return text[1:]
    if is_number(reader) and str(path[-1]).endswith("percent"):
        return text.removesuffix("%").rstrip()
    word = text.strip().lower()
    return word == "true" if is_boolean(reader) and word in ("true", "false") else text


def sheet_problem(table: str, row: int, column: int, code: str, detail: str) -> Problem:
    """A fault of a sheet's form."""
    return Problem("", code, detail, "edition", row, column, table)


def read_sheet(table: str, sheet: Sheet, faults: Faults) -> ReadSheet:
    """The table that a sheet holds; faults of the sheet's own form are noted with row and column."""
    nothing = ReadSheet({} if table == "production" else [])
    if not sheet.rows:
        faults.append(sheet_problem(table, 1, 1, "missing_heading", "the first row names the fields; it is blank"))
        return nothing
    if sheet.width > MOST_COLUMNS or len(sheet.rows) > MOST_ROWS + 1:
        detail = f"at most {MOST_ROWS} rows and {MOST_COLUMNS} columns are taken"
        faults.append(sheet_problem(table, 1, 1, "too_large", detail))
        return nothing
    return read_production(sheet, faults) if table == "production" else read_rows(table, sheet, faults)


def read_rows(table: str, sheet: Sheet, faults: Faults) -> ReadSheet:
    """A list table from its rows."""
    first = sheet.rows[0]
    found = ReadSheet([], heading_row=first.number)
    columns = read_heading(table, first, found, faults)
    for i, (path, _) in columns.items():
        found.columns["".join(escape(step) for step in path)] = i + 1
    for row in sheet.rows[1:]:
        at = f"/{len(found.content)}"
        found.places[at] = (row.number, 1)
        values: list[Value] = []
        for i, text in enumerate(row.cells):
            if i in columns and sound_cell(table, row, i, faults) and text.strip():
                path, reader = columns[i]
                values.append((path, read_cell(text, path, reader), i + 1))
            elif text.strip() and not first.cell(i).strip():
                detail = "this column has no heading"
                faults.append(sheet_problem(table, row.number, i + 1, "unnamed_column", detail))
        found.content.append(build(apart(values, table, row.number, faults), at, row.number, found.places))
    return found


def sound_cell(table: str, row: GridRow, column: int, faults: Faults) -> bool:
    """Whether a cell says what it says: a formula without a value and one that failed are noted."""
    mark = row.marked.get(column)
    if mark not in (NO_VALUE, ERROR):
        return True
    cell = place_of("", row.number, column)
    what = "without a value; save the workbook in a spreadsheet program" if mark == NO_VALUE else "that failed"
    faults.append(sheet_problem(table, row.number, column + 1, mark, f"{cell} holds a formula {what}"))
    return False


def read_heading(table: str, row: GridRow, found: ReadSheet, faults: Faults) -> dict[int, tuple[Path, Any]]:
    """What each column holds; an office's own columns are set aside, repeated headings and near misses noted."""
    columns: dict[int, tuple[Path, Any]] = {}
    seen: dict[Path, int] = {}
    for i, text in enumerate(row.cells):
        named = read_path(ROWS[table], text) if text.strip() else None
        if named is not None and named[0] in seen:
            detail = f"column {seen[named[0]]} has the same heading"
            faults.append(sheet_problem(table, row.number, i + 1, "repeated_column", detail))
        elif named is not None:
            columns[i] = named
            seen[named[0]] = i + 1
        elif text.strip():
            set_aside(table, row, i, found, faults)
    return columns


def set_aside(table: str, row: GridRow, column: int, found: ReadSheet, faults: Faults) -> None:
    """A column that no field has is the office's own, unless its heading is likely meant as a field's."""
    text = row.cells[column].strip()
    meant = near_field(ROWS[table], text)
    if meant is None:
        found.aside.append((column + 1, text))
        return
    detail = f"no such field: {shown(text)}; {meant} is near it. A column of your own needs a heading unlike any field"
    faults.append(sheet_problem(table, row.number, column + 1, "unknown_column", detail))


def read_production(sheet: Sheet, faults: Faults) -> ReadSheet:
    """The production table from its paths and values; columns behind them are the office's own."""
    values: list[Value] = []
    first = sheet.rows[0]
    if tuple(cell.strip().lower() for cell in first.cells[:2]) != PRODUCTION_HEADING:
        detail = f"the first headings are {' and '.join(PRODUCTION_HEADING)}"
        faults.append(sheet_problem("production", first.number, 1, "unknown_column", detail))
    found = ReadSheet({}, heading_row=first.number)
    found.aside += [(i + 1, text.strip()) for i, text in enumerate(first.cells) if i > 1 and text.strip()]
    seen: dict[Path, int] = {}
    for row in sheet.rows[1:]:
        number, name, text = row.number, row.cell(0), row.cell(1)
        sound = sound_cell("production", row, 1, faults)
        named = read_path(PRODUCTION, name)
        if not name.strip() and not text.strip():
            continue
        if named is None:
            detail = f"no such field: {shown(name)}"
            faults.append(sheet_problem("production", number, 1, "unknown_field", detail))
        elif named[0] in seen:
            detail = f"row {seen[named[0]]} says it already"
            faults.append(sheet_problem("production", number, 1, "given_twice", detail))
        elif sound and text.strip():
            seen[named[0]] = number
            values.append((named[0], read_cell(text, *named), number))
    found.content = build(apart(values, "production", None, faults), "", None, found.places)
    return found


def apart(values: list[Value], table: str, row: int | None, faults: Faults) -> list[Value]:
    """The values that do not lie inside another one of the row; those that do are noted."""
    paths = {path for path, _, _ in values}
    found = []
    for path, value, number in values:
        outer = next((path[:end] for end in range(1, len(path)) if path[:end] in paths), None)
        if outer is None:
            found.append((path, value, number))
            continue
        at = (row, number) if row is not None else (number, 2)
        faults.append(sheet_problem(table, *at, "given_twice", f"{heading(outer)} says it already"))
    return found


def build(values: list[Value], at: str, row: int | None, places: dict[str, tuple[int, int]]) -> Any:
    """The object of a row's values; lists close up where an entry is blank. Notes where each value stands.

    values: path, value and the column, or (row None) the row of its cell in column 2.
    """
    root: dict[str | int, Any] = {}
    cells: dict[Path, tuple[int, int]] = {}
    for path, value, number in values:
        cells[path] = (row, number) if row is not None else (number, 2)
        inner = root
        for step in path[:-1]:
            inner = inner.setdefault(step, {})
        inner[path[-1]] = value
    return close_up(root, (), at, cells, places)


def close_up(
    value: Any, path: Path, at: str, cells: Mapping[Path, tuple[int, int]], places: dict[str, tuple[int, int]]
) -> Any:
    """The value with numbered steps made lists; each pointer's place is its own cell, or its first inner one."""
    if not isinstance(value, dict):
        places[at] = cells[path]
        return value
    inside = [cell for other, cell in cells.items() if other[: len(path)] == path]
    if path and inside:
        places[at] = min(inside)
    if value and all(isinstance(step, int) for step in value):
        ordered = sorted(value)
        return [close_up(value[s], (*path, s), f"{at}/{i}", cells, places) for i, s in enumerate(ordered)]
    return {s: close_up(v, (*path, s), at + escape(s), cells, places) for s, v in value.items()}
