"""A table of an edition as a sheet of text cells, and the way back: exact both ways.

A list table is one row for each of its rows; a column's heading is the path of a field, its steps joined by "/" and
places in lists counted from 1 (`packs/1/size`, `waste/percent`). The production table has a column for the path and
one for the value. A blank cell says nothing; (none) in a layer's sheet takes a field of the layer below away.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from rates.core.fields import Faults, ListOf, MapOf, Record, shown
from rates.core.layer_reading import ROWS
from rates.core.normal_form import is_boolean
from rates.core.problems import Problem, escape
from rates.core.production import PRODUCTION

Path = tuple[str | int, ...]
Rows = Sequence[Sequence[str]]
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

    def place(self, pointer: str) -> tuple[int, int]:
        """The cell of a pointer, blank or not, else of the nearest thing that it lies in, else the heading."""
        found = pointer
        while found and found not in self.places:
            found = found.rpartition("/")[0]
        row, column = self.places.get(found, (1, 1))
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


def heading(path: Path) -> str:
    """A path as a heading."""
    steps = (str(s + 1) if isinstance(s, int) else escape(s)[1:] for s in path)
    return "/".join(steps)


def write_cell(value: Any) -> str:
    """A value as the text of a cell."""
    if value is None:
        return NONE
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"'{value}" if _NONE.fullmatch(str(value)) else str(value)


def rank(reader: Any, path: Path, names: Mapping[Path, int]) -> tuple[int, ...]:
    """Where a column stands: fields in the order of their table, names of maps in the order of first sight."""
    found: list[int] = []
    for i, step in enumerate(path):
        if isinstance(reader, Record):
            found.append(list(reader.by_name).index(str(step)))
            reader = reader.by_name[str(step)].reader
        elif isinstance(reader, ListOf):
            found.append(int(step))
            reader = reader.item
        else:
            found.append(names[path[: i + 1]])
            reader = reader.value
    return tuple(found)


def write_sheet(table: str, content: Any) -> list[list[str]]:
    """The cells of a table in its normal form, the heading first."""
    if table == "production":
        return [list(PRODUCTION_HEADING), *([heading(p), write_cell(v)] for p, v in leaves(content))]
    record = ROWS[table]
    names: dict[Path, int] = {}
    written = [dict(leaves(row)) for row in content]
    for row in written:
        for path in row:
            for end in range(1, len(path) + 1):
                names.setdefault(path[:end], len(names))
    paths = sorted({path: None for row in written for path in row}, key=lambda path: rank(record, path, names))
    columns = paths or [(f.name,) for f in record.fields if f.required and not isinstance(f.reader, NESTED)]
    cells = [[write_cell(row[path]) if path in row else "" for path in columns] for row in written]
    return [[heading(path) for path in columns], *cells]


def read_path(reader: Any, text: str) -> tuple[Path, Any] | None:
    """The path that a heading names and the reader at its end, None for anything unknown.

    Where the path ends at something that has parts, only (none) is sound in its cells: the table's reader says so.
    """
    path: list[str | int] = []
    for step in text.strip().split("/"):
        name = step.replace("~1", "/").replace("~0", "~")
        if isinstance(reader, Record) and name in reader.by_name:
            path.append(name)
            reader = reader.by_name[name].reader
        elif isinstance(reader, ListOf) and step.isascii() and step.isdigit() and 1 <= int(step[:5]) <= reader.high:
            path.append(int(step) - 1)
            reader = reader.item
        elif isinstance(reader, MapOf) and name.strip():
            path.append(name)
            reader = reader.value
        else:
            return None
    return tuple(path), reader


def read_cell(text: str, reader: Any) -> Any:
    """The value of a cell that is not blank."""
    if text == NONE:
        return None
    if _NONE.fullmatch(text):
        return text[1:]
    word = text.strip().lower()
    return word == "true" if is_boolean(reader) and word in ("true", "false") else text


def sheet_problem(table: str, row: int, column: int, code: str, detail: str) -> Problem:
    """A fault of a sheet's form."""
    return Problem("", code, detail, "edition", row, column, table)


def read_sheet(table: str, rows: Rows, faults: Faults) -> ReadSheet:
    """The table that a sheet holds; faults of the sheet's own form are noted with row and column."""
    cells = [list(row) for row in rows]
    first = cells[0] if cells else []
    if not any(cell.strip() for cell in first):
        faults.append(sheet_problem(table, 1, 1, "missing_heading", "the first row names the fields; it is blank"))
        return ReadSheet({} if table == "production" else [])
    if len(first) > MOST_COLUMNS or len(cells) > MOST_ROWS + 1:
        detail = f"at most {MOST_ROWS} rows and {MOST_COLUMNS} columns are taken"
        faults.append(sheet_problem(table, 1, 1, "too_large", detail))
        return ReadSheet({} if table == "production" else [])
    return read_production(cells, faults) if table == "production" else read_rows(table, cells, faults)


def read_rows(table: str, cells: list[list[str]], faults: Faults) -> ReadSheet:
    """A list table from its rows; blank rows are left out."""
    columns = read_heading(table, cells[0], faults)
    sheet = ReadSheet([])
    for i, (path, _) in columns.items():
        sheet.columns["".join(escape(step) for step in path)] = i + 1
    for number, row in enumerate(cells[1:], start=2):
        filled = [(i, text) for i, text in enumerate(row) if text.strip()]
        if not filled:
            continue
        at = f"/{len(sheet.content)}"
        sheet.places[at] = (number, 1)
        values: list[Value] = []
        for i, text in filled:
            found = columns.get(i)
            if found is not None:
                values.append((found[0], read_cell(text, found[1]), i + 1))
            elif i >= len(cells[0]) or not cells[0][i].strip():
                faults.append(sheet_problem(table, number, i + 1, "unnamed_column", "this column has no heading"))
        sheet.content.append(build(apart(values, table, number, faults), at, number, sheet.places))
    return sheet


def read_heading(table: str, cells: Sequence[str], faults: Faults) -> dict[int, tuple[Path, Any]]:
    """What each column holds; unknown and repeated headings are noted."""
    columns: dict[int, tuple[Path, Any]] = {}
    seen: dict[Path, int] = {}
    for i, text in enumerate(cells):
        found = read_path(ROWS[table], text) if text.strip() else None
        if found is not None and found[0] in seen:
            detail = f"column {seen[found[0]]} has the same heading"
            faults.append(sheet_problem(table, 1, i + 1, "repeated_column", detail))
        elif found is not None:
            columns[i] = found
            seen[found[0]] = i + 1
        elif text.strip():
            known = ", ".join(ROWS[table].by_name)
            detail = f"no such field: {shown(text)}; known here, with the steps inside them after /: {known}"
            faults.append(sheet_problem(table, 1, i + 1, "unknown_column", detail))
    return columns


def read_production(cells: list[list[str]], faults: Faults) -> ReadSheet:
    """The production table from its paths and values."""
    values: list[Value] = []
    if tuple(cell.strip().lower() for cell in cells[0] if cell.strip()) != PRODUCTION_HEADING:
        detail = f"the headings are {' and '.join(PRODUCTION_HEADING)}"
        faults.append(sheet_problem("production", 1, 1, "unknown_column", detail))
    sheet = ReadSheet({})
    seen: dict[Path, int] = {}
    for number, row in enumerate(cells[1:], start=2):
        name, text = (*row, "", "")[:2]
        if not name.strip() and not text.strip():
            continue
        found = read_path(PRODUCTION, name)
        if found is None:
            detail = f"no such field: {shown(name)}"
            faults.append(sheet_problem("production", number, 1, "unknown_field", detail))
        elif found[0] in seen:
            detail = f"row {seen[found[0]]} says it already"
            faults.append(sheet_problem("production", number, 1, "given_twice", detail))
        elif text.strip():
            seen[found[0]] = number
            values.append((found[0], read_cell(text, found[1]), number))
    sheet.content = build(apart(values, "production", None, faults), "", None, sheet.places)
    return sheet


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
