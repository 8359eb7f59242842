"""How many a line stands for: its count, TYP x 4, counts by place; what is doubtful is noted for a question."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from estimating.intake.cells import blank
from estimating.intake.count_cells import IN_ALL, MULTIPLIED, NONE, CountCells
from estimating.intake.count_headings import doubt_of_times
from estimating.intake.count_words import read_count_text
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.expansion import split_typical
from estimating.intake.multipliers import per_of, times_of
from estimating.intake.places_words import read_places
from estimating.intake.row_kinds import Columns
from estimating.intake.row_places import doubt_of_places
from estimating.intake.row_sizes import Facts
from estimating.intake.row_words import Hearing
from estimating.intake.scope_words import read_words
from estimating.intake.tables import Table
from estimating.intake.times_rows import of_headings
from rates.core.grid import DATE, ERROR, NO_VALUE, GridRow

EACH = re.compile(r"\b(?:each|ea|per|je|pro|chaque|par|cada|por)\b", re.IGNORECASE)


def draft_of_none(draft: Draft) -> Draft:
    """The line of a row that counts nothing anywhere."""
    draft.values["quantity"] = 0
    return draft


class Counter(CountCells):
    """Counts the lines of one table's rows."""

    def __init__(self, table: Table, columns: Columns, facts: Facts, doubts: Doubts, hearing: Hearing) -> None:
        super().__init__(table, columns, facts, doubts, hearing)
        self.counts = [(column, heading.path) for column, heading in table.counts()]
        heads = dict(enumerate(table.headings))
        self.parts = {
            c for c, path in self.counts
            if not any(path) and not read_words(heads.get(c, "")).of("scope") and times_of(heads.get(c, "")) is None
        }  # fmt: skip
        self.often = table.column("times")
        self.times = of_headings([column for column, _ in self.counts], table.headings, times_of)

    def count(self, row: GridRow, draft: Draft, times: int | None) -> list[Draft]:
        """The line with its quantity, several lines where places are counted; times the column that an answer named."""
        drafts = self.count_once(row, draft, times)
        column = self.often
        often = read_count_text(row.cell(column)).plain if column is not None else None
        for one in drafts if often is not None and often != 1 else ():
            if isinstance(count := one.values.get("quantity"), int) and often is not None:
                one.written["quantity"] = f"{count} x {often}"
                one.values["quantity"] = count * often
        return drafts

    def count_once(self, row: GridRow, draft: Draft, times: int | None) -> list[Draft]:
        """The line with its quantity; several lines where places are counted."""
        _, in_note = split_typical(str(draft.values.get("note", "")))
        if self.counts:
            drafts = self.by_place(row, draft)
            self.ask_times(row, draft, drafts, times or in_note)
            return drafts
        column = self.columns.quantity
        cell = row.cell(column) if column is not None else ""
        plain, own = split_typical(cell)
        beside = next((count for how, count, *_ in draft.beside if how in ("brackets", "times", "each", "mark")), None)
        times = own or times or in_note
        if column is None and beside is not None:
            draft.values["quantity"] = beside
            draft.written["quantity"] = next(text for _, _, text, _ in draft.beside)
            if draft.beside[0][0] == "mark":
                self.note("count_in_mark", row, draft, None, draft.beside[0][2], {str(beside): {"quantity": beside}})
            return [draft]
        value = self.read(row, draft, column, cell, plain, "quantity")
        if times is not None:
            self.put_times(row, draft, column, cell, value, times)
        elif value is not None:
            draft.values["quantity"] = value
            if beside is not None and beside != 1:
                self.note(
                    "count_beside_size",
                    row,
                    draft,
                    column,
                    draft.beside[0][2],
                    {MULTIPLIED: {"quantity": value * beside}, IN_ALL: {}},
                )
        elif self.facts.each_is_one and blank(cell):
            draft.values.setdefault("quantity", 1)
        return [draft]

    def ask_times(self, row: GridRow, draft: Draft, drafts: list[Draft], times: int | None) -> None:
        """TYP x 4 in the mark or note of a row, or a count beside its size, that has counts by place."""
        beside = next(
            ((count, text) for how, count, text, _ in draft.beside if how in ("brackets", "times", "each", "mark")),
            None,
        )
        for one in drafts:
            value = one.values.get("quantity")
            if not isinstance(value, int) or not value:
                continue
            for code, number, text in (
                ("typical_count", times, f"TYP x {times}"),
                ("count_beside_size", *(beside or (None, ""))),
            ):
                if number is not None and number != 1:
                    options = {MULTIPLIED: {"quantity": value * number}, IN_ALL: {"quantity": value}}
                    self.note(code, row, one, None, text, options, f"{value} x {number}")

    def put_times(
        self, row: GridRow, draft: Draft, column: int | None, cell: str, value: int | None, times: int
    ) -> None:
        """TYP x 4: the count where there is none beside it, else a question of the product."""
        draft.written["quantity"] = cell if "typ" in cell.lower() else f"{cell} TYP x {times}".strip()
        if value is None:
            if "quantity" not in draft.asked:
                draft.values["quantity"] = times
        else:
            draft.values["quantity"] = value * times
            detail = f"{value} x {times}"
            options = {MULTIPLIED: {"quantity": value * times}, IN_ALL: {"quantity": value}}
            self.note("typical_count", row, draft, column, draft.written["quantity"], options, detail)

    def by_place(self, row: GridRow, draft: Draft) -> list[Draft]:
        """A line for each place that counts some; a total beside them must agree."""
        drafts: list[Draft] = []
        total, unread = 0, False
        for column, path in self.counts:
            cell = row.cell(column)
            count = 0
            if cell.strip().lower() not in NONE | {"", "-", "–", "—", ".", "/"} and not blank(cell):
                count = self.count_of(row, draft, column, path, cell, drafts)
                unread = unread or count < 0
            if count <= 0:
                continue
            total += count
            if column in self.parts and column not in self.times.by and self.add_part(drafts, column, count):
                continue
            drafts.append(self.copy(row, draft, column, path, {"quantity": count}))
        if not unread:
            self.check_total(row, draft, total, drafts)
        return drafts or [draft_of_none(draft)]

    def add_part(self, drafts: Sequence[Draft], column: int, count: int) -> bool:
        """Adds a count whose heading names no place to the one before it, as left and right hand are of one line."""
        before = next((draft for draft in drafts if draft.part_of_count and "quantity" in draft.values), None)
        if before is None:
            return False
        before.written["quantity"] = f"{before.written.get('quantity', before.values['quantity'])} + {count}"
        before.values["quantity"] += count
        return True

    def count_of(
        self, row: GridRow, draft: Draft, column: int, path: tuple[str, ...], cell: str, drafts: list[Draft]
    ) -> int:
        """One count of a place; -1 where it is noted as a doubt of a line of its own."""
        said = read_count_text(cell)
        special = row.marked.get(column) in (DATE, ERROR, NO_VALUE)
        if said.plain is not None and not special:
            return said.plain
        copy = self.copy(row, draft, column, path, {})
        value = None if special else self.compound(row, copy, column, cell, said)
        if special:
            self.note_unread(row, copy, column, cell, {})
        if value is not None:
            copy.values["quantity"] = value
        drafts.append(copy)
        return -1

    def copy(self, row: GridRow, draft: Draft, column: int, path: tuple[str, ...], values: dict[str, Any]) -> Draft:
        """The line of one place."""
        named = {name: text for name, text in zip(("elevation", "storey", "building"), path, strict=False) if text}
        where = {
            "quantity": self.place(row, column),
            **{name: self.place(self.heading_row(), column) for name in named},
        }
        made = Draft(
            {**draft.values, **named, **values}, draft.table, draft.row, dict(draft.written), {**draft.places, **where}
        )
        head = self.table.headings[column] if column < len(self.table.headings) else ""
        said = read_places(path[1] or head if len(path) > 1 else head)
        if len(said.names("storey")) > 1:
            made.storeys = said.names("storey")
            made.written["storey"] = head
            if not EACH.search(head):
                place = self.place(self.heading_row(), column)
                self.doubts.note(Doubt("typical_storeys", made, place, head, (head,), field="storey"))
        elif doubt := doubt_of_times(made, self.times, column, self.place(self.times_row(), column)):
            self.doubts.note(doubt)
        else:
            self.doubt_places(made, named, column, head)
        made.issue = draft.issue
        made.part_of_count = column in self.parts and column not in self.times.by
        draft.places_of.append(made)
        for finding in read_words(head).of("scope"):
            self.hearing.hear(made, finding, self.place(self.heading_row(), column), head, lambda code: None)
        made.asked, made.wants, made.want_place = set(draft.asked), draft.wants, draft.want_place
        made.size = draft.size
        return made

    def doubt_places(self, draft: Draft, named: Mapping[str, str], column: int, head: str) -> None:
        """A heading that stands for several places and doesn't name each: L2+, UPPER FLOORS."""
        place = self.place(self.heading_row(), column)
        for name, text in named.items():
            said = head[max(head.find(text), 0) :].strip()
            if name != "elevation" and (doubt := doubt_of_places(draft, name, said, place)) is not None:
                self.doubts.note(replace(doubt, about=(head,)))
                return

    def heading_row(self) -> GridRow:
        """The row of the headings, which name the places."""
        return GridRow(self.table.heading_row, [])

    def times_row(self) -> GridRow:
        """The row that says what multiplies counts: one below the headings, or the headings themselves."""
        return GridRow(self.times.row or self.table.heading_row, [])

    def check_total(self, row: GridRow, draft: Draft, total: int, drafts: list[Draft]) -> None:
        """The schedule's total against the count by place."""
        column = self.columns.quantity
        stated = read_count_text(row.cell(column)).plain if column is not None else None
        if column is None or stated is None or not drafts or per_of(self.table.headings[column]):
            return  # what is counted for one of several is asked about by itself
        each = sum(one.values.get("quantity", 0) * max(len(one.storeys), 1) for one in drafts)
        if stated in (total, each):
            return
        once = f" ({total} with a count of several storeys once)" if total != each else ""
        detail = f"the schedule says {stated}, the places add up to {each}{once}"
        self.note("total_against_places", row, drafts[0], column, row.cell(column), {"places_are_right": {}}, detail)
