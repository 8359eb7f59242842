"""The reading of a schedule file in any form it arrives in: lines, what each was read from, and the questions left.

bytes > sniffing > sheets, JSON, COBie or model > drafts > finishing > lines, questions, notes
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker, Question
from estimating.intake.cobie import CobieReading, read_cobie
from estimating.intake.cobie_sheets import is_cobie
from estimating.intake.draft import Draft
from estimating.intake.finishing import Company, Extent, enlarge, extent_of, finish, part_marks, values_of
from estimating.intake.grid import Sheet, column_letters
from estimating.intake.ifc_process import read_in_process
from estimating.intake.ifc_reading import ModelReading, read_elements
from estimating.intake.json_reading import ANY_UNIT, JsonReading, read_json_schedule
from estimating.intake.program_files import RowsReading
from estimating.intake.sheets_reading import SheetsReading, read_sheets
from estimating.intake.sniffing import sniff
from estimating.intake.table_questions import name_of
from estimating.intake.text_sheet import read_text
from estimating.intake.vocabulary import Heading
from estimating.intake.workbook import read_workbook
from rates.core.problems import Problem, Refused


@dataclass(frozen=True)
class Options:
    """What is known beforehand: answers by question id, confirmed columns by fingerprint, the company's past."""

    answers: Mapping[str, str] = field(default_factory=dict)
    columns: Mapping[str, Mapping[int, Heading]] = field(default_factory=dict)
    company: Company = Company()
    length_unit: str = ""  # of bare numbers, where the file declares none


@dataclass(frozen=True)
class Intake:
    """What a schedule file holds.

    lines: opening lines by the field names of JSON; questions: all, answered ones with their answers; notes: rows that
    are no lines, by place; tables: what each heading was taken for; apart: what is reported and not counted.
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
    drafts: tuple[Draft, ...] = ()
    place: Callable[[int, str | None], str] = lambda index, name: ""
    length_unit: str = ""
    drawing_issue: str = ""

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
    return READERS[kind](data, options)


def read_workbook_file(data: bytes, options: Options) -> Intake:
    """A workbook: one of the office's own, or a COBie handover."""
    sheets = read_workbook(data)
    return from_cobie(sheets, options) if is_cobie(sheets) else from_sheets("xlsx", sheets, options)


def read_text_file(data: bytes, options: Options) -> Intake:
    """CSV, spaced columns, or a pasted list."""
    return from_sheets("text", [read_text(data)], options)


def from_sheets(format: str, sheets: list[Sheet], options: Options) -> Intake:
    """The intake of sheets with tables of openings."""
    asker = Asker(options.answers)
    reading = read_sheets(sheets, options.columns, asker)
    enlarge(reading.drafts, reading.added)
    part_marks(reading.drafts, reading.place, asker)
    reads = finish(reading.drafts, reading.place, asker, options.company, reading.kind_missing)
    return Intake(
        format,
        values_of(reading.drafts),
        questions_of(asker),
        notes=tuple(reading.notes),
        tables=tuple(describe(reading)),
        extent=extent_of(reads),
        columns={table.fingerprint: dict(table.columns) for table in reading.tables},
        refused_answers=tuple(asker.refused),
        drafts=tuple(reading.drafts),
        place=reading.place,
    )


def questions_of(asker: Asker) -> tuple[Question, ...]:
    """All questions, those that block costing first; one more says how many were left out."""
    if asker.left_out:
        count, asker.left_out = asker.left_out, -(10**9)
        sentence = f"And {count:,} more questions; answer these first, or correct the file."
        last = Question("more", "more_questions", BLOCKS_COSTING, sentence)
        asker.questions.append(last)
    order = {BLOCKS_COSTING: 0, BLOCKS_ISSUE: 1}
    return tuple(sorted(asker.questions, key=lambda question: order.get(question.severity, 2)))


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
    asker = Asker(options.answers)
    return from_items("cobie", read_cobie(sheets, asker), asker, options)


def read_model_file(data: bytes, options: Options) -> Intake:
    """A building model, opened in a process of its own."""
    asker = Asker(options.answers)
    return from_items("ifc", read_elements(read_in_process(data), asker), asker, options)


def read_json_file(data: bytes, options: Options) -> Intake:
    """A JSON schedule."""
    reading = read_json_schedule(data, options.length_unit)
    unit = reading.length_unit
    return from_items("json", reading, Asker(options.answers), options, unit, checked_in=unit or ANY_UNIT)


def read_rows(format: str, reading: RowsReading, unit: str, options: Options) -> Intake:
    """The intake of rows that a program wrote, and that were read without a fault."""
    return from_items(format, reading, Asker(options.answers), options, unit, checked_in=unit or ANY_UNIT)


def from_items(
    format: str,
    reading: CobieReading | ModelReading | JsonReading | RowsReading,
    asker: Asker,
    options: Options,
    unit: str = "",
    checked_in: str = "",
) -> Intake:
    """The intake of openings that were listed one by one."""
    reads = finish(reading.drafts, reading.place, asker, options.company, (), checked_in)
    return Intake(
        format,
        values_of(reading.drafts),
        questions_of(asker),
        apart=tuple(reading.apart),
        extent=extent_of(reads),
        refused_answers=tuple(asker.refused),
        drafts=tuple(reading.drafts),
        place=reading.place,
        length_unit=unit,
        drawing_issue=reading.drawing_issue if isinstance(reading, JsonReading) else "",
    )


READERS: dict[str, Callable[[bytes, Options], Intake]] = {
    "xlsx": read_workbook_file,
    "text": read_text_file,
    "ifc": read_model_file,
    "json": read_json_file,
}
