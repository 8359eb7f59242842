"""Counts per unit, for ranges of storeys, for several buildings, and totals in words: none is read in silence.

Source: common practice in schedules, none published; invented content. The expected counts are multiplied by hand.
"""

from __future__ import annotations

import pytest

from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file


def read(text: str, **answers: str) -> Intake:
    """A list as it is read with answers by code; an answer may ask anew."""
    intake = read_file(text.encode())
    given: dict[str, str] = {}
    for _ in range(2):
        given |= {question.id: answers[question.code] for question in intake.questions if question.code in answers}
        intake = read_file(text.encode(), Options(answers=given))
    return intake


def blocking(intake: Intake) -> dict[str, Question]:
    return {q.code: q for q in intake.questions if q.severity == "blocks_costing" and q.open}


def openings(intake: Intake) -> int:
    return sum(int(line["quantity"]) for line in intake.lines)


PER_UNIT = "Mark,Kind,R.O.,Qty per unit,{},{}\nA,Window,36 in x 60 in,2,6,8\nB,Window,48 in x 60 in,1,6,8\n"


@pytest.mark.parametrize(
    ("one", "range"),
    [("LVL 2", "LVLS 3-6 (EACH)"), ("L2", "L3-L6 (EA)"), ("LVL 2", "LVLS 3-6"), ("FLOOR 2", "FLOORS 3 THRU 6")],
)
def test_a_count_per_unit_is_asked_of_a_range_of_storeys_too(one: str, range: str) -> None:
    text = PER_UNIT.format(one, range)
    question = blocking(read(text))["quantity_per"]
    assert len(question.lines) == 10  # two marks on levels 2 to 6
    assert openings(read(text, quantity_per="once", typical_storeys="on_each")) == 2 * (6 + 4 * 8)
    assert openings(read(text, quantity_per="multiplied", typical_storeys="on_each")) == (2 + 1) * (6 + 4 * 8)
    assert openings(read(text, quantity_per="3", typical_storeys="on_each")) == 2 * 3 * (6 + 4 * 8)


def test_a_count_per_floor_is_settled_by_the_storeys_of_its_line_and_one_per_unit_is_not() -> None:
    """By hand: 4 on each of the levels 2 to 5 and 3 on level 6."""
    text = "Mark,Kind,Qty per {},Size,Storey\nA,Window,4,36 in x 60 in,2-5\nB,Window,3,48 in x 60 in,6\n"
    assert blocking(read(text.format("floor"))) == {}
    assert openings(read(text.format("floor"))) == 4 * 4 + 3
    assert list(blocking(read(text.format("unit")))) == ["typical_storeys", "quantity_per"]


def test_a_count_per_floor_beside_numbers_that_may_be_of_floors_is_asked() -> None:
    text = "Mark,Kind,Qty per floor,Size,Floors\nA,Window,4,36 in x 60 in,2\nB,Window,3,48 in x 60 in,6\n"
    assert blocking(read(text))


def test_the_places_of_a_row_add_up_with_each_storey_of_a_range() -> None:
    text = "Mark,Kind,Size,Qty,LVL 2,LVLS 3-6 (EACH)\nA,Window,36 in x 60 in,{},6,8\nB,Window,48 in x 60 in,38,6,8\n"
    assert blocking(read(text.format("38"))) == {}  # 6 + 4 x 8
    said = blocking(read(text.format("20")))["total_against_places"].sentence
    assert "says 20, the places add up to 38 (14 with a count of several storeys once)" in said


def test_a_question_counts_the_lines_that_it_does_not_name() -> None:
    rows = "".join(f"W{n},Window,36 in x 60 in,2,6,8\n" for n in range(1, 9))
    question = blocking(read(f"Mark,Kind,Size,Qty per unit,LVL 2,LVLS 3-6 (EACH)\n{rows}"))["quantity_per"]
    assert len(question.lines) == 8 * 5
    assert "W6 (D7) 'Qty per unit' (2 each) and 10 more lines." in question.sentence  # W7 and W8 on five storeys


AT_PLACES = "Mark,Kind,R.O.,{},{}\nA,Window,36 in x 60 in,6,8\nB,Window,48 in x 60 in,6,8\n"


@pytest.mark.parametrize(
    ("one", "range"),
    [("UNITS L2", "UNITS L3-L6"), ("UNIT L2", "UNIT L3-L6"), ("NO. OF UNITS L2", "NO. OF UNITS L3-L6")],
)
def test_units_on_a_range_of_levels_are_counted_on_each_or_on_all(one: str, range: str) -> None:
    """By hand: two marks of 6 on L2 and 8 on each of four levels are 2 x (6 + 32); with the 8 once, 2 x 14."""
    text = AT_PLACES.format(one, range)
    assert list(blocking(read(text))) == ["typical_storeys"]
    assert openings(read(text, typical_storeys="on_each")) == 76
    assert openings(read(text, typical_storeys="on_all")) == 28


@pytest.mark.parametrize(
    ("one", "several", "code"),
    [
        ("L1", "L2+", "several_places"),
        ("L2", "L3..L6", "several_places"),
        ("GROUND", "UPPER FLOORS", "several_places"),
        ("SECOND FLOOR", "THIRD THRU SIXTH FLOORS", "columns_of_numbers"),
        ("UNIT A1", "UNITS A2-A4", "columns_of_numbers"),
        ("BLDG A", "BLDGS B1-B3", "columns_of_numbers"),
        ("QTY/UNIT L2", "QTY/UNIT L3", "quantity_per"),
    ],
)
def test_a_heading_of_several_places_is_asked_about(one: str, several: str, code: str) -> None:
    assert list(blocking(read(AT_PLACES.format(one, several)))) == [code]


@pytest.mark.parametrize(("one", "other"), [("UNIT A", "UNIT B"), ("L2", "L3-L6 (EA)"), ("BLDG 1", "BLDG 2")])
def test_headings_of_one_place_and_counts_on_each_are_not(one: str, other: str) -> None:
    assert blocking(read(AT_PLACES.format(one, other))) == {}


BESIDE = "Mark,Kind,Qty,Size,{}\nA,Window,4,36 in x 60 in,{}\nB,Window,5,48 in x 60 in,{}\n"


@pytest.mark.parametrize(
    ("heading", "several", "one"),
    [
        ("BUILDINGS", "A, B", "C"),
        ("BLDGS", "Bldg 1-3", "Bldg 4"),
        ("BLDGS. APPLICABLE", "A & B", "C"),
        ("# BLDGS", "A, B", "C"),
        ("WINGS", "East & West", "North"),
        ("UNITS", "A, B", "C"),
        ("Unit types", "A, B", "C"),
        ("STAIRS", "1 & 2", "3"),
        ("AREAS", "A, B", "C"),
        ("ELEVATIONS", "A, B", "C"),
        ("PHASES", "1 & 2", "3"),
        ("TOWERS", "A/B", "C"),
    ],
)
def test_a_column_whose_cells_name_several_places_is_asked_about(heading: str, several: str, one: str) -> None:
    question = blocking(read(BESIDE.format(heading, f'"{several}"', one)))["several_places"]
    assert question.lines == (0,)


def test_places_under_an_unknown_heading_are_asked_about_as_a_remark_is() -> None:
    assert list(blocking(read(BESIDE.format("Used at", '"Bldgs A, B"', "Bldg C")))) == ["count_words"]


@pytest.mark.parametrize("heading", ["STORIES", "FLRS", "LVLS", "STOREYS"])
def test_a_column_of_storeys_under_any_plural_is_read(heading: str) -> None:
    assert "typical_storeys" in blocking(read(BESIDE.format(heading, "2 thru 4", "L1")))


def test_counts_in_buildings_add_up_as_answered() -> None:
    """By hand: 4 in A and in B, 5 in A, B and C, 6 in three buildings; 8 + 15 + 18, or 15 in all."""
    text = BESIDE.format("BUILDINGS", '"A, B"', '"A, B, C"') + "C,Window,6,30 in x 30 in,Bldg 1-3\n"
    assert openings(read(text, several_places="on_each")) == 41
    assert openings(read(text, several_places="on_all")) == 15


@pytest.mark.parametrize(
    ("heading", "cell"),
    [("Glass", "A, B"), ("Finish", "P1, P2"), ("HDW SET", "1, 2"), ("Details", "1, 2"), ("Sheets", "A-101, A-102"),
     ("BLDGS", "A"), ("ELEVATIONS", "A-A")],
)  # fmt: skip
def test_lists_of_other_things_and_one_place_are_not(heading: str, cell: str) -> None:
    assert blocking(read(BESIDE.format(heading, f'"{cell}"', "C"))) == {}


TOTALLED = "Mark,Kind,Qty,Size,Remarks\nA,Window,4,36 in x 60 in,\nB,Window,5,48 in x 60 in,{}\nTOTAL,,{},,{}\n"


@pytest.mark.parametrize("total", ["12 R.O. + 3 alt.", "12 openings", "8 windows and 2 doors", "1,224 openings"])
@pytest.mark.parametrize("inside", [True, False])
def test_a_total_in_words_is_held_against_the_lines(total: str, inside: bool) -> None:
    cells = (f'"{total}"', "") if inside else ("", f'"{total}"')
    assert list(blocking(read(TOTALLED.format("", *cells)))) == ["total_mismatch"]


@pytest.mark.parametrize("total", ["9 R.O.", "7 R.O. + 2 alt.", "4 fixed & 5 casement", "total openings: 9"])
def test_one_that_agrees_is_not_asked_about(total: str) -> None:
    assert blocking(read(TOTALLED.format("", "", f'"{total}"'))) == {}


def test_a_total_with_its_alternates_agrees_once_they_are_answered() -> None:
    text = TOTALLED.format("ADD ALT 1", "", '"4 R.O. + {} alt."')
    given = {"alternate_words": "alternate"}
    assert blocking(read(text.format(5), **given)) == {}
    said = blocking(read(text.format(6), **given))["total_mismatch"].sentence
    assert "says 4 + 6, the lines count 9" in said


def test_a_count_on_several_storeys_together_breaks_no_repetition() -> None:
    rows = "".join(f"A,Window,2,36 in x 60 in,Level {n}\n" for n in range(1, 6))
    text = f"Mark,Kind,Qty,Size,Storey\n{rows}B,Window,6,48 in x 60 in,1-3\n"
    codes = [question.code for question in read(text, typical_storeys="on_all").questions]
    assert "storey_breaks_repetition" not in codes


def test_what_a_line_set_aside_lacks_is_not_asked() -> None:
    text = "Mark,Kind,Qty,Size,Remarks\nA,Window,2,36 in x 60 in,\nB,Window,,,VOID\n"
    assert set(blocking(read(text))) == {"scope_words", "quantity_unknown", "size_unknown"}
    aside = read(text, scope_words="set_aside")
    assert blocking(aside) == {}
    assert [("excluded" in line, line["quantity"]) for line in aside.lines] == [(False, 2), (True, 0)]
    assert set(blocking(read(text, scope_words="as_drawn"))) == {"quantity_unknown", "size_unknown"}


@pytest.mark.parametrize("cell", ["NSEW", "NS", "EW", "NSE"])
def test_letters_of_elevations_without_a_sign_between_them_are_several(cell: str) -> None:
    assert "several_places" in blocking(read(BESIDE.format("Elevation", cell, "N")))


@pytest.mark.parametrize("cells", ["ABCD", "NASB", "ACD", "NNEA"])
def test_elevations_named_by_letters_are_no_status(cells: str) -> None:
    rows = "".join(f"W{n},Window,2,36 in x 60 in,{cell}\n" for n, cell in enumerate(cells))
    intake = read(f"Mark,Kind,Qty,Size,Elevation\n{rows}")
    assert [line["elevation"] for line in intake.lines] == list(cells)
    assert blocking(intake) == {}


def test_a_number_among_buildings_of_letters_is_a_name_or_how_many() -> None:
    """By hand: 4 + 2 + 3 openings, the 3 in one building called 2 or in each of two."""
    rows = "A,Window,4,36 in x 60 in,A\nB,Window,2,48 in x 60 in,B\nC,Window,3,48 in x 48 in,2\n"
    text = f"Mark,Kind,Qty,Size,BLDGS\n{rows}"
    assert {code: question.lines for code, question in blocking(read(text)).items()} == {"several_places": (2,)}
    assert openings(read(text, several_places="on_all")) == 9
    assert openings(read(text, several_places="on_each")) == 12
