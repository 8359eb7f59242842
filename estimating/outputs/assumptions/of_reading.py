"""What a person did not enter into a schedule but settled: answers to its questions, columns that a company keeps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from estimating.intake.report import question_of
from estimating.intake.said import Show
from estimating.outputs.assumptions.item import ANSWER, DEFAULT, LEARNT, Assumption


def settled_in(report: Mapping[str, Any], openings: Sequence[int], show: Show) -> list[Assumption]:
    """The answers and kept columns of a reading report; `openings` by line, 0 where a line is not priced."""
    return [*answers(report, openings, show), *kept_columns(report, openings), *sizes_taken(report, openings)]


def answers(report: Mapping[str, Any], openings: Sequence[int], show: Show) -> Iterator[Assumption]:
    """Every question that was answered, with the lines that it is about, or all of its sheet."""
    for question in map(question_of, report["questions"]):
        if question.answer is None:
            continue
        sentence, choices = question.read_in(show)
        value = dict(zip(question.choices, choices, strict=False)).get(question.answer, question.answer)
        about = question.lines or lines_of_sheet(report, question.cells[0] if question.cells else "")
        touched = sum(openings[line] for line in about if line < len(openings))
        yield Assumption(question.code, value, ANSWER, touched, f"{sentence} Answered: {value}.")


def lines_of_sheet(report: Mapping[str, Any], cell: str) -> list[int]:
    """The lines of the sheet that a cell stands in; every line where no table tells."""
    sheet = cell.rpartition("!")[0]
    tables = {number for number, table in enumerate(report.get("tables", ())) if table["sheet"] == sheet}
    return [line for line, entry in enumerate(report["lines"]) if not tables or entry[0] in tables]


def kept_columns(report: Mapping[str, Any], openings: Sequence[int]) -> Iterator[Assumption]:
    """The columns that were read as the company confirmed them for the same headings."""
    learnt = set(report.get("learnt", ()))
    for number, table in enumerate(report.get("tables", ())):
        if table["fingerprint"] not in learnt:
            continue
        lines = [line for line, entry in enumerate(report["lines"]) if entry[0] == number]
        touched = sum(openings[line] for line in lines if line < len(openings))
        for column in table["columns"]:
            value = f'column {column["column"]}, "{column["heading"]}"'
            sentence = f"{value.capitalize()} is read as {column['field']}, as confirmed for these headings before."
            yield Assumption(column["field"], value, LEARNT, touched, sentence)


def sizes_taken(report: Mapping[str, Any], openings: Sequence[int]) -> Iterator[Assumption]:
    """That sizes are those of the rough openings, for the tables that don't say of what they are."""
    tables = set(report.get("without_basis", ()))
    touched = sum(
        openings[line] for line, entry in enumerate(report["lines"]) if entry[0] in tables and line < len(openings)
    )
    if touched:
        sentence = "The schedule doesn't say of what its sizes are; taken as those of the rough openings."
        yield Assumption("size_basis", "rough", DEFAULT, touched, sentence)
