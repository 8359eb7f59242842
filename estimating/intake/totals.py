"""Stated totals of a table held against what its lines count: of the lines since the last total, of all so far."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.count_words import read_count_text
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.row_kinds import TOTAL, Columns
from estimating.intake.row_labels import read_row_label
from estimating.intake.table_facts import where
from estimating.intake.tables import Table
from rates.core.grid import GridRow

LINES_ARE_RIGHT = "lines_are_right"
MOST_STARTS = 50  # headings that a total is held against
_NUMBER = re.compile(r"(?<![\w.,/-])([0-9]{1,6})(?![\w./'\"-]|,[0-9])")
_BESIDE = re.compile(r"\s*(?:[+&;]|,\s|\band\b|\bplus\b)\s*", re.IGNORECASE)
_PART = re.compile(r"[^0-9]*(?<![\w./-])([0-9]{1,6})(?![\w./'\"-])[^0-9]*")
_THOUSANDS = re.compile(r"(?<=[0-9]),(?=[0-9]{3}(?![0-9]))")
_MEASURED = re.compile(r"\b(?:s\.?f|l\.?f|sq|ft|m2|hrs?|hours|lbs?|kg|pages?|sheets?)\b|[$€£%]", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class TableCounts:
    """What a table counts after typical floors and multipliers: all, in the base price, as alternates."""

    all: int
    base: int
    alternates: int

    @classmethod
    def of(cls, drafts: Iterable[Draft]) -> TableCounts:
        """Those of a table's lines."""
        counts = {"all": 0, "base": 0, "alternates": 0}
        for draft in drafts:
            count = draft.values.get("quantity", 0)
            out = "excluded" in draft.values
            for name in ("all", *(("alternates",) if "alternate" in draft.values else () if out else ("base",))):
                counts[name] += count if isinstance(count, int) else 0
        return cls(**counts)


@dataclass(frozen=True, slots=True)
class Total:
    """A stated total, its cell, and the counts that it could be of; beside: numbers behind it, 352 R.O. + 10 alt.

    below: the counts since each heading between the lines, of which a subtotal may be one; subtotal: it says so.
    """

    row: int
    column: int
    cell: str
    stated: int
    could_be: frozenset[int]
    so_far: int
    beside: tuple[int, ...] = ()
    below: frozenset[int] = frozenset()
    subtotal: bool = False

    def agrees(self, counts: TableCounts, last: bool = False) -> bool:
        """Whether the lines count what it says: all of it, or what is priced and its alternates.

        last: it stands below all lines, so that it is of a section only where it says so.
        """
        if self.stated in self.below and not self.beside and (self.subtotal or not last):
            return True
        if not self.beside:
            return self.stated in self.could_be | {counts.all, counts.base}
        return (
            self.stated + sum(self.beside) in self.could_be | {counts.all}
            or (self.stated, sum(self.beside)) == (counts.base, counts.alternates)
        )  # fmt: skip

    @property
    def said(self) -> str:
        """Its numbers as a sentence has them."""
        return " + ".join(f"{number:,}" for number in (self.stated, *self.beside))


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
    starts: list[dict[int | None, int]] = field(default_factory=list)  # so far, at each heading between the lines

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

    def head(self) -> None:
        """A heading between the lines, whose own lines a total below may be of."""
        self.starts.append(dict(self.so_far))
        del self.starts[:-MOST_STARTS]

    def take(self, row: GridRow) -> None:
        """One row of totals: each of its numbers with what it could be of."""
        for column, (stated, *beside) in stated_totals(row, self.columns).items():
            key = column if column in self.since else None
            could_be = {self.since.get(key, 0), self.so_far.get(key, 0)}
            could_be |= {self.lines, self.lines_so_far} if column not in self.columns.counts else set()
            cell = self.table.sheet.place(row.number, column)
            so_far = self.so_far.get(key, 0)
            below = frozenset(so_far - start.get(key, 0) for start in self.starts)
            said = any(read_row_label(cell).kind == "subtotal" for cell in row.cells if cell)
            self.found.append(
                Total(row.number, column, cell, stated, frozenset(could_be), so_far, tuple(beside), below, said)
            )
        self.since, self.lines = {}, 0


def stated_totals(row: GridRow, columns: Columns) -> dict[int, tuple[int, ...]]:
    """Column -> the count that a row of totals states there; numbers in its words count where no column has one."""
    known = [column for column in (columns.quantity, *columns.counts) if column is not None]
    found: dict[int, tuple[int, ...]] = {
        c: (n,) for c in known if row.cell(c) and (n := read_count_text(row.cell(c)).plain) is not None
    }
    if found:
        return found
    said = {c: numbers for c, cell in enumerate(row.cells) if cell and (numbers := numbers_in(cell))}
    return said if len(said) == 1 else {}


def numbers_in(cell: str) -> tuple[int, ...]:
    """The count that a total's words state, and what stands beside it: 352 R.O. + 10 alt., 12 windows and 4 doors."""
    text = _THOUSANDS.sub("", TOTAL.sub(" ", cell))
    parts = [_PART.fullmatch(part) for part in _BESIDE.split(text)]
    if len(parts) > 1 and all(parts) and not _MEASURED.search(text):
        return tuple(int(part[1]) for part in parts if part)
    numbers = _NUMBER.findall(text)
    return (int(numbers[0]),) if len(numbers) == 1 else ()


def ask_totals(table: Table, sums: Sums, counts: TableCounts, asker: Asker) -> None:
    """Stated totals that agree with no count of the lines; counts: those after typical floors and multipliers."""
    last = sums.found[-1].row if sums.found else 0
    wrong = [total for total in sums.found if not total.agrees(counts, total.row == last)]
    if not wrong:
        return
    for total in wrong:
        table.ends.cell(total.row, total.column, QUESTION, "total_mismatch")
    whole = sums.so_far.get(None, 0)
    read = [counts.all if total.so_far == whole else total.so_far for total in wrong]
    told = "; ".join(
        f"{total.cell} says {total.said}, the lines count {count:,}"
        for total, count in zip(wrong[:6], read, strict=False)
    )
    more = f" and {len(wrong) - 6} more" if len(wrong) > 6 else ""
    asker.ask(
        "total_mismatch", BLOCKS_COSTING, f"{where(table)}Stated totals disagree with the lines: {told}{more}. Why?",
        about=(table.fingerprint, *(f"{t.said}|{count}" for t, count in zip(wrong, read, strict=True))),
        choices=(LINES_ARE_RIGHT,), open_answer="an explanation", cells=[total.cell for total in wrong],
    )  # fmt: skip
