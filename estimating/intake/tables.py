"""Where the schedules stand in a sheet: titles, one or two heading rows, lines, repeated headings, further tables.

sheet > rows scored as headings > tables, each with the meaning of its columns and a fingerprint of its headings
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from estimating.intake.grid import GridRow, Sheet
from estimating.intake.vocabulary import ELEVATIONS, Heading, declared_unit, kind_of, understand, unit_of

MOST_TITLES = 60  # rows looked at for the first heading
CARRYING = frozenset({"mark", "quantity", "width", "height", "size", "diameter", "type", "kind"})
ELEVATION_COUNT = "elevation_count"
SPLIT = frozenset({"size"})


@dataclass(slots=True)
class Table:
    """One table of a sheet."""

    sheet: Sheet
    heading_row: int
    headings: list[str]
    columns: dict[int, Heading]
    titles: list[str] = field(default_factory=list)
    rows: list[GridRow] = field(default_factory=list)
    repeated: int = 0

    @property
    def fingerprint(self) -> str:
        """A digest of the headings, alike for spacing and case."""
        plain = "\x1f".join(" ".join(heading.upper().split()) for heading in self.headings)
        return hashlib.sha256(plain.encode()).hexdigest()[:32]

    @property
    def kind(self) -> str | None:
        """The kind of opening that the nearest title or the sheet's name gives for every line."""
        said = [kind_of(text) for text in (*reversed(self.titles), self.sheet.name)]
        return next((kind for kind in said if kind), None)

    @property
    def unit(self) -> str:
        """The unit that a title or a note under the table declares; blank where none does, or two differ."""
        texts = list(self.titles)
        texts += [cell for row in self.rows[-20:] if row.filled <= 2 for cell in row.cells if cell]
        found = {unit for unit in map(declared_unit, texts) if unit}
        return found.pop() if len(found) == 1 else ""

    def column(self, name: str) -> int | None:
        """The column of a field."""
        return next((c for c, heading in self.columns.items() if heading.field == name), None)

    def place(self, row: int, name: str | None = None) -> str:
        """The cell of a field in a row, or the row."""
        column = self.column(name) if name else None
        if column is None and name in ("width", "height"):
            column = self.column("size")
        return self.sheet.place(row, column)


def find_tables(sheet: Sheet, known: Mapping[str, Mapping[int, Heading]]) -> list[Table]:
    """The tables of a sheet; `known` holds confirmed meanings of columns by fingerprint."""
    tables: list[Table] = []
    titles: list[str] = []
    at, looked = 0, 0
    while at < len(sheet.rows):
        table, taken = start_table(sheet, at) if may_head(sheet, at, tables, looked) else (None, 1)
        if table is None:
            row = sheet.rows[at]
            looked += 1
            if tables:
                tables[-1].rows.append(row)
            titles = [*titles[-8:], *(cell for cell in row.cells if cell)][-12:] if row.filled <= 4 else titles
        elif tables and same_headings(tables[-1], table):
            tables[-1].repeated += 1
            titles = []
        else:
            table.titles = titles
            if table.fingerprint in known:
                table.columns = dict(known[table.fingerprint])
            tables.append(table)
            titles = []
        at += taken
    return tables


def may_head(sheet: Sheet, at: int, tables: Sequence[Table], looked: int) -> bool:
    """Whether it is worth the time to look at a row as a heading."""
    if not tables:
        return looked < MOST_TITLES
    row = sheet.rows[at]
    return sum(1 for cell in row.cells[:40] if cell and understand(cell) is not None) >= 2


def same_headings(before: Table, after: Table) -> bool:
    """Whether a heading is the one of the table above over again, as on the next printed page."""
    if before.fingerprint == after.fingerprint:
        return True
    pairs = [{(column, heading.field) for column, heading in table.columns.items()} for table in (before, after)]
    return pairs[0] == pairs[1]


def start_table(sheet: Sheet, at: int) -> tuple[Table | None, int]:
    """The table whose heading begins at a row, and how many rows the heading takes.

    Two rows make one heading where joined they say more than either alone; a row of units under it belongs to it.
    """
    row = sheet.rows[at]
    single = meanings(row.cells)
    if at + 1 < len(sheet.rows):
        below = sheet.rows[at + 1]
        composed = compose(sheet, row, below)
        double = meanings(composed, below.cells)
        more = worth(double) > max(worth(single), worth(meanings(below.cells)))
        if is_heading(double, composed) and (more or (is_heading(single, row.cells) and units_row(below.cells))):
            return Table(sheet, below.number, composed, double), 2
    if is_heading(single, row.cells):
        return Table(sheet, row.number, list(row.cells), single), 1
    return None, 1


def units_row(cells: Sequence[str]) -> bool:
    """Whether a row under a heading holds nothing but units."""
    filled = [cell for cell in cells if cell]
    return bool(filled) and all(unit_of(cell.lower().strip("()[] ")) for cell in filled)


def compose(sheet: Sheet, upper: GridRow, lower: GridRow) -> list[str]:
    """The headings of two rows joined: a group's heading stands over each of its columns, merged or not."""
    width = max(len(upper.cells), len(lower.cells))
    over = [upper.cell(c) for c in range(width)]
    for first_row, first, last_row, last in sheet.merges:
        if first_row <= upper.number <= last_row and first < width:
            over[first : last + 1] = [over[first]] * (min(last, width - 1) + 1 - first)
    for column in range(1, width):
        if not over[column] and over[column - 1] and lower.cell(column - 1) and joins(lower.cell(column)):
            over[column] = over[column - 1]
    return [" ".join(part for part in (over[c], lower.cell(c)) if part) for c in range(width)]


def joins(heading: str) -> bool:
    """Whether a heading can belong to the group that stands over its left neighbour."""
    meant = understand(heading) if heading else None
    return bool(heading) and (meant is None or meant.field in ("width", "height", "diameter", "size"))


def meanings(headings: Sequence[str], lower: Sequence[str] | None = None) -> dict[int, Heading]:
    """Column -> meaning, for the columns whose heading is understood; the first of two alike counts."""
    found: dict[int, Heading] = {}
    taken: set[str] = set()
    sides = elevation_columns(lower if lower is not None else headings)
    for column, heading in enumerate(headings):
        alone = lower[column] if lower is not None and column < len(lower) else ""
        if column in sides:
            found[column] = Heading(ELEVATION_COUNT, "", "", (ELEVATIONS[sides[column]],))
            continue
        meant = understand(heading) if heading else None
        if meant is None and alone:
            meant = understand(alone)
        if (
            meant is not None
            and meant.field not in taken
            and not (taken & {"width", "height"} and meant.field in SPLIT)
        ):
            found[column] = meant
            taken.add(meant.field)
    return found


def elevation_columns(headings: Sequence[str]) -> dict[int, str]:
    """Columns that count by elevation: two full names at least, or three letters of N S E W."""
    named = {c: h.strip().lower().strip(".") for c, h in enumerate(headings)}
    full = {c: h for c, h in named.items() if h in ELEVATIONS and len(h) > 1}
    letters = {c: h for c, h in named.items() if h in ELEVATIONS and len(h) == 1}
    if len(full) >= 2:
        return full
    return letters if len({"n", "s", "e"} & set(letters.values())) >= 2 else {}


def worth(columns: Mapping[int, Heading]) -> int:
    """How much a heading row says: fields, those that carry a line three times, and the units and bases with them."""
    return sum(
        (3 if heading.field in CARRYING else 2) + bool(heading.unit) + bool(heading.basis)
        for heading in columns.values()
    )


def is_heading(columns: Mapping[int, Heading], cells: Sequence[str]) -> bool:
    """Whether a row can head a table: two fields that carry a line, and a third of what it says understood."""
    carrying = {heading.field for heading in columns.values()} & CARRYING
    filled = [cell for cell in cells if cell]
    if len(carrying) < 2 or any(len(cell) > 80 for cell in filled):
        return False
    return len(columns) * 3 >= len(filled)
