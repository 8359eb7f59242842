"""The sheets of a file read as opening lines: tables found, columns settled, rows told apart, doubts asked.

sheets > tables > columns and facts settled or asked > rows: line, more, total, section or note > drafts and doubts
  > sizes and counts joined by mark > words outside of the lines > doubts asked by causes > typical floors expanded
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import islice

from estimating.intake.apart_rows import lists_parts, rows_apart, tell_apart
from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.causes import CAUSES
from estimating.intake.column_contents import refine
from estimating.intake.column_words import refine_words
from estimating.intake.count_doubts import (
    ask_hidden_rows,
    ask_repeated,
    ask_section_totals,
    ask_uncounted,
    doubt_counts,
    find_changed,
    set_hidden_aside,
)
from estimating.intake.count_headings import take_times
from estimating.intake.doubts import settle_doubts
from estimating.intake.draft import Draft
from estimating.intake.ends import FACT, SET_ASIDE
from estimating.intake.expanding import expand
from estimating.intake.headings import is_value, understand
from estimating.intake.joins import fill_sizes, join_tables
from estimating.intake.line_identity import identify
from estimating.intake.outside_hearing import (
    hear_boxes,
    hear_outside,
    told_words,
)
from estimating.intake.pasted import HEADING, read_words_of_line
from estimating.intake.row_kinds import (
    LINE,
    MORE,
    RULE,
    SECTION,
    TOTALS,
    Columns,
    first,
    kind_of_row,
    starts_notes,
)
from estimating.intake.row_pipes import settle_pipes
from estimating.intake.row_reader import RowReader
from estimating.intake.row_words import Hearing
from estimating.intake.section_ends import Over, below_heading, below_note
from estimating.intake.sections import (
    lone_count,
    note_apart,
    note_parts,
    note_row,
    said_by,
    stand_in,
    stand_over,
    take_section,
    take_side_key,
    tell_sections,
)
from estimating.intake.sheets_state import SheetsReading
from estimating.intake.sniffing import refuse
from estimating.intake.table_facts import leaves_basis_open, settle_basis, settle_facts
from estimating.intake.table_questions import EACH_IS_ONE, LEAVE_OUT, ask_missing_columns, settle_columns, tell_marked
from estimating.intake.tables import MOST_TITLES, Known, Table, find_tables
from estimating.intake.totals import Sums, TableCounts, ask_totals
from estimating.intake.untitled import goes_on, guess_table, settle_guess
from rates.core.grid import FORMULA, GridRow, Sheet
from rates.core.problems import Refused

NO_TABLE = frozenset({"columns", "notes_words"})  # questions whose answer brings no line
FILLED_DOWN = ("mark", "kind", "type", "storey", "elevation", "building", "phase", "access", "external", "substrate")


def read_sheets(sheets: Sequence[Sheet], known: Known, asker: Asker, unit: str = "") -> SheetsReading:
    """The opening lines of all sheets that hold a schedule; Refused where none does. unit: told for bare numbers."""
    reading = SheetsReading(sheets)
    for sheet in sheets:
        find(sheet, known, reading, asker)
    if not reading.tables:
        detail = "no heading was found: a row that names the mark and the quantity or the size of openings"
        raise Refused([refuse("no_heading", detail)])
    uncounted = [n for n, table in enumerate(reading.tables) if not has_counts(table)]
    for number, table in enumerate(reading.tables):
        elsewhere = number in uncounted and len(uncounted) < len(reading.tables)
        read_table(table, number, known, reading, asker, unit, elsewhere)
    join_tables(reading.drafts, uncounted, asker)
    fill_sizes(reading.drafts, reading.doubts)
    for number in uncounted:
        ask_uncounted(reading, number, asker)
    identify(reading.drafts)
    reading.section_drafts = list(reading.drafts)
    hear_outside(reading, asker)
    ask_repeated(reading, asker)
    doubt_counts(reading)
    find_changed(reading.doubts.found, reading.drafts)
    settle_doubts(reading.doubts.found, reading.drafts, CAUSES, asker)
    told_words(reading, asker)
    reading.drafts = expand(reading.drafts, asker)
    ask_section_totals(reading, asker)
    for table, number, sums in reading.totals:
        counts = TableCounts.of(draft for draft in reading.drafts if draft.table == number)
        ask_totals(table, sums, counts, asker)
    waiting = [q for q in asker.questions if q.open and q.severity == BLOCKS_COSTING and q.code not in NO_TABLE]
    if not reading.drafts and not waiting:
        raise Refused([refuse("no_openings", "no opening line was found under any heading, nor in a list")])
    return reading


def find(sheet: Sheet, known: Known, reading: SheetsReading, asker: Asker) -> None:
    """The tables of a sheet; a hidden one is told and left out."""
    found = find_tables(sheet, known)
    if sheet.hidden and not any(table.rows for table in found.tables):
        asker.tell("hidden_sheet", f"The hidden sheet {sheet.name!r} is left out.", about=(sheet.name,))
        return
    if not found.tables and (listed := list_of(sheet)) is not None:
        found = find_tables(listed, known)
    if not found.tables and (table := goes_on(sheet, reading.tables[-1:]) or guess_table(sheet, known)) is not None:
        found.tables.append(table)
        inside = {id(row) for row in table.rows}
        found.outside = [(where, row) for where, row in found.outside if id(row) not in inside]
    hear_boxes(sheet, reading)
    if not found.tables and sheet.rows and sheet.name:
        asker.tell("sheet_without_schedule", f"Sheet {sheet.name!r} holds no schedule.", about=(sheet.name,))
    reading.tables.extend(found.tables)
    reading.outside_rows.extend(found.outside)
    titled = {row for table in found.tables for row, _ in table.titles}
    reading.outside.notes += [
        (part.place(row.number), said_by(row.cells))
        for part, row in found.outside
        if not found.tables or row.number not in titled
    ]


def list_of(sheet: Sheet) -> Sheet | None:
    """The rows of a sheet as a list of openings in words, where most rows name one each; else None.

    Where a row of headings stands over them its words say what the numbers below are: a storey is no count.
    """
    if names_numbers(sheet):
        return None
    said = [(row, read_words_of_line(", ".join(cell for cell in row.cells if cell))) for row in sheet.rows]
    whole = [cells for row, cells in said if cells[0] and cells[2] and row.filled < 5]
    if len(whole) < 2 or len(whole) * 2 < len(said):
        return None
    return replace(
        sheet, rows=[GridRow(0, list(HEADING)), *(GridRow(row.number, cells) for row, cells in said)], merges=()
    )


def names_numbers(sheet: Sheet) -> bool:
    """Whether a row of headings says of bare numbers below it that they are something else than counts."""
    for at, row in enumerate(sheet.rows[:MOST_TITLES]):
        said = {c: meant for c, cell in enumerate(row.cells) if cell and (meant := understand(cell)) is not None}
        if len(said) >= 2 and not any(map(is_value, row.cells)):
            numbers = {c for below in sheet.rows[at + 1 :] for c in said if below.cell(c).isdigit()}
            return any("quantity" not in (said[c].field, *said[c].choices) for c in numbers)
    return False


def has_counts(table: Table) -> bool:
    """Whether a table counts its openings."""
    return table.column("quantity") is not None or bool(table.counts())


def read_table(
    table: Table, number: int, known: Known, reading: SheetsReading, asker: Asker, unit: str, elsewhere: bool
) -> None:
    """The lines of one table. elsewhere: it counts nothing, and another table of the file does."""
    table.widen()
    if table.guessed and not settle_guess(table, asker):
        return
    if lists_parts(table, reading.tables):
        note_parts(table, reading)
        tell_apart(table, [table.heading_row, *(row.number for row in table.rows)], asker)
        return
    times = take_times(table)
    if not (table.fingerprint in known or table.guessed):
        refine(table)
        refine_words(table)
    settle_columns(table, table.fingerprint in known or table.guessed, asker)
    fill_down(table)
    facts = settle_facts(table, unit, asker)
    if added := settle_basis(table, asker):
        reading.added[number] = added
    elif leaves_basis_open(table):
        reading.without_basis.append(number)
    tell_marked(table, {FORMULA: "formula"}, asker)
    said = "" if elsewhere else ask_missing_columns(table, Columns.of(table), False, asker)
    if said == LEAVE_OUT:
        for row in table.rows:
            table.ends.row(row.number, SET_ASIDE, "table left out")
        return
    facts.each_is_one = said == EACH_IS_ONE
    hearing = Hearing(reading.doubts)
    reader = RowReader(table, number, facts, reading.doubts, hearing)
    reader.counter.times = times or reader.counter.times
    stand_in(table, reader)
    before = len(reading.drafts)
    sums = Sums(table, reader.columns)
    tell_apart(table, read_rows(table, reader, sums, reading), asker)
    mine = reading.drafts[before:]
    settle_pipes(reader.sizes, asker)
    reading.hearing.append(hearing)
    reading.read.append(table)
    tell_sections(reader, asker)
    reading.totals.append((table, number, sums))
    stand_over(table, mine, reading)
    set_hidden_aside(table, mine, asker)
    ask_hidden_rows(table, mine, asker)


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


def read_rows(table: Table, reader: RowReader, sums: Sums, reading: SheetsReading) -> list[int]:
    """The table's rows as drafts, totals and notes; the rows of small tables below it that are no lines."""
    told = frozenset(c for c, h in table.columns.items() if h.field in ("note", "property", "type", "status", "scope"))
    in_notes = False
    last: list[Draft] = []
    sections: list[Over] = []  # what stands over the lines below
    take_side_key(table, reader, reading)
    below = rows_apart(table, reader.columns)
    apart: list[int] = []
    for row in table.rows:
        in_notes = in_notes or starts_notes(row)
        kind = kind_of_row(row, reader.columns, in_notes, told)
        reader.block += kind not in (LINE, MORE, RULE)
        if kind == LINE and lone_count(row, reader.columns):
            kind = TOTALS
        if row.number in below and kind in (LINE, MORE):
            apart.append(row.number)
            note_apart(table, row, reader, reading)
            continue
        if kind == LINE:
            in_notes = False
            last = reader.read(row)
            for _, _, lines in sections:
                lines.extend(last)
            reading.drafts.extend(last)
            sums.add(row, last)
        elif kind == MORE and last:
            reader.more(row, last)
        elif kind == RULE:
            table.ends.row(row.number, FACT, "ruling")
        elif kind == TOTALS:
            sums.take(row)
            table.ends.row(row.number, FACT, "total")
        elif kind == SECTION:
            sums.head()
            sections = below_heading(sections, first(row), take_section(table, row, reader, reading))
        else:
            if not in_notes and row.filled == 1:
                sections = below_note(sections, first(row))
            note_row(table, row, reader, reading, in_notes)
    return apart
