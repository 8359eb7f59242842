"""The reading of a schedule file in any form it arrives in: lines, what each was read from, and the questions left.

bytes > sniffing > sheets, JSON, COBie or model > drafts > finishing > lines, questions, notes
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from estimating.collector import collector_paused
from estimating.core.schedule import MOST_LINES
from estimating.intake.answer_rules import Rule
from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cell_ends import ends_of
from estimating.intake.cobie import CobieReading, read_cobie
from estimating.intake.cobie_sheets import is_cobie
from estimating.intake.draft import Draft
from estimating.intake.edit_questions import Editing, LineEditor, Place
from estimating.intake.edit_settling import settle_edited
from estimating.intake.edits import Edit
from estimating.intake.ends import CellEnd
from estimating.intake.finishing import Company, Extent, enlarge, extent_of, finish, part_marks, values_of
from estimating.intake.headings import Heading
from estimating.intake.ifc_process import read_in_process
from estimating.intake.ifc_reading import ModelReading, read_elements
from estimating.intake.json_reading import ANY_UNIT, JsonReading, read_json_schedule
from estimating.intake.line_identity import identify
from estimating.intake.program_files import RowsReading
from estimating.intake.program_words import hear_lines
from estimating.intake.questions import Kept, Question
from estimating.intake.sheets_reading import read_sheets
from estimating.intake.sheets_state import SheetsReading
from estimating.intake.sniffing import refuse, sniff
from estimating.intake.table_questions import name_of
from estimating.intake.text_sheet import read_text
from estimating.intake.touched import row_of, with_openings
from rates.core.grid import Sheet, column_letters, place_of
from rates.core.problems import Problem, Refused, Unreadable
from rates.sheets.workbook_reading import Wanted, read_workbook

OF_A_SCHEDULE = Wanted(MOST_LINES + 1_000, 200, 2_000_000)  # titles, headings and notes stand beside the lines


@dataclass(frozen=True)
class Options:
    """What is known beforehand: answers, confirmed columns by fingerprint, the company's past.

    answers: given now, by question id or by the key of a line in it; given: rules given now; kept: answers of before by
    key; rules: kept from before, which only propose.
    """

    answers: Mapping[str, str] = field(default_factory=dict)
    given: Sequence[Rule] = ()
    kept: Mapping[str, Kept] = field(default_factory=dict)
    rules: Sequence[Rule] = ()
    editing: Editing = Editing()
    columns: Mapping[str, Mapping[int, Heading]] = field(default_factory=dict)
    company: Company = Company()
    length_unit: str = ""  # of bare numbers, where the file declares none

    def asker(self) -> Asker:
        """Who asks, with all answers."""
        return Asker(self.answers, self.given, self.kept, self.rules, self.editing.by, self.editing.at)


@dataclass(frozen=True)
class Intake:
    """What a schedule file holds.

    lines: opening lines by the field names of JSON; questions: all, answered ones with their answers; notes: rows that
    are no lines, by place; tables: what each heading was taken for; apart: what is reported and not counted; kept: the
    answers that were used, by key; touched: how many questions or lines each rule given now answers; without_basis:
    the tables, by their place, that say nowhere whether their sizes are those of rough openings.
    """

    format: str
    lines: list[dict[str, Any]]
    questions: tuple[Question, ...]
    notes: tuple[tuple[str, str], ...] = ()
    tables: tuple[dict[str, Any], ...] = ()
    apart: tuple[dict[str, Any], ...] = ()
    extent: Extent = Extent()
    columns: Mapping[str, Mapping[int, Heading]] = field(default_factory=dict)
    refused_answers: tuple[tuple[str, str], ...] = ()
    kept: Mapping[str, Kept] = field(default_factory=dict)
    touched: Mapping[str, int] = field(default_factory=dict)
    edits: Sequence[Edit] = ()
    drafts: tuple[Draft, ...] = ()
    place: Callable[[int, str | None], str] = lambda index, name: ""
    length_unit: str = ""
    drawing_issue: str = ""
    without_basis: tuple[int, ...] = ()
    read_ends: Callable[[], tuple[CellEnd, ...]] = tuple

    @property
    def ends(self) -> tuple[CellEnd, ...]:
        """Where every cell of the file that is not empty ended."""
        return self.read_ends()

    def counts(self) -> dict[str, int]:
        """How many questions are open by severity, and how many there are to know."""
        found = dict.fromkeys((BLOCKS_COSTING, BLOCKS_ISSUE, "to_know"), 0)
        for question in self.questions:
            if question.open or question.severity == "to_know":
                found[question.severity] += 1
        return found

    def read(self, index: int) -> dict[str, Any]:
        """What was read for one line: each field's value, its cell, and how it was written where that differs."""
        draft = self.drafts[index]
        fields = {}
        for name, value in draft.values.items():
            shown: dict[str, Any] = {"value": value, "cell": self.place(index, name)}
            if name in draft.written:
                shown["written"] = draft.written[name]
            fields[name] = shown
        return {"line": index, "place": self.place(index, None), "fields": fields}


def read_file(data: bytes, options: Options | None = None) -> Intake:
    """The intake of a file; Refused where nothing can be read from it, with what is wrong and where."""
    options = options or Options()
    kind = sniff(data)
    if isinstance(kind, Problem):
        raise Refused([kind])
    with collector_paused():
        return READERS[kind](data, options)


def read_workbook_file(data: bytes, options: Options) -> Intake:
    """A workbook: one of the office's own, or a COBie handover."""
    try:
        sheets = read_workbook(data, OF_A_SCHEDULE)
    except Unreadable as why:
        raise Refused([refuse(why.code, why.detail)]) from None
    return from_cobie(sheets, options) if is_cobie(sheets) else from_sheets("xlsx", sheets, options, options.asker())


def read_text_file(data: bytes, options: Options) -> Intake:
    """CSV, spaced columns, or a pasted list."""
    asker = options.asker()
    return from_sheets("text", [read_text(data, asker)], options, asker)


def from_sheets(format: str, sheets: list[Sheet], options: Options, asker: Asker) -> Intake:
    """The intake of sheets with tables of openings."""
    reading = read_sheets(sheets, options.columns, asker, options.length_unit)
    identify(reading.drafts)
    place, edits = edit_lines(reading.drafts, reading.place, asker, options.editing, "")
    enlarge(reading.drafts, reading.added)
    part_marks(reading.drafts, place, asker)
    missing = [
        n for n, d in enumerate(reading.drafts) if not {"kind", "excluded"} & d.values.keys() and "kind" not in d.asked
    ]
    reads = finish(reading.drafts, place, asker, options.company, missing)
    tables = describe(reading)
    headings = {row_of(place_of(table["sheet"], table["heading_row"])): n for n, table in enumerate(tables)}
    return Intake(
        format,
        values_of(reading.drafts),
        touching(questions_of(asker), reading.drafts, place, headings),
        notes=tuple(reading.notes),
        tables=tuple(tables),
        without_basis=tuple(reading.without_basis),
        apart=tuple(reading.apart),
        extent=extent_of(reads),
        columns={table.fingerprint: dict(table.columns) for table in reading.tables},
        refused_answers=tuple(asker.refused),
        kept=asker.kept,
        touched=asker.touched,
        drafts=tuple(reading.drafts),
        place=place,
        edits=edits,
        read_ends=lambda: tuple(ends_of(reading)),
    )


def edit_lines(
    drafts: list[Draft], place: Place, asker: Asker, editing: Editing, unit: str
) -> tuple[Place, tuple[Edit, ...]]:
    """The edits put into the lines, and where each line is found then: added ones in no file. Refused."""
    if not editing.kept and not editing.new:
        return place, ()
    count = len(drafts)

    def find(index: int, name: str | None = None) -> str:
        return drafts[index].places["line"] if index >= count else place(index, name)

    edits = LineEditor(drafts, find, asker, editing.file).edit(editing, unit)
    settle_edited(drafts, asker, find)
    return find, tuple(edits)


def questions_of(asker: Asker) -> tuple[Question, ...]:
    """All questions, those that block costing first; one more says how many were left out."""
    if asker.left_out:
        count, asker.left_out = asker.left_out, -(10**9)
        sentence = f"And {count:,} more questions; answer these first, or correct the file."
        last = Question("more", "more_questions", BLOCKS_COSTING, sentence)
        asker.questions.append(last)
    order = {BLOCKS_COSTING: 0, BLOCKS_ISSUE: 1}
    return tuple(sorted(asker.questions, key=lambda question: order.get(question.severity, 2)))


def touching(
    questions: Sequence[Question], drafts: Sequence[Draft], place: Place, headings: Mapping[str, int]
) -> tuple[Question, ...]:
    """The questions with the openings that they touch."""
    if not questions:
        return ()
    return with_openings(questions, drafts, [place(index, None) for index in range(len(drafts))], headings)


def describe(reading: SheetsReading) -> list[dict[str, Any]]:
    """The tables as a report shows them: where, which columns, what was taken for what."""
    return [
        {
            "sheet": table.sheet.name,
            "heading_row": table.heading_row,
            "fingerprint": table.fingerprint,
            "repeated_headings": table.repeated,
            "columns": [
                {"column": column_letters(c), "heading": table.headings[c], "field": name_of(h)}
                for c, h in sorted(table.columns.items())
                if c < len(table.headings)
            ],
        }
        for table in reading.tables
    ]


def from_cobie(sheets: list[Sheet], options: Options) -> Intake:
    """The intake of a COBie workbook."""
    asker = options.asker()
    return from_items("cobie", read_cobie(sheets, asker), asker, options)


def read_model_file(data: bytes, options: Options) -> Intake:
    """A building model, opened in a process of its own."""
    asker = options.asker()
    return from_items("ifc", read_elements(read_in_process(data), asker), asker, options)


def read_json_file(data: bytes, options: Options) -> Intake:
    """A JSON schedule."""
    reading = read_json_schedule(data, options.length_unit)
    unit = reading.length_unit
    return from_items("json", reading, options.asker(), options, unit, checked_in=unit or ANY_UNIT)


def read_rows(format: str, reading: RowsReading, unit: str, options: Options) -> Intake:
    """The intake of rows that a program wrote, and that were read without a fault."""
    with collector_paused():
        return from_items(format, reading, options.asker(), options, unit, checked_in=unit or ANY_UNIT)


def from_items(
    format: str,
    reading: CobieReading | ModelReading | JsonReading | RowsReading,
    asker: Asker,
    options: Options,
    unit: str = "",
    checked_in: str = "",
) -> Intake:
    """The intake of openings that were listed one by one."""
    identify(reading.drafts)
    hear_lines(reading.drafts, reading.place, asker, unit)
    place, edits = edit_lines(reading.drafts, reading.place, asker, options.editing, checked_in)
    reads = finish(reading.drafts, place, asker, options.company, (), checked_in)
    return Intake(
        format,
        values_of(reading.drafts),
        touching(questions_of(asker), reading.drafts, place, {}),
        apart=tuple(reading.apart),
        extent=extent_of(reads),
        refused_answers=tuple(asker.refused),
        kept=asker.kept,
        touched=asker.touched,
        drafts=tuple(reading.drafts),
        place=place,
        edits=edits,
        length_unit=unit,
        drawing_issue=reading.drawing_issue if isinstance(reading, JsonReading) else "",
    )


READERS: dict[str, Callable[[bytes, Options], Intake]] = {
    "xlsx": read_workbook_file,
    "text": read_text_file,
    "ifc": read_model_file,
    "json": read_json_file,
}
