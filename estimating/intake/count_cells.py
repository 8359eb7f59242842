"""One cell of counts: a plain count, 2+3, 3R/2L, words of scope beside it; two readings are noted to be asked."""

from __future__ import annotations

import re
from typing import Any

from estimating.core.schedule_lines import MOST_QUANTITY
from estimating.intake.cells import blank
from estimating.intake.count_sums import ONE, SUMMED, each_floor, sure_count
from estimating.intake.count_words import CountText, read_count_text
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.line_answers import SET_ASIDE
from estimating.intake.row_kinds import Columns
from estimating.intake.row_sizes import Facts
from estimating.intake.row_words import Hearing
from estimating.intake.scope_words import Finding, read_words
from estimating.intake.tables import Table
from rates.core.grid import DATE, ERROR, NO_VALUE, GridRow

NONE = frozenset("nil none keine kein aucun aucune ninguno ninguna -- --- 0.0".split())
IN_TOTAL = re.compile(
    r"\b(?:total|in all|all told|altogether|combined|insgesamt|gesamt|zusammen|au total|en total)\b", re.IGNORECASE
)
ADDED, BY_ITSELF = "added_to_line_above", "by_itself"
MULTIPLIED, IN_ALL = "multiplied", "in_all"
ONE_EACH, TWO_EACH = "one_opening_each", "two_openings_each"
NO_COUNT: dict[str, dict[str, Any]] = {SET_ASIDE: {"quantity": 0, "excluded": {"reason": "count unknown"}}}
_DELTA = re.compile(r"([+−–-])\s*([0-9]{1,5})", re.ASCII)


class CountCells:
    """Reads the cells of counts of one table."""

    def __init__(self, table: Table, columns: Columns, facts: Facts, doubts: Doubts, hearing: Hearing) -> None:
        self.table, self.columns, self.facts, self.doubts, self.hearing = table, columns, facts, doubts, hearing

    def place(self, row: GridRow, column: int | None) -> str:
        """A cell as a person finds it."""
        return self.table.sheet.place(row.number, column)

    def read(self, row: GridRow, draft: Draft, column: int | None, cell: str, plain: str, name: str) -> int | None:
        """The count of a cell; None where it has none, noted as a doubt where one is needed."""
        if column is None:
            return None
        if row.marked.get(column) in (DATE, ERROR, NO_VALUE):
            self.note_unread(row, draft, column, cell or "a formula without a value", {})
            return None
        if plain.strip().lower() in NONE:
            return 0
        if blank(plain):
            if "typ" not in cell.lower() and not self.facts.each_is_one:
                self.note_unread(row, draft, column, cell, {})
            return None
        said = read_count_text(plain)
        draft.in_all = not plain.isdecimal() and bool(IN_TOTAL.search(plain))
        if said.plain is not None and said.plain <= MOST_QUANTITY:
            return said.plain
        words = read_words(plain).of("scope")
        if words and not any(part.how == "part" for part in said.parts[1:]):
            return self.out(row, draft, column, cell, plain, words)
        return self.compound(row, draft, column, cell, said)

    def out(
        self, row: GridRow, draft: Draft, column: int, cell: str, plain: str, words: tuple[Finding, ...]
    ) -> int | None:  # fmt: skip
        """A count with words of scope beside it, or in its stead."""
        for finding in words:
            place = self.place(row, column)
            self.hearing.hear(
                draft, finding, place, cell, lambda code: self.table.ends.cell(row.number, column, QUESTION, code)
            )
            plain = plain.replace(finding.words, " ", 1)
        draft.asked.add("quantity")
        draft.written["quantity"] = cell
        return read_count_text(plain.replace("()", " ")).plain

    def compound(self, row: GridRow, draft: Draft, column: int, cell: str, said: CountText) -> int | None:
        """The count of 2+3, x2 or 3R/2L; a doubt where the words of a count leave two readings."""
        hows = [part.how for part in said.parts]
        numbers = [part.count for part in said.parts if part.count is not None]
        if (each := each_floor(said)) is not None:
            draft.each_floor = True
            draft.written["quantity"] = cell
            return each
        if change := _DELTA.fullmatch(cell.strip()):
            self.delta(row, draft, column, cell, int(change[2]) * (1 if change[1] == "+" else -1))
            return None
        if (sure := sure_count(said)) is not None:
            draft.written["quantity"] = cell
            return sure
        options: dict[str, dict[str, Any]] = {}
        if len(numbers) == len(hows) and set(hows) <= ONE | SUMMED:
            options = {str(number): {"quantity": number} for number in dict.fromkeys((*numbers, sum(numbers)))}
        elif hows == ["typical"]:
            options = {str(numbers[0]): {"quantity": numbers[0]}}
        elif "pairs" in hows and len(numbers) == 1:
            options = {ONE_EACH: {"quantity": numbers[0]}, TWO_EACH: {"quantity": 2 * numbers[0]}}
        elif said.readings:
            options = {text: {"quantity": int(text)} for text in said.readings if text.isdigit()}
        elif len(numbers) == 2 and set(hows) & {"per", "places", "times", "typical"}:
            options = {MULTIPLIED: {"quantity": numbers[0] * numbers[1]}, IN_ALL: {"quantity": numbers[0]}}
        self.note_unread(row, draft, column, cell, options)
        return None

    def delta(self, row: GridRow, draft: Draft, column: int, cell: str, change: int) -> None:
        """A count such as +2, which changes that of a line above, or stands for itself."""
        options: dict[str, dict[str, Any]] = {ADDED: {}}
        if change > 0:
            options[BY_ITSELF] = {"quantity": change}
        self.note("count_delta", row, draft, column, cell, options, str(change))
        draft.asked.add("quantity")

    def note_unread(
        self, row: GridRow, draft: Draft, column: int, cell: str, options: dict[str, dict[str, Any]]
    ) -> None:
        """A line whose count is blank or can't be read."""
        code = "quantity_unknown" if blank(cell) else "quantity_unreadable"
        self.note(code, row, draft, column, cell, {**options, **NO_COUNT})
        draft.asked.add("quantity")

    def note(
        self, code: str, row: GridRow, draft: Draft, column: int | None, written: str,
        options: dict[str, dict[str, Any]], detail: str = "",
    ) -> None:  # fmt: skip
        """A doubt about the count of a line."""
        at = column if column is not None else self.columns.mark
        self.doubts.note(Doubt(code, draft, self.place(row, at), written, (), options, detail, "quantity"))
        if at is not None and row.cell(at):
            self.table.ends.cell(row.number, at, QUESTION, code)
