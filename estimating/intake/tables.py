"""Where the schedules stand in a sheet: titles, one to three heading rows, lines, repeated headings, further tables.

sheet > parts side by side > rows scored as headings > tables, each with the meaning of its columns
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from estimating.intake.count_words import read_count_text
from estimating.intake.ends import TableEnds
from estimating.intake.heading_rows import (
    CARRYING_TURNED,
    compose,
    continues,
    heads_a_list,
    heads_sizes,
    is_heading,
    is_total_word,
    numbers_as_names,
    units_row,
)
from estimating.intake.headings import COUNT, Heading, declared_unit, is_value, understand
from estimating.intake.kind_words import kind_of
from estimating.intake.meanings import carries, first_of_repetitions, meanings, worth
from estimating.intake.place_headings import Place, place_of_heading
from estimating.intake.regions import parts_of, split_repeated, turn
from estimating.intake.size_words import read_size_text
from rates.core.grid import GridRow, Sheet

_MARK = re.compile(r"[A-Za-z]{1,4}[-. ]?[0-9]{1,4}[A-Za-z]?|[A-Z]{1,2}")
MOST_TITLES = 60  # rows looked at for the first heading
MOST_HEADING_ROWS = 3
LEAST_TURNED = 3  # headings in the first column that make a table of openings side by side


@dataclass(slots=True)
class Table:
    """One table of a sheet. columns: what each means; titles: (row, text) above; aside: columns that another rules."""

    sheet: Sheet
    first_row: int
    heading_row: int
    headings: list[str]
    columns: dict[int, Heading]
    titles: list[tuple[int, str]] = field(default_factory=list)
    rows: list[GridRow] = field(default_factory=list)
    repeated: int = 0
    sheet_row: int = 0  # the row of the sheet as it is that a turned table begins at
    guessed: bool = False  # no heading is understood: the columns are what their cells look like
    ends: TableEnds = field(default_factory=TableEnds)

    @property
    def fingerprint(self) -> str:
        """A digest of the headings, alike for spacing and case."""
        plain = "\x1f".join(" ".join(heading.upper().split()) for heading in self.headings).rstrip("\x1f")
        return hashlib.sha256(plain.encode("utf-8", "surrogatepass")).hexdigest()[:32]

    def widen(self) -> None:
        """A blank heading over each column that lines have and no heading stands over, as an answer may name it."""
        width = max(self.sheet.width, *(column + 1 for column in self.columns), 0)
        self.headings += [""] * (width - len(self.headings))

    @property
    def kind(self) -> str | None:
        """The kind of opening that the nearest title or the sheet's name gives for every line."""
        said = [kind_of(text) for text in (*(text for _, text in reversed(self.titles)), self.sheet.name)]
        return next((kind for kind in said if kind), None)

    @property
    def unit(self) -> str:
        """The unit that a title, a page or a note under the table declares; blank where none does, or two differ."""
        texts = [text for _, text in self.titles] + list(self.sheet.pages)
        texts += [cell for row in self.rows[-20:] if row.filled <= 2 for cell in row.cells if cell]
        found = {unit for unit in map(declared_unit, texts) if unit}
        return found.pop() if len(found) == 1 else ""

    def column(self, name: str) -> int | None:
        """The column of a field."""
        return next((c for c, heading in self.columns.items() if heading.field == name), None)

    def counts(self) -> list[tuple[int, Heading]]:
        """The columns that count the openings of one place each."""
        return [(column, heading) for column, heading in sorted(self.columns.items()) if heading.field == COUNT]

    def place(self, row: int, name: str | None = None) -> str:
        """The cell of a field in a row, or the row."""
        column = self.column(name) if name else None
        if column is None and name in ("width", "height"):
            column = self.column("size")
        return self.sheet.place(row, column)


Known = Mapping[str, Mapping[int, Heading]]


@dataclass
class Found:
    """The tables of a sheet, and the rows that stand outside of any."""

    tables: list[Table] = field(default_factory=list)
    outside: list[tuple[Sheet, GridRow]] = field(default_factory=list)


def find_tables(sheet: Sheet, known: Known) -> Found:
    """The tables of a sheet; `known` holds confirmed meanings of columns by fingerprint."""
    if is_turned(sheet) and (turned := turn(sheet)) is not None:
        beside = Found()
        scan(turned, known, beside)
        if beside.tables:
            return beside
    found = Found()
    for part in parts_of(sheet, heads_a_list):
        scan(part, known, found)
    left = replace(sheet, rows=[row for _, row in found.outside])
    if (table := marks_across(left)) is not None:
        found.tables.insert(0, table)
        inside = {row.number for row in left.rows if row.number >= table.sheet_row}
        found.outside = [(part, row) for part, row in found.outside if row.number not in inside]
    return found


def marks_across(sheet: Sheet) -> Table | None:
    """A count matrix on its side: marks across, places down, the marks' sizes in a row between."""
    for at, row in enumerate(sheet.rows[:MOST_TITLES]):
        lead, marks = row.cell(0), [cell for cell in row.cells[1:] if cell]
        if len(marks) < 2 or not all(_MARK.fullmatch(cell) for cell in marks) or (lead and understand(lead) is None):
            continue
        turned = turn(sheet_from(sheet, at))
        if turned is None:
            return None
        columns: dict[int, Heading] = {row.number - 1: Heading("mark", path=("mark",))}
        for below in sheet.rows[at + 1 :]:
            head, cells = below.cell(0), [cell for cell in below.cells[1:] if cell]
            if is_total_word(head):
                columns[below.number - 1] = Heading("quantity", path=("quantity",))
            elif cells and all(read_size_text(cell).dimensions and not cell.isdigit() for cell in cells):
                columns[below.number - 1] = Heading("size", path=("size",))
            elif head and all(read_count_text(cell).plain is not None for cell in cells):
                place = place_of_heading(head) or Place(storey=head)
                columns[below.number - 1] = Heading(COUNT, path=tuple(place))
        if sum(1 for heading in columns.values() if heading.field == COUNT) < 2:
            continue
        first = next(r for r in turned.rows)
        table = Table(
            turned,
            first.number,
            first.number,
            [first.cell(c) for c in range(turned.width)],
            dict(sorted(columns.items())),
        )
        table.rows, table.sheet_row = turned.rows[1:], row.number
        return table
    return None


def is_turned(sheet: Sheet) -> bool:
    """Whether the first filled column holds the headings, as where each opening has a column."""
    if any(heads_sizes(row.cells) for row in sheet.rows[:MOST_TITLES]):
        return False
    for column in range(min(sheet.width, 3)):
        texts = [text for row in sheet.rows if (text := row.cell(column))]
        found = meanings(texts)
        fields = {heading.field for heading in found.values() if heading.sure or heading.field == "type"}
        if len(fields & CARRYING_TURNED) >= LEAST_TURNED and 2 * len(found) > len(texts):
            return True
    return False


def scan(sheet: Sheet, known: Known, found: Found) -> None:
    """Adds the tables of one part, row by row."""
    titles: list[tuple[int, str]] = []
    mine: list[Table] = []
    at = looked = 0
    while at < len(sheet.rows):
        table, taken = start_table(sheet, at) if may_head(sheet, at, mine, looked) else (None, 1)
        if table is None:
            row = sheet.rows[at]
            looked += 1
            if mine:
                mine[-1].rows.append(row)
            else:
                found.outside.append((sheet, row))
            titles = next_titles(titles, row, bool(mine))
        elif mine and same_headings(mine[-1], table):
            mine[-1].repeated += 1
            for row in sheet.rows[at : at + taken]:
                mine[-1].ends.row(row.number, "fact", "heading")
            titles = []
        else:
            starts = first_of_repetitions(table.headings, table.columns)
            if len(starts) > 1:
                for part in split_repeated(sheet_from(sheet, at), starts):
                    scan(part, known, found)
                return
            table.titles = titles
            if table.fingerprint in known:
                table.columns = dict(known[table.fingerprint])
            mine.append(table)
            found.tables.append(table)
            titles = []
        at += taken


def sheet_from(sheet: Sheet, at: int) -> Sheet:
    """The sheet from a row on."""
    return replace(sheet, rows=sheet.rows[at:])


def next_titles(titles: list[tuple[int, str]], row: GridRow, after_lines: bool) -> list[tuple[int, str]]:
    """The titles that stand above the next heading, this row among them where it can be one and no line of a table."""
    if row.filled > (2 if after_lines else 4) or (after_lines and any(map(is_value, row.cells))):
        return titles
    return [*titles[-8:], *((row.number, cell) for cell in row.cells if cell)][-12:]


def may_head(sheet: Sheet, at: int, tables: Sequence[Table], looked: int) -> bool:
    """Whether it is worth the time to look at a row as a heading."""
    if not tables:
        return looked < MOST_TITLES
    row = sheet.rows[at]
    mark = tables[-1].column("mark")
    mark = tables[-1].column("type") if mark is None else mark
    if mark is not None and row.cell(mark) and not (carries(row.cell(mark)) and len(row.cell(mark)) > 1):
        return False  # a line, whatever its other cells say
    return sum(1 for cell in row.cells[:40] if len(cell) > 1 and carries(cell)) >= 2


def same_headings(before: Table, after: Table) -> bool:
    """Whether a heading is the one of the table above over again, as on the next printed page."""
    if before.fingerprint == after.fingerprint:
        return True
    return {(c, h.field) for c, h in before.columns.items()} == {(c, h.field) for c, h in after.columns.items()}


def start_table(sheet: Sheet, at: int) -> tuple[Table | None, int]:
    """The table whose heading begins at a row, and how many rows the heading takes.

    More rows make one heading where joined they say more than one alone; a row of units under it belongs to it.
    """
    best: Table | None = None
    taken, most = 1, 0
    headings: list[str] = []
    for count, row in enumerate(sheet.rows[at : at + MOST_HEADING_ROWS], 1):
        if count > 1 and not continues(sheet.rows[at + count - 2], row):
            break
        if any(is_value(cell) for cell in row.cells) and not numbers_as_names(row.cells):
            break
        alone = list(row.cells)
        headings = compose(sheet, sheet.rows[at + count - 2], headings, row) if count > 1 else alone
        seen = ["" if column in sheet.hidden_columns else heading for column, heading in enumerate(headings)]
        columns = meanings(seen, ["" if c in sheet.hidden_columns else cell for c, cell in enumerate(alone)])
        score = worth(columns)
        units = count > 1 and units_row(alone)
        own = worth(meanings(alone)) if count > 1 and is_heading(meanings(alone), alone) else 0
        if is_heading(columns, headings) and (score > max(most, own) or (units and best is not None)):
            best, taken, most = Table(sheet, sheet.rows[at].number, row.number, headings, columns), count, score
    return best, taken
