"""What a letter says of the scope: sides that are not all, openings that are not in the price, what is taken for all.

Which facts a bidder's letter needs is common practice, no source; the openings and rates are invented.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.outputs.printed.days import date_said
from estimating.outputs.printed.html import write_html
from estimating.outputs.quotes.letter_assumptions import told_assumptions
from estimating.outputs.quotes.letter_document import letter_document
from estimating.outputs.quotes.prepared import Assumed
from estimating.outputs.quotes.ubl import write_ubl
from tests.core.invented import costed, opening, request
from tests.core.test_letter_options import letter_of


def job(*lines: Any) -> Estimate:
    return costed(request(*lines))


def test_a_door_without_its_sill_says_so_on_its_line() -> None:
    letter = letter_of(job(opening("W1"), opening("D1", kind="door", sides=["jambs", "head"])))
    assert [line.sides for line in letter.lines] == ["", "jambs and head"]
    page = write_html(letter_document(letter)).decode()
    assert "door, jambs and head only" in page and "All sides of an opening are treated unless some are named." in page
    assert "door, jambs and head only" in write_ubl(letter).decode()


def test_the_number_of_the_project_is_told_from_its_name() -> None:
    letter = replace(letter_of(job(opening("W1"))), project="Clinic 2", project_number="26-014")
    assert "Clinic 2, number 26-014" in write_html(letter_document(letter)).decode()


def test_all_sides_need_no_words() -> None:
    page = write_html(letter_document(letter_of(job(opening("W1"), opening("W2"))))).decode()
    assert "only" not in page and "unless some are named" not in page


def test_openings_that_are_not_in_the_price_are_named_by_their_marks() -> None:
    lines = [
        opening("W1", quantity=3),
        opening("W2", quantity=2, excluded={"reason": "by others"}),
        opening("W3", quantity=1, excluded={"reason": "by others"}),
        opening("W4", quantity=0, excluded={"reason": "size unknown"}),
        opening("W5", quantity=4, alternate="1"),
    ]
    letter = letter_of(job(*lines))
    told = [(entry.openings, entry.what) for entry in letter.not_priced]
    assert told == [(3, "W2 and W3: by others"), (4, "W5: alternate 1")]
    assert "3 openings, W2 and W3: by others" in write_html(letter_document(letter)).decode()


def test_a_long_list_of_marks_is_cut() -> None:
    lines = [opening("W1"), *(opening(f"X{n}", quantity=1, excluded={"reason": "by others"}) for n in range(20))]
    (entry,) = letter_of(job(*lines)).not_priced
    assert entry.openings == 20 and entry.what.endswith("X11 and 8 more: by others")


def assumed(field: str, value: str, openings: int, sentence: str = "As the estimate says it.") -> Assumed:
    return Assumed("key", field, value, "default", sentence, openings)


def test_what_is_taken_for_all_openings_stands_in_one_sentence() -> None:
    items = [
        assumed("shape", "rectangle", 36),
        assumed("method", "fluid", 36),
        assumed("sides", "all", 28, "28 openings (W1 …) give no treated sides: all sides."),
        assumed("mobilisations", "1", 36),
        assumed("burden", "0 %", 36),
    ]
    assert told_assumptions(items, 36) == (
        "Taken for all openings: fluid-applied; rectangular.",
        "28 openings (W1 …) give no treated sides: all sides.",
        "The crew comes and sets up once.",
    )


@pytest.mark.parametrize(("date", "said"), [("2027-01-09", "January 9, 2027"), ("2026-12-31", "December 31, 2026")])
def test_dates_are_written_out(date: str, said: str) -> None:
    assert date_said(date) == said


def test_a_condition_of_the_price_stays_in_its_sentence() -> None:
    sentence = "3 openings (A) give no wall barrier, nor does the estimate; priced as on a fluid-applied one."
    items = [assumed("wall_barrier", "not told", 3, sentence), assumed("sides", "sill, jambs", 3)]
    assert told_assumptions(items, 3) == ("Taken for all openings: sill and jambs treated.", sentence)
