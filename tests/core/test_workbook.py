"""The workbook of an estimate, computed anew by LibreOffice: the service's own figures to the cent; text stays text.

WORKBOOKS=50 (by default 3) random estimates beside the worked example.
"""

from __future__ import annotations

import io
import os
import re
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from estimating.core.estimate import Estimate
from estimating.core.figures.rules import RULES
from estimating.core.learning import LEARNING
from estimating.outputs.workbook.formulas import FORMULAS
from estimating.outputs.workbook.rounding import rounded
from estimating.outputs.workbook.workbook import workbook
from rates.core.fraction import Fraction
from rates.sheets.workbook_writing import write_workbook
from tests.core.invented import costed, edition, opening, request, worker
from tests.core.random_estimates import random_estimate
from tests.recalculated import computed_cells, needs_libreoffice, recalculated
from tests.worked_cases import read_case

RANDOM = int(os.environ.get("WORKBOOKS", "3"))


def book_of(estimate: Estimate) -> bytes:
    """The workbook's bytes."""
    return write_workbook(workbook(estimate, {"Project": "Invented hall"}, ["Mind the open openings."]))


def golden(wage: str = "32.00") -> Estimate:
    """The worked example, at another wage."""
    document = read_case("golden", "edition.json")
    assert document["tables"]["labour"][0]["wage"] == "32.00"
    document["tables"]["labour"][0]["wage"] = wage
    return costed(read_case("golden", "request.json"), document)


def column(sheet: Any, heading: str) -> list[Any]:
    """The cells of a column below its heading, those that hold something."""
    at = [cell.value for cell in sheet[1]].index(heading) + 1
    return [sheet.cell(row, at).value for row in range(2, sheet.max_row + 1) if sheet.cell(row, at).value is not None]


def minor(values: list[Any], places: int) -> list[int]:
    """Amounts as whole minor units; a cell that is not one to a millionth of a unit fails."""
    found = [value * 10**places for value in values]
    assert all(abs(value - round(value)) < 1e-4 for value in found), found
    return [round(value) for value in found]


def agrees(estimate: Estimate, data: bytes, computed: Any) -> None:
    """Every amount that LibreOffice came to is the estimate's own, and so is every other figure."""
    places, up = len(str(estimate.till.units)) - 1, estimate.up
    amounts = [line.amount_minor for line in up.lines]
    sums = [up.direct_minor, up.cost_minor, up.price_minor]
    assert minor(column(computed["Build-up"], "Amount"), places) == amounts + sums
    prices = [mark.price_minor for mark in estimate.allocation.marks]
    assert minor(column(computed["Marks"], "Price"), places) == prices
    assert minor(column(computed["Lines"], "Price"), places) == list(estimate.allocation.line_prices)
    assert sum(minor(column(computed["Cost codes"], "Amount"), places)) == up.price_minor
    for name, lines in (
        ("Materials", [x for part in estimate.parts for x in part.materials]),
        ("Equipment", [x for part in estimate.parts for x in part.equipment]),
    ):
        assert minor(column(computed[name], "Amount"), places) == [line.amount_minor for line in lines]
    written = openpyxl.load_workbook(io.BytesIO(data), data_only=True)
    for sheet, place, formula in computed_cells(data):
        expected, found = written[sheet][place].value, computed[sheet][place].value
        assert isinstance(found, int | float), (sheet, place, formula, found)
        assert abs(expected - found) <= 1e-6 * max(1, abs(expected)), (sheet, place, formula, expected, found)


def agree_all(folder: Path, estimates: dict[str, Estimate]) -> None:
    """Estimates agree with their workbooks, all computed by one start of LibreOffice."""
    books = {name: book_of(estimate) for name, estimate in estimates.items()}
    computed = recalculated(folder, books)
    for name, estimate in estimates.items():
        agrees(estimate, books[name], computed[name])


@needs_libreoffice
def test_sums_computed_anew_are_the_estimates_to_the_cent_and_follow_a_changed_wage(tmp_path: Path) -> None:
    # the packs and days of the worked example do not depend on the wage, so the sheet can follow it to the price
    estimates = {str(seed): random_estimate(seed) for seed in range(RANDOM)} | {"golden": golden()}
    books = {name: book_of(estimate) for name, estimate in estimates.items()}
    books["dearer"] = with_rate(books["golden"], "wage", "35.50")
    computed, dearer = recalculated(tmp_path, books), golden("35.50")
    for name, estimate in estimates.items():
        agrees(estimate, books[name], computed[name])
    assert minor(column(computed["golden"]["Build-up"], "Amount"), 2)[-1] == 165500 != dearer.up.price_minor
    agrees(dearer, book_of(dearer), computed["dearer"])


@needs_libreoffice
@pytest.mark.campaign
def test_fifty_estimates_computed_anew_agree_to_the_cent(tmp_path: Path) -> None:
    agree_all(tmp_path, {str(seed): random_estimate(seed) for seed in range(100, 150)})


def with_rate(data: bytes, what: str, value: str) -> bytes:
    """The workbook with another number in the row of a rate, as a person types it."""
    book = openpyxl.load_workbook(io.BytesIO(data))
    rows = [row for row in book["Rates"].iter_rows(min_row=2) if row[3].value == what]
    assert len(rows) == 1
    rows[0][4].value = float(value)
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


def test_every_amount_is_a_formula_and_no_text_is_one() -> None:
    line = opening("=1+1", 3) | {"elevation": "+North", "storey": "@2"}
    estimate = costed(request(line, title="-1"), edition(labour=[worker(title='=HYPERLINK("x")')]))
    data = book_of(estimate)
    formulas = {(sheet, place) for sheet, place, _ in computed_cells(data)}
    book = openpyxl.load_workbook(io.BytesIO(data))
    for name, heading in (
        ("Build-up", "Amount"),
        ("Materials", "Amount"),
        ("Marks", "Price"),
        ("Cost codes", "Amount"),
    ):
        sheet = book[name]
        at = [cell.value for cell in sheet[1]].index(heading) + 1
        cells = [sheet.cell(row, at) for row in range(2, sheet.max_row + 1)]
        assert all((name, cell.coordinate) in formulas for cell in cells if cell.value is not None), name
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        text = "".join(package.read(name).decode() for name in package.namelist())
    assert "=1+1" in text and "@2" in text and "+North" in text
    assert not re.search(r"<f>[^<]*(HYPERLINK|1\+1)", text)


def test_a_rate_stands_once_and_names_its_row() -> None:
    book = openpyxl.load_workbook(io.BytesIO(book_of(golden())))
    rows = [tuple(cell.value for cell in row) for row in book["Rates"].iter_rows(min_row=2)]
    assert len(set(rows)) == len(rows)
    wage = next(row for row in rows if row[3] == "wage")
    assert (
        wage[0] == "labour" and wage[2] == "wage" and wage[4] == 32 and wage[5] == "USD/hour" and wage[6] == "company"
    )


@pytest.mark.parametrize(
    ("value", "way", "expected"),
    [  # half away from zero and half to even, as the college sheets of test_money have them
        ("0.125", "half_up", "ROUND(ROUND(x,9),2)"),
        ("0.12499999999", "half_up", "ROUND(x,2)"),
    ],
)
def test_a_value_close_to_a_half_is_not_moved_over_it(value: str, way: str, expected: str) -> None:
    assert rounded("x", Fraction(value), 2, way) == expected


def test_every_formula_is_of_a_rule_that_there_is() -> None:
    assert set(FORMULAS) <= set(RULES)


def test_what_stands_as_a_number_is_searched_for_measured_or_learnt() -> None:
    found: set[str] = set()
    for seed in range(5):
        book = openpyxl.load_workbook(io.BytesIO(book_of(random_estimate(seed))))
        for name in ("Hours and labour", "Workings"):
            found |= {row[3].value for row in book[name].iter_rows(min_row=2) if row[1].data_type != "f"}
    assert {words for words in found if not words.startswith(("0: ", "1: "))} <= NUMBERS, found


NUMBERS = {rule.words for rule in LEARNING.values()} | {
    "distinct names, blank ones left out",
    "Σ over elevations of (distinct storeys − 1)",
    "interval − (openings − 1) × first coat, at least 0",
}
