"""The sheets of a file read as opening lines: tables found, columns settled, rows told apart, totals compared.

sheets > tables > columns, units, basis settled or asked > rows: line, total, section or note > drafts
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice

from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.draft import Draft
from estimating.intake.grid import FORMULA, GridRow, Sheet
from estimating.intake.row_kinds import (
    LINE,
    SECTION,
    TOTALS,
    Columns,
    first,
    kind_of_row,
    place_of_section,
    starts_notes,
    stated_total,
)
from estimating.intake.row_reader import RowReader
from estimating.intake.sniffing import refuse
from estimating.intake.table_questions import settle_basis, settle_columns, settle_units, tell_marked, where
from estimating.intake.tables import Table, find_tables
from estimating.intake.vocabulary import Heading, kind_of
from rates.core.problems import Refused
from rates.core.texts import counted

FILLED_DOWN = ("mark", "kind", "type", "storey", "elevation", "access", "external", "substrate")
Known = Mapping[str, Mapping[int, Heading]]


@dataclass
class SheetsReading:
    """What the sheets hold: drafts in their order, notes by place, and what is added to sizes table by table."""

    tables: list[Table] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)
    notes: list[tuple[str, str]] = field(default_factory=list)
    added: dict[int, str] = field(default_factory=dict)  # table -> length added to width and height
    kind_missing: list[int] = field(default_factory=list)

    def place(self, index: int, name: str | None = None) -> str:
        """Where a field of a draft was read."""
        draft = self.drafts[index]
        if name in draft.places:
            return draft.places[name]
        return self.tables[draft.table].place(draft.row, name)


def read_sheets(sheets: Sequence[Sheet], known: Known, asker: Asker) -> SheetsReading:
    """The opening lines of all sheets that hold a schedule; Refused where none does."""
    reading = SheetsReading()
    for sheet in sheets:
        tables = [] if sheet.hidden else find_tables(sheet, known)
        if sheet.hidden:
            asker.tell("hidden_sheet", f"The hidden sheet {sheet.name!r} is left out.", about=(sheet.name,))
        elif not tables and sheet.rows and sheet.name:
            asker.tell("sheet_without_schedule", f"Sheet {sheet.name!r} holds no schedule.", about=(sheet.name,))
        reading.tables.extend(tables)
    if not reading.tables:
        detail = "no heading was found: a row that names the mark and the quantity or the size of openings"
        raise Refused([refuse("no_heading", detail)])
    for number, table in enumerate(reading.tables):
        read_table(table, number, known, reading, asker)
    if not reading.drafts and not any(question.open for question in asker.questions if question.code != "columns"):
        raise Refused([refuse("no_openings", "no opening line was found under any heading, nor in a list")])
    return reading


def read_table(table: Table, number: int, known: Known, reading: SheetsReading, asker: Asker) -> None:
    """The lines of one table."""
    exact = all(h == "" or h.strip() == h.strip().lower() and " " not in h.strip() for h in table.headings)
    settle_columns(table, table.fingerprint in known, exact, asker)
    fill_down(table)
    units = settle_units(table, asker)
    added = settle_basis(table, asker)
    if added:
        reading.added[number] = added
    tell_marked(table, {FORMULA: "formula"}, asker)
    columns = Columns.of(table)
    each_is_one = ask_missing_columns(table, columns, asker)
    reader = RowReader(table, number, units, asker)
    before = len(reading.drafts)
    totals = read_rows(table, columns, reader, reading, each_is_one)
    ask_totals(table, totals, asker)
    hidden = [row.number for row in table.rows if row.hidden and len(row.cells)]
    lines = {draft.row for draft in reading.drafts[before:]}
    seen = [n for n in hidden if n in lines]
    if seen:
        asker.ask(
            "hidden_rows", BLOCKS_ISSUE,
            f"{where(table)}{counted(len(seen), 'line')} in hidden rows, counted like the others. Right?",
            about=(table.fingerprint, *map(str, seen[:200])), choices=("as_read",),
            cells=[table.sheet.place(n) for n in seen],
        )  # fmt: skip


def fill_down(table: Table) -> None:
    """A cell merged over several rows says its word for each of them; counts and sizes are not repeated."""
    if not table.sheet.merges:
        return
    columns = {c for c, h in table.columns.items() if h.field in FILLED_DOWN}
    rows = {row.number: place for place, row in enumerate(table.rows)}
    for first_row, column, last_row, _ in dict.fromkeys(table.sheet.merges):
        if column not in columns or last_row == first_row or first_row not in rows:
            continue
        at = rows[first_row]
        text = table.rows[at].cell(column)
        for row in islice(table.rows, at + 1, None):
            if not first_row < row.number <= last_row or row.cell(column):
                break
            row.cells.extend([""] * (column + 1 - len(row.cells)))
            row.cells[column] = text


def ask_missing_columns(table: Table, columns: Columns, asker: Asker) -> bool:
    """Whether each line is one opening; what no column gives is asked once."""
    missing = [name for name, found in (("mark", columns.mark is not None), ("size", bool(columns.sizes))) if not found]
    for name in missing:
        answer = asker.ask(
            "no_column", BLOCKS_COSTING,
            f"{where(table)}No column gives the {name}. Name it in the answer on the columns, or send the file again.",
            about=(table.fingerprint, name), choices=("leave_out_table",),
            cells=(table.sheet.place(table.heading_row),),
        )  # fmt: skip
        if answer:
            table.rows.clear()
    if columns.quantity is not None or columns.counts:
        return False
    answer = asker.ask(
        "no_quantity_column", BLOCKS_COSTING,
        f"{where(table)}No column gives the quantity. Is each line one opening? If not, name the column in the answer "
        "on the columns, or send the file again.",
        about=(table.fingerprint,), choices=("each_line_is_one",), cells=(table.sheet.place(table.heading_row),),
    )  # fmt: skip
    return answer == "each_line_is_one"


@dataclass(frozen=True, slots=True)
class Total:
    """A stated total, and the counts that it could be of: the lines since the last total, the table so far."""

    row: int
    stated: int | None
    since: int
    so_far: int
    expanded: int


def read_rows(
    table: Table, columns: Columns, reader: RowReader, reading: SheetsReading, each_is_one: bool
) -> list[Total]:
    """The table's rows as drafts and notes; the stated totals."""
    totals: list[Total] = []
    in_notes = False
    since = so_far = expanded = 0
    for row in table.rows:
        in_notes = in_notes or starts_notes(row)
        kind = kind_of_row(row, columns, in_notes)
        if kind == LINE:
            in_notes = False
            drafts = reader.read(row)
            for draft in drafts:
                if each_is_one:
                    draft.values.setdefault("quantity", 1)
                if "kind" not in draft.values and "kind" not in draft.asked:
                    reading.kind_missing.append(len(reading.drafts))
                reading.drafts.append(draft)
            counts = [draft.values.get("quantity", 0) for draft in drafts]
            own = counts[0] if "storey" in drafts[0].written and len(drafts) > 1 and counts else sum(counts)
            since, so_far, expanded = since + own, so_far + own, expanded + sum(counts)
        elif kind == TOTALS:
            totals.append(Total(row.number, stated_total(row, columns), since, so_far, expanded))
            since = 0
        elif kind == SECTION:
            take_section(table, row, reader, reading)
        else:
            if row.filled == 1 and not in_notes and len(first(row).split()) <= 4 and kind_of(first(row)):
                reader.section_kind = kind_of(first(row))
            reading.notes.append((table.sheet.place(row.number), " ".join(cell for cell in row.cells if cell)[:400]))
    return totals


def take_section(table: Table, row: GridRow, reader: RowReader, reading: SheetsReading) -> None:
    """A section's heading gives the storey or elevation of the lines below it, where no column does."""
    found = place_of_section(first(row))
    place = table.sheet.place(row.number)
    reading.notes.append((place, first(row)))
    if found and table.column(found[0]) is None:
        reader.section[found[0]] = found[1]
        reader.asker.tell(
            "section_place",
            f"{found[1]!r} is taken as the {found[0]} of the lines below it.",
            about=(place, *found),
            cells=(place,),
        )


def ask_totals(table: Table, totals: Sequence[Total], asker: Asker) -> None:
    """Stated totals that agree with no count of lines."""
    for total in totals:
        if total.stated is None or total.stated in (total.since, total.so_far, total.expanded):
            continue
        cell = table.place(total.row, "quantity")
        sentence = f"{where(table)}The schedule's total is {total.stated:,}; its lines count {total.so_far:,}. Why?"
        asker.ask(
            "total_mismatch", BLOCKS_ISSUE, sentence,
            about=(table.fingerprint, str(total.stated), str(total.so_far)),
            open_answer="an explanation", cells=(cell,),
        )  # fmt: skip
