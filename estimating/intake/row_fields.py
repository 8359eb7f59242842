"""The cells of a row that each give a field by themselves: place, kind, plain fields, shape, sill, leaves."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence, Set
from dataclasses import dataclass, field
from typing import Any

from estimating.core.kinds import OPENING_KINDS
from estimating.intake.cells import blank
from estimating.intake.column_words import is_out
from estimating.intake.columns import cell_reader
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.headings import Heading
from estimating.intake.kind_words import (
    described_kind,
    is_kind_alone,
    kind_of,
    kind_of_letter,
    kind_of_mark,
    other_kind,
)
from estimating.intake.row_kinds import Columns
from estimating.intake.row_shapes import doubt_of, settle_words
from estimating.intake.row_sizes import SizeReader
from estimating.intake.row_words import Hearing
from estimating.intake.scope_words import Finding, read_words
from estimating.intake.sill_words import SillReader
from estimating.intake.tables import Table
from estimating.intake.words import WORDS
from rates.core.grid import GridRow

PLACES = ("storey", "elevation", "building", "phase")


@dataclass
class Above:
    """What the rows above say for those below: the last mark, the section's place, kind, words and revision.

    nested: the places of headings between the lines, the outer before the inner; left: inner places that ended as an
    outer one began, LEVEL 1 > NORTH > LEVEL 2.
    """

    mark: str = ""
    size: Mapping[str, str] = field(default_factory=dict)
    section: dict[str, str] = field(default_factory=dict)
    kind: str | None = None
    issue: str = ""
    nested: list[str] = field(default_factory=list)
    left: dict[str, str] = field(default_factory=dict)

    def enter(self, name: str, value: str) -> None:
        """A heading between the lines names a place; what was named inside of the one before is named no more."""
        if name in self.nested:
            inner = self.nested[self.nested.index(name) + 1 :]
            self.left |= {one: self.section.pop(one) for one in inner if one in self.section}
            self.nested = self.nested[: len(self.nested) - len(inner)]
        else:
            self.nested.append(name)
        self.section[name] = value
        self.left.pop(name, None)


class RowFields:
    """Puts the single fields of a row into its line; what can't be read is noted as a doubt."""

    table: Table
    table_kind: str | None
    columns: Columns
    doubts: Doubts
    hearing: Hearing
    sizes: SizeReader
    sills: SillReader
    at: Mapping[str, int | None]
    radii: Sequence[int]
    kind_beside: Sequence[int]
    letters: Set[str]  # that its marks begin with
    above: Above

    def place(self, row: GridRow, column: int | None) -> str:
        """A cell as a person finds it."""
        return self.table.sheet.place(row.number, column)

    def question(self, row: GridRow, column: int | None, code: str) -> None:
        """A cell that a question is about."""
        if column is not None and row.cell(column):
            self.table.ends.cell(row.number, column, QUESTION, code)

    def note(self, code: str, row: GridRow, draft: Draft, column: int | None, written: str, name: str) -> None:
        """A doubt about one cell."""
        self.doubts.note(Doubt(code, draft, self.place(row, column), written, field=name))
        self.question(row, column, code)

    def own(self, row: GridRow, column: int | None) -> Callable[[str], None]:
        """What marks a cell's end as a question."""
        return lambda code: self.question(row, column, code)

    def put_place(self, row: GridRow, draft: Draft) -> None:
        """Storey, elevation, building and phase, from their columns or the section above."""
        for name in PLACES:
            column = self.at[name]
            cell = row.cell(column) if column is not None else ""
            if column is None or (blank(cell) and name in self.above.section):
                cell = self.above.section.get(name, "")
            if cell and not blank(cell):
                draft.values[name] = cell

    def put_kind(self, row: GridRow, draft: Draft) -> None:
        """The kind, from its column, a type column that names one, the section, the title or the sheet's name."""
        column = self.at["kind"]
        cell = row.cell(column) if column is not None else ""
        kind = kind_of(cell) or (cell.lower() if cell.lower() in OPENING_KINDS else None)
        if kind is None and self.at["type"] is not None:
            kind = kind_of(row.cell(self.at["type"]))
        if kind is None and not cell:
            kind = self.above.kind or self.table_kind
        if kind is None and cell and not blank(cell) and not read_words(cell).of("scope", "shape"):
            self.doubts.note(
                Doubt(
                    "kind_unknown",
                    draft,
                    self.place(row, column),
                    cell,
                    same(cell),
                    {kind: {"kind": kind} for kind in OPENING_KINDS},
                    field="kind",
                )
            )
            self.question(row, column, "kind_unknown")
            draft.asked.add("kind")
        if kind:
            draft.values["kind"] = kind

    def hear_kind(self, row: GridRow, draft: Draft) -> None:
        """A kind that a size's cell names, or words call it: taken where none is known, else asked."""
        known = draft.values.get("kind")
        if "kind" in draft.asked:
            return
        for column in self.kind_beside:
            cell = row.cell(column)
            if not cell:
                continue
            sized = column in self.columns.sizes
            if known is not None:
                named = other_kind(cell, known) if sized or is_kind_alone(cell) else described_kind(cell, known)
                if self.ask_kind(row, draft, column, known, named):
                    return
            elif sized and (kind := kind_of(cell)):
                draft.values["kind"] = kind
                return
        if known is not None:
            mark = str(draft.values["mark"])
            named = kind_of_mark(mark, known)
            if named is None and not any(
                kind_of(row.cell(at)) for at in (self.at["kind"], self.at["type"]) if at is not None
            ):
                named = kind_of_letter(mark, known, self.letters)
            self.ask_kind(row, draft, self.columns.mark, known, named)

    def ask_kind(self, row: GridRow, draft: Draft, column: int | None, known: str, named: str | None) -> bool:
        """Asks which of two kinds a line is, where a cell names another; whether it does."""
        if named is None or column is None:
            return False
        options = {kind: {"kind": kind} for kind in (known, named)}
        cell, place = row.cell(column), self.place(row, column)
        self.doubts.note(Doubt("kind_beside", draft, place, cell, (known, named), options, field="kind"))
        self.question(row, column, "kind_beside")
        return True

    def put_plain(self, row: GridRow, draft: Draft, heading: Heading, column: int, cell: str) -> None:
        """A field that takes words: one of its own, or text as it stands."""
        name, path = heading.field, heading.path
        reader = WORDS.get(name)
        if reader is not None:
            value, choices = reader(cell)
            if name == "method" and value is None and is_out(cell):
                place = self.place(row, column)
                self.hearing.status([draft], cell, heading.title or name, place, self.own(row, column))
            elif value is None and choices:
                draft.asked.add(name)
                self.doubts.note(
                    Doubt(
                        code_of(name),
                        draft,
                        self.place(row, column),
                        cell,
                        same(cell),
                        choose(name, choices),
                        field=name,
                    )
                )
                self.question(row, column, code_of(name))
            if value is not None:
                draft.values[name] = value
            inside = [one for one in read_words(cell).of("scope") if one.topic == "interior"]
            for finding in inside[:1] if name == "substrate" else ():
                self.hearing.hear(draft, finding, self.place(row, column), cell, self.own(row, column))
            if name == "external" and value is False:
                head = self.table.headings[column] if column < len(self.table.headings) else "external"
                self.hearing.hear(
                    draft,
                    Finding("interior", "scope", cell),
                    self.place(row, column),
                    f"{head}: {cell}",
                    self.own(row, column),
                )
        elif len(path) == 2:
            inner = draft.values.setdefault(path[0], {})
            if isinstance(inner, dict):
                inner[path[1]] = cell
        elif name == "points":
            draft.values["points"] = cell_reader("points", heading.unit)(cell)
        elif name == "note":
            draft.values["note"] = f"{draft.values['note']}; {cell}" if draft.values.get("note") else cell
        else:
            draft.values[name] = cell

    def put_shape(self, row: GridRow, draft: Draft) -> None:
        """The shape that a column of shapes, types or kinds tells."""
        for name in ("shape", "type", "kind"):
            column = self.at[name]
            cell = row.cell(column) if column is not None else ""
            findings = tuple(f for f in read_words(cell).findings if f.group == "shape") if cell else ()
            if findings:
                doubt = settle_words(draft, findings, self.place(row, column), cell, own=True)
                if doubt is not None:
                    self.doubts.note(doubt)
                    self.question(row, column, doubt.code)
                return
        arched = next((name for name in ("springline", "rise") if name in draft.values), "")
        if arched and "shape" not in draft.values:
            column = self.table.column(arched)
            self.doubts.note(doubt_of(draft, ("arch",), self.place(row, column), row.cell(column or 0)))
            self.question(row, column, "shape_words")
        for column in self.radii:
            if row.cell(column) and "shape" not in draft.values and not blank(row.cell(column)):
                head = self.table.headings[column]
                self.doubts.note(doubt_of(draft, ("arch",), self.place(row, column), f"{head}: {row.cell(column)}"))
                self.question(row, column, "shape_words")
        self.shape_of_mark(row, draft)

    def put_sill(self, row: GridRow, draft: Draft) -> None:
        """The kind of the sill."""
        for column in self.sills.columns:
            doubt = self.sills.put(row, draft, self.place(row, column), column) if row.cell(column) else None
            if doubt is not None:
                self.doubts.note(doubt)
                self.question(row, column, doubt.code)

    def put_leaves(self, row: GridRow, draft: Draft) -> None:
        """Two leaves of a door stand in one opening, which its size may or may not be of."""
        column = self.table.column("leaves")
        cell = row.cell(column) if column is not None else ""
        if column is not None and cell.strip() not in ("", "1", "-", "1.0"):
            head = self.table.headings[column]
            self.doubts.note(
                Doubt("leaves", draft, self.place(row, column), f"{head}: {cell}", (), {"as_drawn": {}}, field="leaves")
            )
            self.question(row, column, "leaves")

    def shape_of_mark(self, row: GridRow, draft: Draft) -> None:
        """A mark such as ARCH-2 or OCT-1, whose letters name a shape."""
        lead = re.match(r"[^\W\d_]{3,}", draft.values["mark"])
        findings = read_words(lead[0]).of("shape") if lead else ()
        if findings and "shape" not in draft.values and "shape" not in draft.asked:
            doubt = settle_words(draft, findings, self.place(row, self.columns.mark), draft.values["mark"], own=False)
            if doubt is not None:
                self.doubts.note(doubt)
                self.question(row, self.columns.mark, doubt.code)


def code_of(name: str) -> str:
    """The code of the question about a field's word."""
    return "external_word" if name == "external" else f"{name}_unknown"


def same(cell: str) -> tuple[str]:
    """What cells of the same words share."""
    return (" ".join(cell.upper().split()),)


def choose(name: str, choices: Sequence[str]) -> dict[str, dict[str, Any]]:
    """Each choice of a field's words with what it sets; unknown sets nothing."""
    return {choice: {name: value} if (value := WORDS[name](choice)[0]) is not None else {} for choice in choices}
