"""Counts and places that need a person's answer, each in a small list of our own.

Invented content; how the trade reads such cells is common practice, no source.
"""

from __future__ import annotations

import pytest

from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file

SIZED = (
    "Mark,Kind,Qty,Width,Height,Elevation,Building\nW1,Window,4,36 in,60 in,{},{}\nW2,Window,2,48 in,60 in,North,A\n"
)


def read(text: str, **answers: str) -> Intake:
    """A list as it is read with answers by code."""
    first = read_file(text.encode())
    given = {question.id: answers[question.code] for question in first.questions if question.code in answers}
    return read_file(text.encode(), Options(answers=given))


def blocking(intake: Intake) -> dict[str, Question]:
    return {q.code: q for q in intake.questions if q.severity == "blocks_costing" and q.open}


def counts(intake: Intake) -> list[tuple[str, int]]:
    return [(str(line["mark"]), int(line["quantity"])) for line in intake.lines if "excluded" not in line]


@pytest.mark.parametrize(
    ("elevation", "building", "code"),
    [
        ("N & S", "A", "several_places"),
        ("all", "A", "several_places"),
        ("3 floors", "A", "several_places"),
        ('"N-4, S-2"', "A", "several_places"),
        ("North", '"A, B, C"', "several_places"),
        ("North", "typ of 4", "several_places"),
        ("arched", "A", "shape_words"),
        ("pair", "A", "count_words"),
    ],
)
def test_a_cell_of_places_that_says_more_is_asked_about(elevation: str, building: str, code: str) -> None:
    assert list(blocking(read(SIZED.format(elevation, building)))) == [code]


def test_counts_at_places_that_add_up_to_the_count_are_not_asked_about() -> None:
    assert blocking(read(SIZED.format('"N-3, S-1"', "A"))) == {}


def test_a_count_at_each_of_several_places_becomes_a_line_for_each() -> None:
    intake = read(SIZED.format("N & S", "A"), several_places="on_each")
    assert [(line["elevation"], line["quantity"]) for line in intake.lines] == [
        ("North", 4),
        ("South", 4),
        ("North", 2),
    ]
    assert counts(read(SIZED.format("N & S", "A"), several_places="on_all")) == [("W1", 4), ("W2", 2)]


@pytest.mark.parametrize("rows", ["Unit A (x6),Unit B (x4)\n", "Unit A,Unit B\nNo. of units,,,6,4\n"])
def test_headings_and_rows_that_multiply_counts(rows: str) -> None:
    text = f"Type,Kind,Size,{rows}W1,Window,36 in x 60 in,1,2\n"
    assert counts(read(text, multiplier="multiply")) == [("W1", 6), ("W1", 8)]
    assert counts(read(text, multiplier="as_listed")) == [("W1", 1), ("W1", 2)]


def test_a_range_of_marks_with_one_letter_is_asked_about_and_a_numbering_is_not() -> None:
    text = "Mark,Kind,Qty,Size\nW1-3,Window,2,36 in x 60 in\n{},Window,5,48 in x 60 in\n"
    assert counts(read(text.format("W4"), several_marks="each")) == [("W1", 2), ("W2", 2), ("W3", 2), ("W4", 5)]
    assert blocking(read(text.format("W1-4"))) == {}


def test_the_number_under_words_of_scope_can_be_set_aside_by_itself() -> None:
    text = "Mark,Kind,Qty,Of which infilled,Size\nW1,Window,6,2,36 in x 60 in\nW2,Window,3,3,30 in x 48 in\n"
    assert counts(read(text, scope_count="number_set_aside")) == [("W1", 4)]
    assert counts(read(text, scope_count="as_drawn")) == [("W1", 6), ("W2", 3)]


def test_counts_by_scope_are_lines_of_their_own() -> None:
    text = "Mark,Kind,Qty (existing),Qty (new),Size\nW1,Window,3,4,36 in x 60 in\nW2,Window,,2,48 in x 60 in\n"
    assert counts(read(text)) == [("W1", 3), ("W1", 4), ("W2", 2)]
    assert counts(read(text, scope_words="set_aside")) == [("W1", 4), ("W2", 2)]


def test_parts_of_a_count_are_added_up_to_one_line() -> None:
    text = "Mark,Kind,Size,LH,RH,Fixed\nW1,Window,36 in x 60 in,2,3,\nW2,Window,48 in x 60 in,1,1,2\n"
    assert counts(read(text, columns_of_numbers="added_up")) == [("W1", 5), ("W2", 4)]


def test_a_section_as_another_one_counts_its_lines_again() -> None:
    first = "Mark,Kind,Qty,Size\nAPT 101,,,\nW1,Window,2,36 in x 60 in\n"
    text = f"{first}APT 102 - SAME AS 101,,,\nAPT 103,,,\nW1,Window,3,36 in x 60 in\n"
    assert counts(read(text, section_repeats="count_again")) == [("W1", 2), ("W1", 2), ("W1", 3)]
    assert counts(read(text, section_repeats="as_listed")) == [("W1", 2), ("W1", 3)]


def test_a_row_that_stands_twice_blocks_costing_and_one_that_differs_does_not() -> None:
    text = "Mark,Kind,Qty,Size,Room\nW1,Window,3,36 in x 60 in,1\nW1,Window,3,36 in x 60 in,{}\n"
    assert list(blocking(read(text.format(1)))) == ["duplicate_line"]
    assert blocking(read(text.format(2))) == {}


def test_a_total_over_several_storeys_is_in_all() -> None:
    text = "Mark,Kind,Size,Qty,Level\nW1,Window,36 in x 60 in,6 total,2-4\nW2,Window,48 in x 60 in,2 per floor,2-4\n"
    assert counts(read(text)) == [("W1", 6), ("W2", 2), ("W2", 2), ("W2", 2)]


@pytest.mark.parametrize("headings", ["Wing 1,Zone B", "Zone A,Unit B", "Tower,Wing 2", "North,Interior"])
def test_numbers_under_a_place_beside_counts_are_asked_about(headings: str) -> None:
    text = f"Mark,Kind,Size,{headings}\nW1,Window,36 in x 60 in,1,2\nW2,Window,48 in x 60 in,2,5\n"
    assert list(blocking(read(text))) == ["columns_of_numbers"]


def test_a_size_can_be_answered_as_a_nominal_pipe_size() -> None:
    """2.375 in: ASME B36.10M, as in the table of pipe sizes (from memory there)."""
    intake = read("Mark,Kind,Qty,Diameter\nP1,Pipe,3,?\nP2,Pipe,2,4 in OD\n", size_unknown="NPS 2")
    assert intake.lines[0]["diameter"] == "2.375 in"


@pytest.mark.parametrize("heading", ["No. of units", "Multiplier", "Floors"])
def test_a_column_that_says_how_often_each_count_stands(heading: str) -> None:
    text = f"Mark,Kind,Size,Qty,{heading}\nW1,Window,36 in x 60 in,1,6\nW2,Window,48 in x 60 in,2,4\n"
    assert counts(read(text, columns_of_numbers="multiplies")) == [("W1", 6), ("W2", 8)]
    assert counts(read(text, columns_of_numbers="not_openings")) == [("W1", 1), ("W2", 2)]


def test_several_rooms_with_another_count_than_theirs_are_asked_about() -> None:
    text = 'Mark,Kind,Size,Qty,Room\nW1,Window,36 in x 60 in,{},"101, 102 & 103"\nW2,Window,48 in x 60 in,2,104\n'
    assert blocking(read(text.format(3))) == {}
    assert counts(read(text.format(2), several_places="on_each")) == [("W1", 6), ("W2", 2)]


@pytest.mark.parametrize("storeys", ["G-3", "Bsmt-2", "2+", "EG bis 3.OG"])
def test_a_range_of_storeys_is_asked_about_and_a_whole_number_is_the_count_at_all_of_them(storeys: str) -> None:
    text = f"Mark,Kind,Qty,Size,Level\nW1,Window,10,36 in x 60 in,{storeys}\n"
    asked = blocking(read(text))
    assert list(asked) == ["several_places"]
    assert asked["several_places"].open_answer == "a whole number: the count at all of them together"
    assert counts(read(text, several_places="40")) == [("W1", 40)]


@pytest.mark.parametrize("storeys", ["1ª a 4ª", "1.ª-4.ª", "1er au 4e", "1 à 4", "1 a 4", "1. bis 4."])
def test_a_range_of_numbered_storeys_can_be_counted_on_each(storeys: str) -> None:
    text = f"Mark,Kind,Qty,Size,Level\nW1,Window,10,36 in x 60 in,{storeys}\n"
    assert list(blocking(read(text))) == ["typical_storeys"]
    assert counts(read(text, typical_storeys="on_each")) == [("W1", 10)] * 4


def test_a_whole_number_for_typical_storeys_is_the_count_on_each_as_the_question_says() -> None:
    text = "Mark,Kind,Qty,Size,Level\nW1,Window,10,36 in x 60 in,2-4\n"
    asked = blocking(read(text))["typical_storeys"]
    assert asked.open_answer == "a whole number: the count on each storey"
    assert "A whole number is the count on each storey." in asked.sentence
    assert counts(read(text, typical_storeys="5")) == [("W1", 5)] * 3


def test_a_row_of_multipliers_makes_the_columns_above_it_counts() -> None:
    text = "Mark,Kind,Width,Height,Type A,Type B,Type C\nNo. of bldgs,,,,3,2,1\nW1,Window,36 in,60 in,4,5,6\n"
    assert list(blocking(read(text))) == ["multiplier"]
    assert counts(read(text, multiplier="as_listed")) == [("W1", 4), ("W1", 5), ("W1", 6)]


NUMBERS = "Mark,Kind,Size,{}\nW1,Window,36 in x 60 in,{}\n"


@pytest.mark.parametrize(
    ("headings", "cells", "code"),
    [
        ("Qty,Interior", "8,6", "columns_of_numbers"),
        ("Qty Ext,Qty Int", "2,6", "columns_of_numbers"),
        ("Qty,Houses", "4,3", "columns_of_numbers"),
        ("Qty,Floors", "4,3", "columns_of_numbers"),
        ("New,Existing,Total", "2,6,8", "scope_count"),
    ],
)
def test_numbers_beside_the_count_are_asked_about(headings: str, cells: str, code: str) -> None:
    assert list(blocking(read(NUMBERS.format(headings, cells)))) == [code]


def test_the_number_under_new_counts_and_is_never_set_aside() -> None:
    text = NUMBERS.format("New,Existing,Total", "2,6,8")
    assert blocking(read(text))["scope_count"].choices == ("number_counts", "as_drawn", "set_aside")
    assert counts(read(text, scope_count="number_counts")) == [("W1", 2)]


def test_counts_under_a_second_row_of_places_that_is_no_heading_are_asked_about() -> None:
    text = "Mark,Kind,R.O. W,R.O. H,1F,,2F,,Qty\n,,,,N,S,N,S,\nA1,Window,36 in,60 in,2,6,6,1,20\n"
    assert "columns_of_numbers" in blocking(read(text))


def test_w_beside_h_is_the_width_before_counts_by_place() -> None:
    text = "Mark,Kind,W,H,N,S,E,W\nA1,Window,36 in,60 in,4,3,2,1\n"
    intake = read(text)
    assert blocking(intake) == {}
    assert [(line["width"], line["elevation"], line["quantity"]) for line in intake.lines] == [
        ("36 in", "North", 4),
        ("36 in", "South", 3),
        ("36 in", "East", 2),
        ("36 in", "West", 1),
    ]


def test_marks_under_opening_are_kept_beside_an_operation() -> None:
    text = "Opening,Type,Qty,Size,Operation\nW1,Window,3,36 in x 60 in,Fixed\nW2,Window,2,30 in x 60 in,Awning\n"
    assert counts(read(text)) == [("W1", 3), ("W2", 2)]


@pytest.mark.parametrize(
    ("note", "code", "answer", "line"),
    [
        ("W2: R.O. height is 54 in", "words_beside_size", "height=54 in", ("W2", "54 in", 2)),
        ("Addendum 1: W2 qty now 6.", "count_words", "6", ("W2", "48 in", 6)),
    ],
)
def test_a_note_that_gives_another_size_or_count_of_a_mark_is_asked_about(
    note: str, code: str, answer: str, line: tuple[str, str, int]
) -> None:
    text = f"Mark,Kind,Qty,Width,Height\nW1,Window,4,36 in,60 in\nW2,Window,2,36 in,48 in\n\n{note}\n"
    assert list(blocking(read(text))) == [code]
    last = read(text, **{code: answer}).lines[-1]
    assert (last["mark"], last["height"], last["quantity"]) == line


@pytest.mark.parametrize(
    "headings",
    [
        "1st,2nd,3rd",
        "Ground,First,Second",
        "1F,2F,3F",
        "Front,Left,Right",
        "Lower,Main,Upper",
        "Ground,2,3",
        "B,1,2",
        "G,1,2",
    ],
)
def test_headings_of_one_series_of_places_count_at_each(headings: str) -> None:
    intake = read(NUMBERS.format(headings, "2,3,4"))
    assert blocking(intake) == {}
    places = [line.get("storey") or line.get("elevation") for line in intake.lines]
    assert list(zip(places, (line["quantity"] for line in intake.lines), strict=True)) == list(
        zip(headings.split(","), (2, 3, 4), strict=True)
    )


@pytest.mark.parametrize("headings", ["Left,Right,Spare", "1,2,3", "First,Qty A,Second"])
def test_headings_that_are_of_no_series_of_places_are_asked_about(headings: str) -> None:
    assert blocking(read(NUMBERS.format(headings, "2,3,4")))
