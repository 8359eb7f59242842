"""Rows between the lines and what stands over all lines of a table: places, kinds, words of scope, notes, keys."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from estimating.core.schedule_lines import mark_key
from estimating.intake.apart_rows import is_revision
from estimating.intake.asking import Asker
from estimating.intake.draft import Draft
from estimating.intake.ends import FACT, QUESTION, SET_ASIDE
from estimating.intake.headings import understand
from estimating.intake.kind_words import kind_of
from estimating.intake.multipliers import one_of_type, times_of
from estimating.intake.named_lines import marked
from estimating.intake.outside_words import (
    heads_lines,
    legends_of,
)
from estimating.intake.place_headings import KINDS, place_of_heading, unexplained
from estimating.intake.places_words import read_places
from estimating.intake.row_kinds import (
    Columns,
    first,
)
from estimating.intake.row_labels import read_row_label
from estimating.intake.row_reader import RowReader
from estimating.intake.scope_words import ASKED, read_words
from estimating.intake.section_ends import Over, is_of_floors, keeps_kind
from estimating.intake.section_repeats import note_repeat
from estimating.intake.sheets_state import SheetsReading
from estimating.intake.tables import Table
from rates.core.grid import GridRow

PLACED = ("storey", "elevation", "building")
_CODE = re.compile(r"[A-Za-z]{1,4}[-. ]?[0-9]{1,4}(?:\.[0-9]{1,3})?")
_PAGE = re.compile(r"\bp(?:g|age)?\.?\s?[0-9]+\b", re.IGNORECASE)
_OPENINGS = re.compile(
    r"[-–,(:]?\s*\b([0-9]{1,4})\s*(?:openings?|windows?|doors?|units|nos?\.?|ea\.?|pcs)\b\.?\)?", re.IGNORECASE
)
_GOES_ON = re.compile(r"\b(?:cont(?:\.|inued|'d)?|page|sheet|see|note|end|fortsetzung|suite|sigue)\b", re.IGNORECASE)
_MARK = re.compile(r"[A-Za-z]{1,4}[-. ]?[0-9]{1,4}[A-Za-z]?(?!\w)")


def tell_sections(reader: RowReader, asker: Asker) -> None:
    """The places that headings between the lines give."""
    for name, value, place in reader.sections:
        sentence = f"{value!r} is taken as the {name} of the lines below it."
        asker.tell("section_place", sentence, about=(place, name, value), cells=(place,))


def note_row(table: Table, row: GridRow, reader: RowReader, reading: SheetsReading, in_notes: bool) -> None:
    """A row of words that is no line."""
    text = " ".join(cell for cell in row.cells if cell)[:400]
    if row.filled == 1 and not in_notes and len(first(row).split()) <= 4 and kind_of(first(row)):
        reader.above.kind = kind_of(first(row))
    if row.filled == 1 and not in_notes:
        stand_below(first(row), reader)
    codes = reading.outside.legends.setdefault(reader.number, {})
    codes |= {code.upper(): (meaning, table.sheet.place(row.number)) for code, meaning in legends_of(row.cells)}
    reading.outside.notes.append((table.sheet.place(row.number), text))
    reading.notes.append((table.sheet.place(row.number), text))
    table.ends.row(row.number, SET_ASIDE, "note")


def stand_below(text: str, reader: RowReader) -> None:
    """What a heading between the lines ends or begins for those below: a revision, and the kind of the one above."""
    heard, words = read_words(text), text.split()
    if heard.of("delta") and not unexplained(text):
        reader.above.issue = text
        return
    placed = place_of_heading(text) is not None or bool(read_places(text).places)
    goes_on = _GOES_ON.search(text) or heard.of("count", "delta", "method") or any(map(str.isdigit, text))
    goes_on = goes_on or keeps_kind(text)
    if not placed and not goes_on and len(words) <= 3 and (text.isupper() or text.istitle()):
        reader.above.kind = kind_of(text)


def said_by(cells: Iterable[str]) -> str:
    """The words of a row outside of the lines; the number of a sheet or a mark counts nothing in the next cell."""
    return " ".join(f"{cell}," if _CODE.fullmatch(cell) else cell for cell in cells if cell).rstrip(",")


def note_apart(table: Table, row: GridRow, reader: RowReader, reading: SheetsReading) -> None:
    """A row of a small table below the lines: a note, each cell by itself."""
    place, cells = table.sheet.place(row.number), [cell for cell in row.cells if cell]
    codes = reading.outside.legends.setdefault(reader.number, {})
    codes |= {code.upper(): (meaning, place) for code, meaning in legends_of(row.cells)}
    text = ", ".join(cells)[:400]
    reading.notes.append((place, text))
    heads = all((meant := understand(cell)) is not None and meant.field == "property" for cell in cells)
    if not heads and not (is_revision(row) and all(one.group == "delta" for one in read_words(text).of(*ASKED))):
        reading.outside.notes.append((place, text))
    table.ends.row(row.number, SET_ASIDE, "row of another table")


def note_parts(table: Table, reading: SheetsReading) -> None:
    """A table of hardware or glass below the lines: its headings are facts of it, each of its rows a note."""
    for number in range(table.first_row, table.heading_row + 1):
        table.ends.row(number, FACT, "heading")
    for row in table.rows:
        said = (table.sheet.place(row.number), ", ".join(cell for cell in row.cells if cell)[:400])
        reading.notes.append(said)
        reading.outside.notes.append(said)
        table.ends.row(row.number, SET_ASIDE, "row of another table")


def take_side_key(table: Table, reader: RowReader, reading: SheetsReading) -> None:
    """A key or notes beside the table, under a heading that says so: legends and notes, no cells of the lines."""
    at = next(
        (
            c
            for c, head in enumerate(table.headings)
            if head and c not in table.columns and read_row_label(head).kind == "notes"
        ),
        None,
    )
    if at is None or any(c > at for c in table.columns):
        return
    for row in table.rows:
        beside = row.cells[at:]
        if any(beside):
            place = table.sheet.place(row.number, at)
            codes = reading.outside.legends.setdefault(reader.number, {})
            codes |= {code.upper(): (meaning, place) for code, meaning in legends_of(beside)}
            reading.outside.notes.append((place, " ".join(cell for cell in beside if cell)))
            for column in range(at, len(row.cells)):
                table.ends.cell(row.number, column, FACT, "key")
            row.cells[at:] = []


def take_section(table: Table, row: GridRow, reader: RowReader, reading: SheetsReading) -> Over | None:
    """What a section's heading says for the lines below: place and kind at once, words of scope and count as doubts."""
    text, place = first(row).strip().rstrip(":"), table.sheet.place(row.number)
    stated = _OPENINGS.search(text)
    bare = (text[: stated.start()] + text[stated.end() :]).strip(" -–:,()") if stated else ""
    if stated and place_of_heading(bare) and not one_of_type(bare):  # UNIT TYPE A (12 UNITS) is of twelve
        text = bare
        reading.section_totals.append((table, place, int(stated[1]), len(reading.drafts)))
    reading.notes.append((place, first(row)))
    table.ends.row(row.number, FACT, "section")
    stand_below(text, reader)
    if kind := kind_of(text):
        reader.above.kind = kind
    repeats = note_repeat(text, place, reader, reading)
    places = read_places(text)
    for name in PLACED if not places.bare else ():
        names = [found for found in places.places if KINDS.get(found.kind) == name]
        if len(names) == 1 and not names[0].text.lower().startswith("phase"):
            reader.above.enter(name, names[0].name if name == "elevation" else names[0].text)
            reader.sections.append((name, reader.above.section[name], place))
    over = (place, text, list[Draft]())
    for name in PLACED:
        if len(places.names(name)) > 1 or (name == "storey" and not places.names(name) and is_of_floors(text)):
            reader.above.enter(name, text)
    if repeats:
        table.ends.row(row.number, QUESTION, "section_repeats")
        return over
    if heads_lines(text) or read_words(text).of(*ASKED):
        reading.outside.over.append(over)
        return over
    return None if kind or places.places else over


def stand_in(table: Table, reader: RowReader) -> None:
    """The place that the sheet's name or the nearest title gives to all lines of the table, where no column does."""
    texts = [(table.sheet.name, table.sheet.name), *((table.sheet.place(row), text) for row, text in table.titles)]
    rows = Counter(place for place, _ in texts)
    for place, text in texts:
        for kind, names in ((kind, read_places(text).names(kind)) for kind in ("storey", "elevation", "building")):
            if read_places(text).bare or rows[place] > 1 or len(text.strip()) < 2:
                continue
            if (
                names[:1]
                and len(names) == 1
                and not unexplained(text)
                and not _PAGE.search(text)
                and table.column(kind) is None
            ):
                reader.above.section[kind] = names[0]
                reader.sections.append((kind, names[0], place))


def stand_over(table: Table, drafts: Sequence[Draft], reading: SheetsReading) -> None:
    """Titles, the sheet's name and what its pages carry: over all lines of the table, or notes."""
    rows = Counter(row for row, _ in table.titles)
    said = [(table.sheet.place(row), text) for row, text in table.titles if rows[row] == 1]
    for row in [row for row, count in rows.items() if count > 1]:
        text = said_by(text for number, text in table.titles if number == row)
        if times_of(text) is not None:
            said.append((table.sheet.place(row), text))
        else:
            reading.outside.notes.append((table.sheet.place(row), text))
    said += [(table.sheet.name, text) for text in (table.sheet.name, *table.sheet.pages) if text]
    by_mark = marked(drafts)
    for place, text in dict.fromkeys(said):
        told = text != table.sheet.name and names_a_mark(text, by_mark)
        if not told and heads_lines(text) or (text == table.sheet.name and read_words(text).of("scope", "delta")):
            reading.outside.over.append((place, text, list(drafts)))
        elif (place, text) not in reading.outside.notes:
            reading.outside.notes.append((place, text))


def names_a_mark(text: str, by_mark: Mapping[str, list[Draft]]) -> bool:
    """Whether a text begins with the mark of a line, W2 BY OTHERS, and so is about this line and no other."""
    mark = None if read_places(text).places or times_of(text) is not None else _MARK.match(text.strip())
    return mark is not None and mark_key(mark[0]) in by_mark


def lone_count(row: GridRow, columns: Columns) -> bool:
    """Whether a row holds counts and nothing else, as a sum that nothing names."""
    counted = {columns.quantity, *columns.counts}
    return all(column in counted for column, cell in enumerate(row.cells) if cell)
