"""Storeys, measures, second columns of counts, methods: what leaves open how many openings a line is, or how sealed.

Source: common practice in schedules, none published; the expected values are what a reader of the sheet would say.
"""

from __future__ import annotations

import pytest

from estimating.intake.reading import read_file
from tests.intake.test_words_beside_lines import HEAD, blocking


@pytest.mark.parametrize("cell", ["B/1", "Mezz/2", "Ground & 1st", "2 3", "Main & lower", "2 & roof"])
def test_two_storeys_in_a_cell_are_asked_about(cell: str) -> None:
    rows = f"W1,Window,4,36 in,60 in,North,1\nW2,Window,2,48 in,60 in,South,{cell}\nW3,Window,6,30 in,48 in,South,3\n"
    assert blocking(read_file(f"{HEAD}\n{rows}".encode())) == {"several_places": ["W2"]}


@pytest.mark.parametrize("cell", ["R+1", "Level 2", "2nd floor", "upper", "B1", "12 A"])
def test_one_storey_is_not(cell: str) -> None:
    rows = f"W1,Window,4,36 in,60 in,North,1\nW2,Window,2,48 in,60 in,South,{cell}\nW3,Window,6,30 in,48 in,South,3\n"
    assert blocking(read_file(f"{HEAD}\n{rows}".encode())) == {}


@pytest.mark.parametrize("heading", ["Qty Rev 2", "Revised Qty", "Old Count", "Qty (old)"])
def test_a_second_column_of_counts_is_asked_about(heading: str) -> None:
    text = f"Mark,Kind,Width,Height,Qty,{heading}\nW1,Window,36 in,60 in,4,6\nW2,Window,36 in,60 in,2,\n"
    assert "columns_of_numbers" in blocking(read_file(text.encode()))


@pytest.mark.parametrize(("heading", "cell"), [("Unit", "LF"), ("U/M", "lot"), ("UOM", "S.F."), ("Units", "LS")])
def test_counts_of_feet_areas_and_lots_are_asked_about(heading: str, cell: str) -> None:
    text = f"Mark,Kind,Width,Height,Qty,{heading}\nW1,Window,36 in,60 in,4,EA\nW2,Window,36 in,60 in,6,{cell}\n"
    assert "W2" in blocking(read_file(text.encode()))["count_words"]


def test_counts_of_pieces_are_not() -> None:
    text = "Mark,Kind,Width,Height,Qty,Unit\nW1,Window,36 in,60 in,4,EA\nW2,Window,36 in,60 in,6,pcs\n"
    assert blocking(read_file(text.encode())) == {}


@pytest.mark.parametrize("remark", ["tape only", "Fluid only", "peel & stick", "liquid flashing", "use tape"])
def test_a_remark_that_names_a_method_alone_is_asked_about(remark: str) -> None:
    rows = f"W1,Window,4,36 in,60 in,North,1,\nW2,Window,2,48 in,60 in,South,2,{remark}\n"
    asked = [one for one in read_file(f"{HEAD},Remarks\n{rows}".encode()).questions if one.code == "method_unknown"]
    assert [(one.choices, one.lines) for one in asked] == [(("fluid", "tape", "as_drawn"), (1,))]


def test_every_word_about_a_line_s_count_stands_in_its_question() -> None:
    """Answered about the pair alone, the one at the roof would be passed over."""
    rows = "W1,Window,4,36 in,60 in,North,1,\nD1,HM dr pr,2,72 in,84 in,South,1,+1 at roof\n"
    asked = [one for one in read_file(f"{HEAD},Remarks\n{rows}".encode()).questions if one.code == "count_words"]
    assert [one.sentence.partition(".")[0] for one in asked] == ["D1 (B3) 'HM dr pr' and '+1 at roof'"]


def test_a_storey_and_an_elevation_of_several_are_two_questions() -> None:
    rows = "W1,Window,4,36 in,60 in,North,1\nW2,Window,4,36 in,60 in,N&S,Mezz/2\n"
    asked = [one for one in read_file(f"{HEAD}\n{rows}".encode()).questions if one.code == "several_places"]
    assert [one.cells for one in asked] == [("G3",), ("F3",)]
