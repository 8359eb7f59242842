"""A table's rows as opening lines by the field names of JSON; what can't be read is noted as a doubt, never filled in.

mark > place > kind > sizes > shape > count > every other cell heard for words of scope, shape and count
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from estimating.intake.cells import blank
from estimating.intake.column_contents import cells_of
from estimating.intake.columns import known_paths
from estimating.intake.counts import Counter
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.ends import FACT, FIELD, SET_ASIDE
from estimating.intake.expansion import split_typical
from estimating.intake.headings import COUNT, KNOWN_APART, OTHER, Heading, is_value
from estimating.intake.kind_words import letters_of
from estimating.intake.line_answers import AS_DRAWN
from estimating.intake.marks import DITTO, SIGNS, read_mark, short_ranges, signs_of
from estimating.intake.place_headings import says_several
from estimating.intake.remark_doubts import depth_beside
from estimating.intake.row_fields import PLACES, Above, RowFields
from estimating.intake.row_kinds import Columns
from estimating.intake.row_places import hear_number, hear_places, hear_rooms, rooms_in
from estimating.intake.row_shapes import settle_dimensions
from estimating.intake.row_sizes import Facts, SizeReader
from estimating.intake.row_words import Hearing, counts_by_measure, counts_joined
from estimating.intake.scope_columns import scope_of_heading
from estimating.intake.scope_words import Finding
from estimating.intake.short_cells import letters_and_numbers
from estimating.intake.sill_words import SillReader
from estimating.intake.tables import Table
from estimating.intake.tick_columns import initialled_columns, ticked_columns
from rates.core.grid import GridRow

AS_ABOVE = "as_above"
_PHASE = re.compile(r"\b(?:phase|tranche|bauabschnitt|fase)n?\b", re.IGNORECASE)
HEARD = frozenset({"note", "type", "scope", "status", "shape", "alternate", "kind"})


class RowReader(RowFields):
    """Reads the rows of one table."""

    def __init__(self, table: Table, number: int, facts: Facts, doubts: Doubts, hearing: Hearing) -> None:
        self.table, self.number, self.facts, self.doubts, self.hearing = table, number, facts, doubts, hearing
        self.columns = Columns.of(table)
        self.sizes = SizeReader(table, facts, doubts)
        self.counter = Counter(table, self.columns, facts, doubts, hearing)
        self.sills = SillReader(table)
        self.above = Above()
        self.table_kind = table.kind
        mark = self.columns.mark
        self.ranges = short_ranges(row.cell(mark) for row in table.rows) if mark is not None else {}
        self.letters = letters_of(cells_of(table, mark)) if mark is not None else frozenset()
        self.block = 0  # rows of words so far: the same row under another one may be another opening
        self.last: dict[int, str] = {}  # column -> the last cell in it that says something
        self.sections: list[tuple[str, str, str]] = []  # field, value, place of a heading between the lines
        self.at = {name: table.column(name) for name in ("kind", "type", "shape", *PLACES)}
        buildings = cells_of(table, self.at["building"]) if self.at["building"] is not None else []
        self.numbers = {"building": set(filter(str.isdecimal, buildings)) if letters_and_numbers(buildings) else set()}
        counted = {c for c in (self.columns.quantity, self.columns.mark) if c is not None}
        counted |= {c for c, heading in table.columns.items() if SizeReader.reads(heading)}
        heads = [(c, table.headings[c]) for c in sorted(counted) if c < len(table.headings)]
        self.headed_out = [(c, head, finding) for c, head in heads for finding in scope_of_heading(head)[:1]]
        self.headed_counts = [(c, head) for c, head in heads if counts_joined(head)]
        self.ticked = ticked_columns(table)
        self.radii = [
            c for c, head in enumerate(table.headings) if re.search(r"\bradi(?:us|i)\b|\brad\b", head, re.IGNORECASE)
        ]
        self.heard = [(c, h) for c, h in sorted(table.columns.items()) if h.field in HEARD and c != self.columns.mark]
        self.phase = phase_column(table)
        self.revised = [c for c, h in table.columns.items() if h.field == "revision"]
        self.rooms = [c for c, h in table.columns.items() if holds_rooms(h)]
        self.measured = [c for c, head in enumerate(table.headings) if counts_by_measure(head)]
        initialled = initialled_columns(table)
        self.heard = [(c, h) for c, h in self.heard if c not in initialled]
        taken = set(table.columns) | {self.columns.mark}
        self.plain = [(c, h) for c, h in table.columns.items() if self.is_plain(h) and c != self.columns.mark]
        used = taken - {c for c, h in table.columns.items() if h.field in KNOWN_APART and not self.is_plain(h)} | {
            c for c, _ in self.plain
        }
        self.unused = [c for c in range(table.sheet.width) if c not in used]
        told = {c for c, h in table.columns.items() if h.field in ("type", "note", "scope", "property", "source")}
        self.kind_beside = [*self.columns.sizes, *sorted({*told, *self.unused})]
        own = {self.columns.mark, self.columns.quantity, *self.columns.sizes, *(self.at[name] for name in PLACES)}
        words = ("kind", "type", "shape", "property", "room", "unit")
        self.beside = [
            c for c in {*self.unused, *(table.column(name) for name in words)} if c is not None and c not in own
        ]
        self.end_columns()

    def is_plain(self, heading: Heading) -> bool:
        """Whether a column's cells go into a field as they stand, or by one of its words."""
        own = ("mark", "quantity", "kind", "shape", "alternate", COUNT, OTHER)
        known = heading.field in known_paths() or len(heading.path) > 1
        return known and heading.field not in own and heading.field not in PLACES and not self.sizes.reads(heading)

    def end_columns(self) -> None:
        """Where the cells of each column end on lines, unless one ends elsewhere."""
        for column, heading in self.table.columns.items():
            if heading.field == OTHER:
                self.table.ends.column(column, SET_ASIDE, f"{heading.basis} size beside the rough one")
            elif heading.field in KNOWN_APART and not self.is_plain(heading):
                self.table.ends.column(column, SET_ASIDE, f"{heading.field}: heard, not used")
            elif heading.field in ("scope", "status", "sill_height", "head_height"):
                self.table.ends.column(column, FACT, heading.field)
            else:
                self.table.ends.column(column, FIELD, "quantity" if heading.field == COUNT else heading.field)
        if self.columns.mark is not None:
            self.table.ends.column(self.columns.mark, FIELD, "mark")
        for column in self.unused:
            self.table.ends.columns.setdefault(column, (SET_ASIDE, "column not used"))

    def read(self, row: GridRow) -> list[Draft]:
        """The lines of one row: one, or one for each place that it counts, or one for each line of its cells."""
        parts = broken_rows(row, self.columns.mark)
        return [draft for part in parts for draft in self.read_one(part)]

    def read_one(self, row: GridRow) -> list[Draft]:
        """The lines of a row, or of one line of its cells."""
        row, repeated = self.repeat(row)
        draft = Draft({"mark": ""}, self.number, row.number, cells=hash((self.block, *row.cells)))
        draft.issue = " ".join((self.above.issue, *(row.cell(column) for column in self.revised))).strip()
        times = self.put_mark(row, draft)
        self.put_place(row, draft)
        self.ask_blank_places(row, draft)
        self.put_kind(row, draft)
        self.hear_kind(row, draft)
        texts = self.sizes.put(row, draft)
        for column, heading in self.plain:
            if cell := row.cell(column):
                self.put_plain(row, draft, heading, column, cell)
        settle_dimensions(draft)
        self.put_shape(row, draft)
        self.put_sill(row, draft)
        self.put_leaves(row, draft)
        drafts = self.counter.count(row, draft, times or self.times_beside(row))
        for name in PLACES:
            place = self.at[name]
            if place is not None and (cell := row.cell(place)) in self.numbers.get(name, ()):
                hear_number(drafts, name, cell, self.place(row, place), self.own(row, place), self.doubts)
            elif place is not None and cell and not cell.isdigit() and not blank(cell):
                hear_places(drafts, name, cell, self.place(row, place), self.own(row, place), self.hearing, self.doubts)
        for column in (c for c in self.rooms if c not in self.measured or rooms_in(row.cell(c)) > 1):  # Unit: EA
            hear_rooms(drafts, row.cell(column), self.place(row, column), self.own(row, column), self.doubts)
        for column in self.measured:
            self.hearing.measure(drafts, row.cell(column), self.place(row, column), self.own(row, column))
        for column, name in self.sizes.sized():
            if name == "size" and (doubt := depth_beside(draft, row.cell(column), self.place(row, column))) is not None:
                self.doubts.note(doubt)
                self.question(row, column, doubt.code)
        self.hear(row, drafts, texts)
        for column, sign in repeated:
            for one in drafts:
                self.doubts.note(Doubt("ditto", one, self.place(row, column), sign, (), {AS_ABOVE: {}}, field="ditto"))
            self.question(row, column, "ditto")
        return drafts

    def ask_blank_places(self, row: GridRow, draft: Draft) -> None:
        """A place that the line has none of and lines above have: it may be theirs."""
        for name, column in ((name, self.at[name]) for name in PLACES if name != "phase"):
            above = self.last.get(column, "") if column is not None else ""
            if column is not None and name not in draft.values and not row.cell(column) and not blank(above):
                options: dict[str, dict[str, str]] = {AS_DRAWN: {}}
                if not says_several(above, name):  # several places would be taken for the name of one
                    options = {AS_ABOVE: {name: above}, **options}
                place = self.place(row, column)
                self.doubts.note(Doubt("place_blank", draft, place, "", (name,), options, f"above: {above}", name))
        for name, above in self.above.left.items():
            if name not in draft.values:
                options = {AS_ABOVE: {name: above}, AS_DRAWN: {}}
                place, said = self.place(row, self.columns.mark), f"above: {above}"
                self.doubts.note(Doubt("place_blank", draft, place, "", (name,), options, said, name))

    def times_beside(self, row: GridRow) -> int | None:
        """The times of a TYP x 4 in the kind, the type, or a cell that no field has."""
        cells = [row.cell(column) for column in self.beside if "typ" in row.cell(column).lower()]
        return next((times for cell in cells if (times := split_typical(cell)[1]) is not None), None)

    def repeat(self, row: GridRow) -> tuple[GridRow, list[tuple[int, str]]]:
        """The row with the cells above it where marks of repetition stand, and where they stand."""
        repeated = [(c, cell) for c, cell in enumerate(row.cells) if cell.strip().lower() in DITTO and self.last.get(c)]
        cells = list(row.cells)
        for column, _ in repeated:
            cells[column] = self.last[column]
        self.last |= {column: cell for column, cell in enumerate(cells) if cell}
        return (replace(row, cells=cells), repeated) if repeated else (row, [])

    def put_mark(self, row: GridRow, draft: Draft) -> int | None:
        """The mark; the times of a TYP x 4 beside it."""
        column = self.columns.mark
        cell = row.cell(column) if column is not None else ""
        said = read_mark(cell)
        if not said.mark:
            self.doubt_mark(row, draft, column, said.ditto or not cell)
        else:
            draft.values["mark"] = said.mark
            self.above.mark = said.mark
        if said.mark != cell:
            draft.written["mark"] = cell
        if said.count is not None:
            draft.beside.append(("mark", said.count, cell, self.place(row, column)))
        if several := said.several or self.ranges.get(said.mark.rstrip(SIGNS), ()):
            self.doubts.note(Doubt("several_marks", draft, self.place(row, column), cell, field="mark", parts=several))
            self.question(row, column, "several_marks")
        for finding in said.heard:
            self.hearing.hear(draft, finding, self.place(row, column), cell, self.own(row, column))
        for sign in signs_of(said.signs):
            self.hearing.sign(draft, sign, self.place(row, column))
        return said.times

    def doubt_mark(self, row: GridRow, draft: Draft, column: int | None, above: bool) -> None:
        """A line without a mark: of the line above it, as a rule, or one of its own."""
        draft.identity = "\x1f".join(row.cells)[:400]
        if column is None:
            return  # asked once for the table
        text = row.cell(column) if column is not None else ""
        options = {AS_ABOVE: {"mark": self.above.mark}} if above and self.above.mark else {}
        written = text or " ".join(cell for cell in row.cells if cell)[:60]
        self.doubts.note(Doubt("mark_unknown", draft, self.place(row, column), written, (), options, "", "mark"))
        self.question(row, column, "mark_unknown")

    def more(self, row: GridRow, drafts: Sequence[Draft]) -> None:
        """A row that says more of the line above it, as where its remark was wrapped."""
        for draft in drafts:
            for column, heading in self.plain:
                if row.cell(column) and heading.field == "note":
                    self.put_plain(row, draft, heading, column, row.cell(column))
        self.hear(row, drafts, ())

    def hear(self, row: GridRow, drafts: Sequence[Draft], texts: Sequence[tuple[int, str]]) -> None:
        """Every cell that no field takes whole: remarks, types, unused columns, words beside sizes."""
        for column, head, finding in self.headed_out:
            self.hearing.put_out(drafts, finding, head, self.place(row, column), self.own(row, column))
        for column, head in self.headed_counts:
            for draft in drafts if row.cell(column) else ():
                said = f"{head}: {row.cell(column)}"
                self.doubts.note(
                    Doubt("count_words", draft, self.place(row, column), said, (head,), {AS_DRAWN: {}}, field="count")
                )
        for column, heading in self.heard:
            cell = row.cell(column)
            if cell or column in self.ticked:
                self.hearing.cell(drafts, cell, self.place(row, column), heading, self.own(row, column))
        for column in self.unused:
            cell = row.cell(column)
            if cell or column in self.ticked:
                head = self.table.headings[column] if column < len(self.table.headings) else ""
                self.hearing.unused(drafts, cell, head, self.place(row, column), self.own(row, column))
                free = column not in self.table.columns and column not in self.ticked
                if free and len(cell) > 2 and not (head and is_value(cell)):  # a letter alone may be one of a key
                    known = head and "key"  # a fraction under a heading of its own is no share of the count
                    self.hearing.remark(drafts, cell, self.place(row, column), known, self.own(row, column))
        for column in sorted({c for c in (self.columns.mark, *map(self.at.get, PLACES)) if c is not None}):
            if cell := row.cell(column):
                self.hearing.sizes(drafts, cell, self.place(row, column), self.own(row, column))
        if self.phase is not None and (cell := row.cell(self.phase)):
            said = f"{self.table.headings[self.phase]} {cell}"
            finding, own = Finding("future", "scope", said), self.own(row, self.phase)
            self.hearing.put_out(drafts, finding, said, self.place(row, self.phase), own)
        for column, text in texts:
            self.hearing.words(drafts, text, self.place(row, column), self.own(row, column))
        for column, text in row.struck.items():
            self.hearing.struck(drafts, text, self.place(row, column), self.own(row, column))


def holds_rooms(heading: Heading) -> bool:
    """Whether a column's cells name rooms or units, as the types under UNITS do."""
    return heading.field in ("room", "unit") or (heading.field == "type" and "unit" in heading.choices)


def phase_column(table: Table) -> int | None:
    """The column of phases, where the lines are of more than one: a bid is seldom for all of them."""
    for column, head in enumerate(table.headings):
        if (
            _PHASE.search(head)
            and table.columns.get(column)
            and len({row.cell(column) for row in table.rows} - {""}) > 1
        ):
            return column
    return None


def broken_rows(row: GridRow, mark: int | None) -> list[GridRow]:
    """The row, or one for each line of its cells where the mark's cell has several and others as many."""
    lines = row.broken.get(mark, ()) if mark is not None else ()
    alike = [column for column, parts in row.broken.items() if len(parts) == len(lines)]
    if len(lines) < 2 or len(alike) < 2:
        return [row]
    return [
        replace(row, cells=[row.broken[c][n] if c in alike else cell for c, cell in enumerate(row.cells)], broken={})
        for n in range(len(lines))
    ]
