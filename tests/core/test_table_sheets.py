"""Tables as sheets and back: exactly the same table, every fault at its cell; text stays text."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from rates.core.card import TABLES
from rates.core.fields import Faults
from rates.core.grid import GridRow, Sheet
from rates.core.normal_form import normal_document, normal_table
from rates.core.problems import Refused
from rates.core.table_sheets import ReadSheet, read_sheet, write_sheet
from rates.documents import digest
from rates.sheets.csv_writing import write_csv
from rates.sheets.edition_files import read_csv, read_sheets
from rates.sheets.workbook_writing import write_workbook
from tests.core.random_chance import Chance
from tests.core.random_editions import random_edition

DATA = Path(__file__).parents[1] / "data"
EDITIONS = sorted(str(path.relative_to(DATA)) for path in DATA.glob("*/**/*edition.json"))


def through_csv(table: str, content: Any) -> Any:
    """The table after a CSV file."""
    faults: Faults = []
    read = read_sheet(table, read_csv(write_csv(write_sheet(table, content)), table), faults)
    assert faults == []
    return read.content


def through_workbook(tables: dict[str, Any]) -> dict[str, Any]:
    """The tables after a workbook of a sheet each."""
    faults: Faults = []
    data = write_workbook({name: write_sheet(name, content) for name, content in tables.items()})
    sheets = {sheet.name: sheet for sheet in read_sheets(data)}
    read = {name: read_sheet(name, sheets[name], faults).content for name in tables}
    assert faults == []
    return read


@pytest.mark.parametrize("path", EDITIONS)
def test_worked_editions_come_back_with_the_same_digest(path: str) -> None:
    document = normal_document(json.loads((DATA / path).read_text()))
    by_csv = {name: through_csv(name, content) for name, content in document["tables"].items()}
    assert digest(document | {"tables": by_csv}) == digest(document)
    assert digest(document | {"tables": through_workbook(document["tables"])}) == digest(document)


@settings(max_examples=25)
@given(st.integers(0, 10**6))
def test_random_editions_come_back_with_the_same_digest(seed: int) -> None:
    head = {"effective_from": "2027-01-01", "currency": "USD"}
    document = normal_document(random_edition(Chance(seed), head))
    by_csv = {name: through_csv(name, content) for name, content in document["tables"].items()}
    assert digest(document | {"tables": by_csv}) == digest(document)
    assert digest(document | {"tables": through_workbook(document["tables"])}) == digest(document)


TITLES = ["=1+1", "+4", "-4", "@x", "'quoted", "''=", "a,b", 'a"b', "  two  spaces inside", "007", "1e5", "(none)"]
TITLES += ["'(none)", "TRUE", "true", "1/2", "é ½ “x”", "x" * 200]


@pytest.mark.parametrize("title", TITLES)
def test_a_title_of_any_look_comes_back_as_it_is(title: str) -> None:
    rows = normal_table("labour", [{"code": title[:60].strip(), "title": title, "wage": "1"}])
    assert through_csv("labour", rows) == rows
    assert through_workbook({"labour": rows})["labour"] == rows


plain = st.text(st.characters(exclude_categories=("C", "Z"), include_characters=" "), min_size=1, max_size=40)


@given(plain.map(str.strip).filter(bool), plain.map(str.strip).filter(bool))
def test_any_text_comes_back_as_it_is(title: str, note: str) -> None:
    rows = [{"code": "a", "title": title, "wage": "1", "note": note}]
    assert through_csv("labour", rows) == rows
    assert through_workbook({"labour": rows})["labour"] == rows


def test_text_of_an_export_is_never_a_formula() -> None:
    rows = write_sheet("labour", [{"code": "a", "title": "=cmd|' /C calc'!A0", "wage": "1"}])
    assert next(csv.reader(io.StringIO(write_csv(rows).decode().splitlines()[1])))[1].startswith("'=")
    with zipfile.ZipFile(io.BytesIO(write_workbook({"labour": rows}))) as package:
        assert b"<f>" not in package.read("xl/worksheets/sheet1.xml")


def test_numbers_typed_into_a_workbook_are_read_as_typed() -> None:
    held = io.BytesIO()
    with xlsxwriter.Workbook(held) as book:
        sheet = book.add_worksheet("labour")
        for c, (name, value) in enumerate(
            {"code": "a", "title": "A", "wage": 38.1, "fringe": 9, "note": 0.000015}.items()
        ):
            sheet.write(0, c, name)
            sheet.write(1, c, value)
    faults: Faults = []
    read = read_sheet("labour", read_sheets(held.getvalue())[0], faults)
    assert read.content == [{"code": "a", "title": "A", "wage": "38.1", "fringe": "9", "note": "0.000015"}]


def as_sheet(rows: list[list[str]]) -> Sheet:
    """Rows as a reader gives them: blank ones left out, the others numbered."""
    return Sheet("", [GridRow(number, row) for number, row in enumerate(rows, 1) if any(row)])


def test_a_blank_entry_of_a_list_closes_up_and_each_value_knows_its_cell() -> None:
    rows = [
        ["code", "title", "role", "packs/1/size", "packs/1/price", "packs/3/size", "packs/3/price"],
        ["", "", "", "", "", "", ""],
        ["m", "M", "mesh", "", "", "150 ft", "58"],
    ]
    faults: Faults = []
    read = read_sheet("materials", as_sheet(rows), faults)
    assert (read.content[0]["packs"], faults) == ([{"size": "150 ft", "price": "58"}], [])
    assert [read.place(p) for p in ("/0/packs/0/price", "/0/packs/0", "/0/width", "/0", "/9")] == [
        (3, 7),
        (3, 6),
        (3, 1),
        (3, 1),
        (1, 1),
    ]


def form_faults(table: str, rows: list[list[str]]) -> list[tuple[str, int | None, int | None, str | None]]:
    """(code, row, column, sheet) of each fault of a sheet's form."""
    faults: Faults = []
    assert isinstance(read_sheet(table, as_sheet(rows), faults), ReadSheet)
    return [(f.code, f.line, f.column, f.sheet) for f in faults]


@pytest.mark.parametrize(
    ("table", "rows", "expected"),
    [
        ("labour", [], [("missing_heading", 1, 1, "labour")]),
        ("labour", [["code", "wages"]], [("unknown_column", 1, 2, "labour")]),
        ("labour", [["code", "burden/0/title"]], [("unknown_column", 1, 2, "labour")]),
        ("labour", [["code", "burden/x"]], [("unknown_column", 1, 2, "labour")]),
        ("labour", [["code", "burden", "burden/1/title"], ["a", "(none)", "x"]], [("given_twice", 2, 3, "labour")]),
        (
            "production",
            [["field", "value"], ["pair", "(none)"], ["pair/factor", "1"]],
            [("given_twice", 3, 2, "production")],
        ),
        ("labour", [["code", "title", "code"]], [("repeated_column", 1, 3, "labour")]),
        (
            "labour",
            [["code", ""], ["a", "x", "y"]],
            [("unnamed_column", 2, 2, "labour"), ("unnamed_column", 2, 3, "labour")],
        ),
        ("production", [["field", "worth"]], [("unknown_column", 1, 1, "production")]),
        ("production", [["field", "value"], ["hours", "8"]], [("unknown_field", 2, 1, "production")]),
        (
            "production",
            [["field", "value"], ["hours_per_day", "8"], ["hours_per_day", "9"]],
            [("given_twice", 3, 1, "production")],
        ),
    ],
)  # fmt: skip
def test_faults_of_a_sheet_s_form_name_their_cell(table: str, rows: Any, expected: Any) -> None:
    assert form_faults(table, rows) == expected


def refused(data: bytes) -> list[str]:
    """The codes of a refused workbook."""
    with pytest.raises(Refused) as why:
        read_sheets(data)
    return [p.code for p in why.value.problems]


def packed(parts: dict[str, bytes]) -> bytes:
    """A zip of these parts."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            package.writestr(name, content)
    return held.getvalue()


def far_cell(reference: str) -> bytes:
    """A workbook whose one cell stands far out."""
    with zipfile.ZipFile(io.BytesIO(write_workbook({"labour": [["code"]]}))) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    sheet = "xl/worksheets/sheet1.xml"
    row = reference.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    parts[sheet] = parts[sheet].replace(b'r="A1"', f'r="{reference}"'.encode()).replace(b'r="1"', f'r="{row}"'.encode())
    return packed(parts)


def test_hostile_workbooks_are_refused_without_being_laid_out() -> None:
    assert refused(b"PK\x03\x04 not really") == ["broken_zip"]
    assert refused(b"code,title") == ["broken_zip"]
    assert refused(packed({"xl/workbook.xml": b"<x/>"})) == ["broken_workbook"]
    assert refused(packed({"xl/x.bin": b"0" * (65 * 2**20)})) == ["zip_bomb"]
    assert [row.number for row in read_sheets(far_cell("A1048576"))[0].rows] == [1048576]
    assert refused(far_cell("XFD1")) == ["too_many_columns"]


@pytest.mark.parametrize(("data", "code"), [(b"code\r\n\xff", "not_utf8"), (b'code\r\n"a', "unclosed_quote")])
def test_what_is_no_csv_is_refused_with_its_line(data: bytes, code: str) -> None:
    with pytest.raises(Refused) as why:
        read_csv(data, "labour")
    assert [(p.code, p.line, p.sheet) for p in why.value.problems] == [(code, 2, "labour")]


def test_the_normal_form_writes_numbers_as_text_and_drops_what_says_nothing() -> None:
    row = {"code": " a ", "title": "A", "wage": 12, "fringe": None, "burden": []}
    assert normal_table("labour", [row]) == [{"code": "a", "title": "A", "wage": "12"}]
    assert normal_table("materials", [{"code": "a", "taxable": "yes"}]) == [{"code": "a", "taxable": True}]
    assert normal_table("production", {"pair": None, "access": {}, "hours_per_day": 8}) == {"hours_per_day": "8"}
    assert normal_table("production", {"pair": None}, layer=True) == {"pair": None}
    assert list(TABLES) == ["labour", "materials", "equipment", "production", "overheads"]


def test_null_of_a_layer_is_written_as_none_in_brackets() -> None:
    rows = [{"code": "a", "cost_code": None, "note": "(none)"}]
    assert write_sheet("labour", rows) == [["code", "cost_code", "note"], ["a", "(none)", "'(none)"]]
    assert through_csv("labour", rows) == rows
