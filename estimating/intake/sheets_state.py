"""What reading the sheets of a file collects on its way: tables, lines, doubts, words outside, where cells end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from estimating.intake.doubts import Doubts
from estimating.intake.draft import Draft
from estimating.intake.outside_words import (
    Outside,
)
from estimating.intake.row_words import Hearing
from estimating.intake.tables import Table
from estimating.intake.totals import Sums
from rates.core.grid import GridRow, Sheet

LEFT_OUT = "lines left out"  # how the report begins what it says of them


@dataclass
class SheetsReading:
    """What the sheets hold: drafts in their order, notes by place, and what is added to sizes table by table."""

    sheets: Sequence[Sheet] = ()
    tables: list[Table] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)
    notes: list[tuple[str, str]] = field(default_factory=list)
    added: dict[int, str] = field(default_factory=dict)  # table -> length added to width and height
    without_basis: list[int] = field(default_factory=list)  # tables that say nowhere of what their sizes are
    outside: Outside = field(default_factory=Outside)
    doubts: Doubts = field(default_factory=Doubts)
    hearing: list[Hearing] = field(default_factory=list)
    read: list[Table] = field(default_factory=list)  # the tables whose rows were read, beside `hearing`
    totals: list[tuple[Table, int, Sums]] = field(default_factory=list)
    outside_rows: list[tuple[Sheet, GridRow]] = field(default_factory=list)
    note_ends: dict[str, str] = field(default_factory=dict)
    comment_ends: dict[str, str] = field(default_factory=dict)  # cell -> code of the question that its comment leaves
    section_drafts: list[Draft] = field(default_factory=list)  # the lines as their rows stand
    section_totals: list[tuple[Table, str, int, int]] = field(default_factory=list)  # table, place, count, first line
    apart: list[dict[str, Any]] = field(default_factory=list)  # lines that an answer leaves out

    def leave_out(self, number: int) -> None:
        """Takes the lines of a table out; the report keeps how many openings they counted."""
        table = self.tables[number]
        gone = [draft for draft in self.drafts if draft.table == number]
        count = sum(n for draft in gone if isinstance(n := draft.values.get("quantity"), int))
        where = f"sheet {table.sheet.name!r}" if table.sheet.name else f"the table from row {table.heading_row} on"
        self.apart.append({"what": f"{LEFT_OUT} of {where}", "count": count})
        self.drafts[:] = [draft for draft in self.drafts if draft.table != number]

    def place(self, index: int, name: str | None = None) -> str:
        """Where a field of a draft was read."""
        draft = self.drafts[index]
        if name in draft.places:
            return draft.places[name]
        return self.tables[draft.table].place(draft.row, name)
