"""A workbook as an office makes it is read with no mapping by hand; all of its content is invented."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from estimating.intake.reading import Intake, Options, read_file
from rates.core.units import read_length
from tests.intake.workbooks import DOOR_ROWS, WINDOW_ROWS, office_doors, office_windows, office_workbook, workbook

INCH = Fraction(25_400_000)


@pytest.fixture(scope="module")
def data() -> bytes:
    return office_workbook()


@pytest.fixture(scope="module")
def intake(data: bytes) -> Intake:
    return read_file(data)


def test_every_line_is_read_as_it_was_written(intake: Intake) -> None:
    windows = [
        (line["mark"], line["quantity"], read_length(line["width"]).nm, read_length(line["height"]).nm)
        + (line["storey"], line["elevation"], line["kind"])
        for line in intake.lines[:WINDOW_ROWS]
    ]
    assert windows == [
        (mark, count, Fraction(width) * INCH, Fraction(height) * INCH, storey, side, "window")
        for mark, count, width, height, storey, side in office_windows()
    ]
    doors = [(line["mark"], line["quantity"], line["width"], line["kind"]) for line in intake.lines[WINDOW_ROWS:]]
    assert doors == [(mark, count, size.split(" x ")[0], "door") for mark, count, size in office_doors()]


def test_neither_the_total_nor_a_note_is_an_opening(intake: Intake) -> None:
    assert len(intake.lines) == WINDOW_ROWS + DOOR_ROWS
    assert not any("TOTAL" in line["mark"] or "NOTE" in line["mark"] for line in intake.lines)
    assert [text for _, text in intake.notes] == [
        "NOTES:",
        "1. ALL SIZES ARE TO BE CHECKED ON SITE.",
        "2. SEE A-801 FOR SILL DETAILS.",
    ]


def test_the_stated_total_agrees_and_is_not_asked_about(intake: Intake) -> None:
    assert "total_mismatch" not in {question.code for question in intake.questions}


def test_each_line_names_its_cells(intake: Intake) -> None:
    read = intake.read(0)
    assert read["place"] == "Windows!row 7"
    assert {name: field["cell"] for name, field in read["fields"].items()} == {
        "mark": "Windows!A7",
        "quantity": "Windows!B7",
        "width": "Windows!C7",
        "height": "Windows!D7",
        "storey": "Windows!E7",
        "elevation": "Windows!F7",
        "kind": "Windows!row 7",
    }
    assert intake.read(WINDOW_ROWS)["fields"]["width"]["cell"] == "Doors!C4"


def test_nothing_stands_in_the_way_of_costing(intake: Intake) -> None:
    severities = Counter(question.severity for question in intake.questions)
    assert severities["blocks_costing"] == 0
    assert {question.code for question in intake.questions} == {
        "formula_cells",
        "hidden_column",
        "sheet_without_schedule",
        "access_missing",
        "door_sides",
    }


def test_the_hidden_column_is_told_and_not_read(intake: Intake) -> None:
    told = next(question for question in intake.questions if question.code == "hidden_column")
    assert told.cells == ("Windows!G6",)
    assert [line["quantity"] for line in intake.lines[:3]] == [1, 2, 3]


def test_confirmed_columns_are_not_asked_again_and_changed_headings_are() -> None:
    # a wall's name or its height above grade: ELEV alone doesn't say
    heads = (["MARK", "QTY", "WIDTH (IN)", "HEIGHT (IN)", "ELEV"], ["MARK", "QTY", "R.O. SIZE", "ELEV"])
    lines = (["W1", 2, 36, 48, "1"], ["D1", 1, "3'-0\" x 7'-0\"", "2"])
    names = ("Windows", "Doors")
    data = workbook({name: [head, line] for name, head, line in zip(names, heads, lines, strict=True)})
    intake = read_file(data)
    asked = [question for question in intake.questions if question.code == "columns"]
    assert [question.cells for question in asked] == [("Windows!row 1",), ("Doors!row 1",)]
    again = read_file(data, Options(columns=intake.columns))
    assert "columns" not in {question.code for question in again.questions}
    assert again.lines == intake.lines
    first, second = (table["fingerprint"] for table in intake.tables)
    some = read_file(data, Options(columns={first: intake.columns[first]}))
    asked = [question for question in some.questions if question.code == "columns"]
    assert len(asked) == 1 and asked[0].cells == ("Doors!row 1",)
    assert first != second
