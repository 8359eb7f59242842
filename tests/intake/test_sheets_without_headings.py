"""Lists and sheets without a row of headings (invented content)."""

from __future__ import annotations

import pytest

from estimating.intake.reading import read_file
from tests.intake.test_sheet_traps import asked, csv
from tests.intake.workbooks import workbook


@pytest.mark.parametrize("place", ["Level 1", "L1", "North"])
def test_a_place_alone_over_a_list_without_headings_is_read(place: str) -> None:
    intake = csv(place, "W1,36 in x 60 in,4", "W2,48 in x 60 in,2")
    assert [(line["mark"], line["quantity"]) for line in intake.lines] == [("W1", 4), ("W2", 2)]


def test_a_raised_digit_in_a_column_of_counts_is_no_number() -> None:
    intake = csv("W1,Window,4,36 in,60 in", "W2,Window,12²20,36 in,60 in", "W3,Window,2,36 in,60 in")
    assert asked(intake, "columns_unknown").open


def test_a_sheet_that_goes_on_without_headings_has_a_heading_for_each_column() -> None:
    rows = [["W1", "Window", 4, '36"', '60"'], ["W2", "Window", 2, '48"', '60"']]
    intake = read_file(workbook({"A": rows, "B": [["Mark"], *rows]}))
    assert any(question.open for question in intake.questions)
