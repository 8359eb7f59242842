"""Stated totals of a table held against what its lines count: of the lines since the last total, of all so far."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.count_words import read_count_text
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.row_kinds import TOTAL, Columns
from estimating.intake.table_facts import where
from estimating.intake.tables import Table
from rates.core.grid import GridRow

LINES_ARE_RIGHT = "lines_are_right"
_NUMBER = re.compile(r"(?<![\w.,/-])([0-9]{1,6})(?![\w./'\"-]|,[0-9])")


@dataclass(frozen=True, slots=True)
class Total:
    """A stated total, its cell, and the counts that it could be of."""

    row: int
    column: int
    cell: str
    stated: int
    could_be: frozenset[int]
    so_far: int


@dataclass
class Sums:
    """The counts of a table as its rows go by: by column, in all, and with typical floors multiplied out."""

    table: Table
    columns: Columns
    since: dict[int | None, int] = field(default_factory=dict)
    so_far: dict[int | None, int] = field(default_factory=dict)
    lines: int = 0
    lines_so_far: int = 0
    found: list[Total] = field(default_factory=list)

    def add(self, row: GridRow, drafts: Sequence[Draft]) -> None:
        """One more row of lines."""
        self.lines += 1
        self.lines_so_far += 1
        counts = [draft.values.get("quantity", 0) for draft in drafts]
        self.put(None, sum(count for count in counts if isinstance(count, int)))
        for column in self.columns.counts:
            self.put(column, read_count_text(row.cell(column)).plain or 0)
        if self.columns.quantity is not None and self.columns.counts:
            self.put(self.columns.quantity, read_count_text(row.cell(self.columns.quantity)).plain or 0)

    def put(self, column: int | None, count: int) -> None:
        """Adds a count."""
        self.since[column] = self.since.get(column, 0) + count
        self.so_far[column] = self.so_far.get(column, 0) + count

    def take(self, row: GridRow) -> None:
        """One row of totals: each of its numbers with what it could be of."""
        for column, stated in stated_totals(row, self.columns).items():
            key = column if column in self.since else None
            could_be = {self.since.get(key, 0), self.so_far.get(key, 0)}
            could_be |= {self.lines, self.lines_so_far} if column not in self.columns.counts else set()
            cell = self.table.sheet.place(row.number, column)
            self.found.append(Total(row.number, column, cell, stated, frozenset(could_be), self.so_far.get(key, 0)))
        self.since, self.lines = {}, 0


def stated_totals(row: GridRow, columns: Columns) -> dict[int, int]:
    """Column -> the count that a row of totals states there; a number in its words counts where no column has one."""
    known = [column for column in (columns.quantity, *columns.counts) if column is not None]
    found = {c: n for c in known if row.cell(c) and (n := read_count_text(row.cell(c)).plain) is not None}
    if found:
        return found
    numbers = [(c, int(n)) for c, cell in enumerate(row.cells) if cell for n in _NUMBER.findall(TOTAL.sub(" ", cell))]
    return dict(numbers) if len(numbers) == 1 else {}


def ask_totals(table: Table, sums: Sums, expanded: int, asker: Asker) -> None:
    """Stated totals that agree with no count of lines; expanded: the count after typical floors and multipliers."""
    wrong = [total for total in sums.found if total.stated not in total.could_be | {expanded}]
    if not wrong:
        return
    for total in wrong:
        table.ends.cell(total.row, total.column, QUESTION, "total_mismatch")
    told = "; ".join(f"{total.cell} says {total.stated:,}, the lines count {total.so_far:,}" for total in wrong[:6])
    more = f" and {len(wrong) - 6} more" if len(wrong) > 6 else ""
    asker.ask(
        "total_mismatch", BLOCKS_COSTING, f"{where(table)}Stated totals disagree with the lines: {told}{more}. Why?",
        about=(table.fingerprint, *(f"{total.stated}|{total.so_far}" for total in wrong)),
        choices=(LINES_ARE_RIGHT,), open_answer="an explanation", cells=[total.cell for total in wrong],
    )  # fmt: skip
