"""Words outside of the lines brought to the lines that they are about: titles, notes, legends, comments, boxes."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import islice

from estimating.intake.asking import Asker
from estimating.intake.count_doubts import ask_per
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.expanding import storeys_in
from estimating.intake.headings import COUNT
from estimating.intake.named_lines import lines_named, marked
from estimating.intake.outside_words import (
    doubt_over,
    explain_codes,
    hear_notes,
    legends_of,
)
from estimating.intake.row_words import Hearing
from estimating.intake.sheets_state import SheetsReading
from estimating.intake.table_facts import where
from rates.core.grid import Sheet
from rates.core.texts import quoted

_CHANGES = re.compile(
    r"\b(?:changed?|revised?|now|was|should|instead|per rfi|geändert|statt|jetzt|modifié|au lieu|ahora|cambiad\w)\b",
    re.IGNORECASE,
)
_NUMBERS = re.compile(r"(?:notes?\s*)?[0-9]{1,2}(?:\s*[,;/&+]\s*[0-9]{1,2})*", re.IGNORECASE)


def hear_outside(reading: SheetsReading, asker: Asker) -> None:
    """Words outside of the lines become doubts of the lines that they are about, or one question for the file."""
    lines: dict[tuple[int, int], list[Draft]] = {}
    for draft in reading.drafts if any(s.comments for s in reading.sheets) else ():
        lines.setdefault((draft.table, draft.row), []).append(draft)
    for place, text, drafts in reading.outside.over:
        code = doubt_over(text, place, drafts, reading.doubts) if drafts else None
        if code:
            reading.note_ends[place] = code
        elif code is None:
            reading.outside.notes.append((place, text))
    for number, table in enumerate(reading.tables):
        for row, column, text in table.sheet.comments:
            on_line = lines.get((number, row), [])
            if on_line:
                code = hear_comment(on_line, text, table.sheet.place(row, column), reading.doubts)
                reading.comment_ends[table.sheet.place(row, column)] = code
            else:
                reading.outside.notes.append((table.sheet.place(row, column), text))
    for place, text in list(reading.outside.notes):
        for number in range(len(reading.tables)):
            codes = reading.outside.legends.setdefault(number, {})
            for code, meaning in legends_of([text]):
                if not names_marks(meaning, reading.drafts):
                    codes.setdefault(code.upper(), (meaning, place))
    name_others(reading)
    for number, legends in reading.outside.legends.items():
        reading.note_ends |= explain_codes(legends, coded_cells(reading, number), reading.doubts)
    explained = set(reading.note_ends)
    reading.outside.notes = [(place, text) for place, text in reading.outside.notes if place not in explained]
    reading.note_ends |= hear_notes(reading.outside, reading.drafts, reading.hearing, reading.doubts, asker)
    storeys_in(reading, reading.doubts)
    for number, table in enumerate(reading.tables):
        ask_per(table, [draft for draft in reading.drafts if draft.table == number], reading.doubts)


def names_marks(text: str, drafts: Sequence[Draft]) -> bool:
    """Whether a text names a mark of the lines, so that it is about these."""
    return bool(lines_named(text, marked(drafts)))


def name_others(reading: SheetsReading) -> None:
    """A remark of one line that names others is about these as well."""
    by_mark = marked(reading.drafts)
    for doubt in list(reading.doubts.found):
        if doubt.code in ("scope_words", "alternate_words", "interior_words") and len(doubt.written) > 8:
            for other in lines_named(doubt.written, by_mark):
                if other is not doubt.draft and other not in doubt.draft.places_of:
                    reading.doubts.note(replace(doubt, draft=other))


def hear_comment(drafts: Sequence[Draft], text: str, cell: str, doubts: Doubts) -> str:
    """A comment on a line: its words of scope, shape and count, a number or a change in it; the code asked."""
    before = len(doubts.found)
    Hearing(doubts).words(drafts, text, cell, lambda code: None)
    if len(doubts.found) == before and (any(map(str.isdigit, text)) or _CHANGES.search(text)):
        for draft in drafts:
            doubts.note(Doubt("comment_words", draft, cell, text, (), {"as_drawn": {}}, field="comment"))
    return doubts.found[-1].code if len(doubts.found) > before else ""


def coded_cells(reading: SheetsReading, number: int) -> Iterable[tuple[Draft, str, str]]:
    """The cells of a table's lines that a legend may explain: neither mark, count nor size."""
    table = reading.tables[number]
    fields = {"mark", "quantity", "width", "height", "size", "diameter", COUNT}
    columns = [c for c in range(table.sheet.width) if c not in table.columns or table.columns[c].field not in fields]
    rows = {row.number: row for row in table.rows}
    for draft in reading.drafts:
        if draft.table == number and draft.row in rows:
            for column, heading in table.columns.items():
                if heading.field in ("note", "property", "source") and _NUMBERS.fullmatch(rows[draft.row].cell(column)):
                    for number_of in re.findall(r"[0-9]+", rows[draft.row].cell(column)):
                        yield draft, table.sheet.place(draft.row, column), number_of
            lead = re.match(r"[^\W\d_]{2,}", str(draft.values.get("mark", "")))
            if lead:
                yield draft, table.place(draft.row, "mark"), lead[0]
            for column in columns:
                if (cell := rows[draft.row].cell(column)) and cell.isdigit():
                    continue
                if cell := rows[draft.row].cell(column):
                    yield draft, table.sheet.place(draft.row, column), cell


def hear_boxes(sheet: Sheet, reading: SheetsReading) -> None:
    """Texts that lie over a sheet in boxes: notes, and told where they are."""
    for text in sheet.boxes:
        reading.outside.notes.append((f"a text box of {sheet.name!r}", text))
        reading.notes.append((f"a text box of {sheet.name!r}", text))


def told_words(reading: SheetsReading, asker: Asker) -> None:
    """Words beside the lines that change nothing and are not used, told once for each table."""
    for table, hearing in zip(reading.read, reading.hearing, strict=True):
        if not hearing.told:
            continue
        said = "; ".join(
            f"{quoted(words)} ({cells[0]}{f' and {len(cells) - 1} more' if len(cells) > 1 else ''})"
            for words, cells in islice(hearing.told.items(), 20)
        )
        more = f" and {len(hearing.told) - 20} more" if len(hearing.told) > 20 else ""
        asker.tell(
            "words_not_used", f"{where(table)}Words beside the lines are kept and not used: {said}{more}.",
            about=(table.fingerprint, *list(hearing.told)[:50]), cells=[cells[0] for cells in hearing.told.values()],
        )  # fmt: skip
