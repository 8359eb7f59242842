"""Rate sheets as an office keeps them: its own columns, percent cells, formulas; and the one rule against formulas.

Cell contents follow ECMA-376 part 1: 18.3.1.4 (a cell, its formula and cached value), 18.8.30 (number formats).
"""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from typing import Any

import openpyxl
import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

from rates.core.fields import Faults
from rates.core.grid import Cell, GridRow, NumberText, Sheet
from rates.core.table_sheets import ReadSheet, read_sheet
from rates.sheets.csv_writing import write_csv
from rates.sheets.edition_files import read_csv, read_sheets
from rates.sheets.formula_text import expose, protect
from rates.sheets.workbook_writing import write_workbook


def read_book(table: str, held: io.BytesIO) -> tuple[ReadSheet, Faults]:
    """A table read from a workbook of one sheet, and the faults of its form."""
    faults: Faults = []
    return read_sheet(table, read_sheets(held.getvalue())[0], faults), faults


def overheads_book(value: float, code: str) -> io.BytesIO:
    """A row of overhead whose percent stands in a cell of a format."""
    held = io.BytesIO()
    with xlsxwriter.Workbook(held) as book:
        sheet = book.add_worksheet("overheads")
        sheet.write_row(0, 0, ["code", "title", "step", "percent"])
        sheet.write_row(1, 0, ["oh", "Overhead", "overhead"])
        sheet.write_number(1, 3, value, book.add_format({"num_format": code}))
    return held


@pytest.mark.parametrize(
    ("value", "code", "percent"),
    [
        (0.12, "0%", "12"),
        (0.12, "0.0%", "12.0"),
        (0.0725, "0.00%", "7.25"),
        (0.07255, "0.00%", "7.255"),
        (12, "0", "12"),
        (12, "0.00", "12.00"),
        (1.5, "General", "1.5"),
    ],
)
def test_a_percent_cell_is_a_percentage_exactly(value: float, code: str, percent: str) -> None:
    read, faults = read_book("overheads", overheads_book(value, code))
    assert (read.content[0]["percent"], faults) == (percent, [])


def test_a_percent_cell_of_a_field_that_is_none_stays_what_the_office_sees() -> None:
    held = io.BytesIO()
    with xlsxwriter.Workbook(held) as book:
        sheet = book.add_worksheet("labour")
        sheet.write_row(0, 0, ["code", "title", "wage"])
        sheet.write_row(1, 0, ["a", "A"])
        sheet.write_number(1, 2, 0.38, book.add_format({"num_format": "0%"}))
    assert read_book("labour", held)[0].content[0]["wage"] == "38 %"  # which the table's reader refuses at its cell


def test_a_formula_without_its_value_and_a_failed_one_name_their_cells() -> None:
    held = io.BytesIO()
    with xlsxwriter.Workbook(held) as book:
        sheet = book.add_worksheet("labour")
        sheet.write_row(0, 0, ["code", "title", "wage", "fringe", "Checked"])
        sheet.write_row(1, 0, ["a", "A"])
        sheet.write_formula(1, 2, "=40*0.95", None, "")
        sheet.write_formula(1, 3, "=1/0", None, "#DIV/0!")
        sheet.write_formula(1, 4, "=NOW()", None, "")
    read, faults = read_book("labour", held)
    assert [(f.code, f.sheet, f.line, f.column, f.detail.split()[0]) for f in faults] == [
        ("formula_without_value", "labour", 2, 3, "C2"),
        ("error", "labour", 2, 4, "D2"),
    ]
    assert read.aside == [(5, "Checked")]


OWN = ("Supplier", "SKU", "phone", "last checked", "pay", "Einkauf", "priced by")
SLIPS = {"Wage": "wage", "wages": "wage", "Wage ($/h)": "wage", "titel": "title", "burden/0/percent": "burden"}


@pytest.mark.parametrize("heading", OWN)
def test_a_column_of_the_office_s_own_is_set_aside_and_named(heading: str) -> None:
    faults: Faults = []
    rows = [GridRow(1, ["code", heading, "title", "wage"]), GridRow(2, ["a", "x", "A", "9"])]
    read = read_sheet("labour", Sheet("", rows), faults)
    assert (read.content, read.aside, faults) == ([{"code": "a", "title": "A", "wage": "9"}], [(2, heading)], [])


@pytest.mark.parametrize(("heading", "meant"), SLIPS.items())
def test_a_heading_that_is_likely_a_slip_is_refused(heading: str, meant: str) -> None:
    faults: Faults = []
    read = read_sheet("labour", Sheet("", [GridRow(1, ["code", heading])]), faults)
    assert [(f.code, f.line, f.column) for f in faults] == [("unknown_column", 1, 2)]
    assert f"{meant} is near it" in faults[0].detail
    assert read.aside == []


def test_columns_beside_the_production_table_are_set_aside() -> None:
    faults: Faults = []
    rows = [GridRow(2, ["Field", "Value", "", "who"]), GridRow(4, ["hours_per_day", "8", "", "=me"])]
    read = read_sheet("production", Sheet("", rows), faults)
    assert (read.content, read.aside, faults) == ({"hours_per_day": "8"}, [(4, "who")], [])


anything = st.text(st.characters(exclude_categories=("C", "Z"), include_characters=" '=+-@"), max_size=12)


@given(st.lists(st.one_of(anything, anything.map("=".__add__), anything.map("'".__add__)), min_size=1, max_size=5))
def test_any_text_goes_round_through_csv_and_none_starts_a_formula(texts: list[str]) -> None:
    texts = [text.strip() for text in texts]
    written = write_csv([["heading"], *([text, "x"] for text in texts)])
    told = list(csv.reader(io.StringIO(written.decode(), newline="")))[1:]
    assert not any(row[0].startswith(("=", "+", "@")) for row in told)
    assert [expose(row[0]) for row in told] == texts
    if not any('"' in text for text in texts):
        assert [row.cells[0] for row in read_csv(written, "labour").rows[1:]] == texts


@pytest.mark.parametrize("text", ["'", "''", "'abc", "3'-0", "'3", ""])
def test_an_apostrophe_that_protects_nothing_is_left_alone(text: str) -> None:
    assert (protect(text), expose(text)) == (text, text)


NUMBERS = ("0", "0.00", "58.00", "-1.5", "0.000000000001", "123456789012345", "1234567890123.45", "-271.82", "8.3333")
NO_NUMBERS = ("1234567890123456", "0.1234567890123456", "-0.00", "007", "00.5", "1e5", "1,5", "12 %")


@pytest.mark.parametrize("text", NUMBERS)
def test_a_number_stands_in_its_cell_exact_to_its_places(text: str) -> None:
    cells = written([NumberText(text)])
    places = len(text.partition(".")[2])
    assert (cells[0].data_type, Decimal(repr(cells[0].value))) == ("n", Decimal(text))
    assert cells[0].number_format in (f"0.{'0' * places}", "0" if not places else "")
    assert read_sheets(book_of([NumberText(text)]))[0].rows[1].cells == [text]


@pytest.mark.parametrize("text", NO_NUMBERS)
def test_what_no_spreadsheet_holds_exactly_is_text_with_every_digit(text: str) -> None:
    cell = written([NumberText(text)])[0]
    assert (cell.data_type, cell.value) == ("s", text)


TEXTS = ("=1+1", "+1", "-W1", "@x", "'=1", "_x0041_", "a\r\nb", "\x01", "<&>", " two  blanks ", "é½“")


@pytest.mark.parametrize("text", TEXTS)
def test_text_in_a_workbook_is_text_and_comes_back(text: str) -> None:
    assert written([text])[0].data_type == "s"
    read = read_sheets(book_of([text]))[0].rows[1]
    assert "\n".join(read.broken.get(0, (read.cells[0],))) == text.replace("\x01", "_x0001_")


def book_of(row: list[Cell]) -> bytes:
    """A workbook with one row below its heading."""
    return write_workbook({"a": [[f"c{i}" for i in range(len(row))], row]})


def written(row: list[Cell]) -> Any:
    """The cells of a row as a second library reads them."""
    return openpyxl.load_workbook(io.BytesIO(book_of(row)))["a"][2]
