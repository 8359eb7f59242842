"""Tables that a spreadsheet can add up: columns of money, added by openpyxl, are the document's figures to the cent.

openpyxl is a library of its own; a number that it reads is exact to its places by its shortest decimal (repr).
"""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

import openpyxl
import pytest

from api.rest.list_tables import row_schema, write_table
from api.rest.routes import OPERATIONS
from estimating.core.estimate import Estimate
from estimating.outputs.answer import answer, parts
from estimating.outputs.variant_rows import alternate_rows, method_rows
from tests.cast import Api, Office
from tests.core.random_estimates import random_estimate
from tests.db.making import golden_request

SEEDS = range(700, 720)
BY_NAME = {operation.name: operation for operation in OPERATIONS}
MONEY = ("amount", "price", "change", "labour", "materials", "equipment", "other", "direct_cost", "adds")
LISTS = ("openings", "materials", "equipment", "cost-codes", "methods", "alternates")


def read_sheets(rows: Sequence[Any], name: str) -> dict[str, list[dict[str, Any]]]:
    """The sheets of an exported list as openpyxl reads them, a row by its headings."""
    book = openpyxl.load_workbook(io.BytesIO(write_table(rows, "xlsx", BY_NAME[name])))
    found = {}
    for sheet in book:
        heading, *others = list(sheet.iter_rows(values_only=True))
        found[sheet.title] = [dict(zip(heading, row, strict=True)) for row in others]
    return found


def exact(value: Any) -> Decimal:
    """A number of a cell to its places; text never adds up."""
    assert isinstance(value, int | float) and not isinstance(value, bool), value
    return Decimal(repr(value))


def column_sum(rows: Sequence[Mapping[str, Any]], name: str) -> Decimal:
    """The sum of a column, blank cells left out."""
    return sum((exact(row[name]) for row in rows if row[name] is not None), Decimal(0))


def lists_of(estimate: Estimate) -> dict[str, list[dict[str, Any]]]:
    """Every listed part with money in it, as answers have it."""
    found: dict[str, Any] = {name: rows for name, rows in parts(estimate).items() if name in LISTS}
    return found | {"methods": method_rows(estimate), "alternates": alternate_rows(estimate)}


@pytest.mark.parametrize("seed", SEEDS)
def test_every_money_column_adds_up_to_the_document_s_figure(seed: int) -> None:
    estimate = random_estimate(seed)
    document: Any = answer(estimate)
    sheets = {name: read_sheets(rows, f"estimate-{name}") for name, rows in lists_of(estimate).items()}
    for name, rows in lists_of(estimate).items():
        own = sheets[name][f"estimate-{name}"]
        assert len(own) == len(rows)
        for column in [
            column for column in MONEY if rows and column in rows[0] and not isinstance(rows[0][column], list)
        ]:
            told = sum((Decimal(row[column]) for row in rows if row[column] is not None), Decimal(0))
            assert column_sum(own, column) == told, (seed, name, column)
    codes = sheets["cost-codes"]["estimate-cost-codes"]
    built = {step: Decimal(0) for step in ("labour", "materials", "equipment", "other")}
    for line in document["build_up"]:
        built[line["step"] if line["step"] in built else "other"] += Decimal(line["amount"])
    assert {step: column_sum(codes, step) for step in built} == built
    assert column_sum(codes, "amount") == Decimal(document["totals"]["price"])
    assert column_sum(sheets["materials"]["estimate-materials"], "amount") == built["materials"]
    assert column_sum(sheets["equipment"]["estimate-equipment"], "amount") == built["equipment"]
    openings = sheets["openings"]["estimate-openings"]
    marks = {row["mark"] for row in openings}
    priced = sum((Decimal(row["price"]) for row in document["by_mark"] if row["mark"] in marks), Decimal(0))
    assert column_sum(openings, "price") == priced
    assert sum(row["quantity"] for row in openings if row["not_priced"] is None) == document["totals"]["openings"]


@pytest.mark.parametrize("seed", SEEDS[:5])
def test_nested_values_stand_in_sheets_of_their_own_a_row_each(seed: int) -> None:
    rows: Any = lists_of(random_estimate(seed))["materials"]
    sheets = read_sheets(rows, "estimate-materials")
    told = [(row["code"], pack["size"], pack["count"]) for row in rows for pack in row["packs"]]
    assert [(row["code"], row["size"], row["count"]) for row in sheets["packs"]] == told
    main = sheets["estimate-materials"]
    assert [main[row["row"] - 2]["code"] for row in sheets["packs"]] == [row["code"] for row in sheets["packs"]]


@pytest.mark.parametrize("format", ["csv", "xlsx"])
def test_no_cell_of_an_exported_list_holds_json(api: Api, office: Office, format: str) -> None:
    made = api.estimate(golden_request(office)).json()
    for part in (*LISTS, "pieces", "assumptions"):
        data = api.get(f"/v1/estimates/{made['id']}/{part}.{format}").content
        if format == "csv":
            cells = [cell for row in csv.reader(io.StringIO(data.decode(), newline="")) for cell in row]
        else:
            sheets = openpyxl.load_workbook(io.BytesIO(data)).worksheets
            cells = [str(cell.value) for sheet in sheets for row in sheet.iter_rows() for cell in row]
        assert cells and not [cell for cell in cells if cell[:1] in ("{", "[")]


def test_the_price_of_an_exported_estimate_adds_up_and_pieces_are_counted_once(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office)).json()
    path = f"/v1/estimates/{made['id']}"
    codes = openpyxl.load_workbook(io.BytesIO(api.get(f"{path}/cost-codes.xlsx").content)).worksheets[0]
    heading, *rows = list(codes.iter_rows(values_only=True))
    assert sum(exact(row[heading.index("amount")]) for row in rows) == Decimal(made["totals"]["price"])
    pieces = openpyxl.load_workbook(io.BytesIO(api.get(f"{path}/pieces.xlsx").content)).worksheets
    heading, *rows = list(pieces[0].iter_rows(values_only=True))
    assert [sheet.title for sheet in pieces] == ["estimate-pieces", "cautions"] and {
        "mark",
        "length",
        "length_shown",
    } <= set(heading)
    assert sum(row[heading.index("count")] for row in rows) == api.get(f"{path}/pieces").json()["count"]


TABLES = [
    operation
    for operation in OPERATIONS
    if "csv" in operation.formats and not operation.answers[200].startswith("Table")
]


@pytest.mark.parametrize("operation", TABLES, ids=lambda operation: operation.name)
def test_headings_stand_where_no_row_does_and_schemas_are_of_objects(operation: Any) -> None:
    assert row_schema(operation)["properties"]
    heading = next(iter(read_heading(operation)))
    assert all(heading)
    for name, schema in row_schema(operation)["properties"].items():
        if name in MONEY or name.endswith("price"):
            assert str(schema.get("pattern", "")).startswith("^-?[0-9]"), f"{name} would not add up"


def read_heading(operation: Any) -> Any:
    """The first row of an empty list's workbook."""
    book = openpyxl.load_workbook(io.BytesIO(write_table([], "xlsx", operation)))
    return book.worksheets[0].iter_rows(values_only=True)


def test_dates_are_dates_and_times_are_times_in_utc_to_the_second() -> None:
    row = {"work_date": "2027-03-01", "created_at": "2026-11-01T12:00:00.500000Z", "price": "12.50", "number": 3}
    (read,) = read_sheets([row], "project-estimates")["project-estimates"]
    assert read["work_date"] == datetime.datetime(2027, 3, 1)
    assert read["created_at"] == datetime.datetime(2026, 11, 1, 12)
    assert (read["price"], read["number"]) == (12.5, 3)
