"""Round openings: sleeves and cores in the cell of a size, and diameters as people answer them.

Source: common practice in penetration lists, none published; the expected values are what a reader would say.
"""

from __future__ import annotations

from typing import Any

import pytest

from estimating.intake.pipe_sizes import round_length, without_round
from estimating.intake.reading import Intake, Options, read_file

DRAWN = ("kind", "shape", "width", "height", "diameter")


def text_of(size: str, kind: str = "", more: str = "") -> bytes:
    quoted = size.replace('"', '""')
    return f'Mark,Kind,Size,Qty,Remarks\nA,Duct,24 in x 12 in,2,\nB,{kind},"{quoted}",3,{more}\n'.encode()


def second(intake: Intake) -> dict[str, Any]:
    """What the second line draws."""
    return {name: intake.lines[1][name] for name in DRAWN if name in intake.lines[1]}


def asked(intake: Intake) -> list[str]:
    """The questions about the size or the shape that are open."""
    codes = ("size_unreadable", "size_unknown", "shape_words", "line_unreadable", "words_beside_size")
    return [one.code for one in intake.questions if one.code in codes and one.open]


def answer(data: bytes, code: str, said: str) -> Intake:
    question = next(one for one in read_file(data).questions if one.code == code)
    return read_file(data, Options(answers={question.id: said}))


@pytest.mark.parametrize(
    ("cell", "length"),
    [
        ('12" sleeve', '12"'),
        ('3" core drill', '3"'),
        ('4" PVC sleeve', '4"'),
        ("100 mm conduit", "100 mm"),
        ('3" cored hole', '3"'),
    ],
)
def test_a_sleeve_or_a_core_of_one_length_is_a_pipe_of_that_diameter(cell: str, length: str) -> None:
    intake = read_file(text_of(cell))
    assert second(intake) == {"kind": "pipe", "shape": "pipe", "diameter": length}
    assert asked(intake) == []
    assert [one.code for one in intake.questions if one.code == "pipe_size"], "nominal or outside is asked"


def test_the_sleeve_of_a_duct_is_round() -> None:
    assert second(read_file(text_of('12" sleeve', "Duct")))["diameter"] == '12"'


@pytest.mark.parametrize(
    "cell", ['28" x 10" sleeve', '6" sch 40 sleeve', "sleeve", '8" deep sleeve', '4" and 6" sleeve']
)
def test_other_cells_with_a_sleeve_are_no_lone_diameter(cell: str) -> None:
    assert round_length(cell) == ""


def test_a_schedule_keeps_its_nominal_size() -> None:
    """ASME B36.10M: NPS 6 is 6.625 in outside."""
    assert second(read_file(text_of('6" sch 40 sleeve')))["diameter"] == "6.625 in"


@pytest.mark.parametrize(
    "said", ["3 in", '3"', "3 in dia", "Ø3 in", "dia 3 in", "3 in round", "3 in sleeve", "diameter=3 in"]
)
def test_a_length_answered_to_the_size_of_a_pipe_is_its_diameter(said: str) -> None:
    intake = answer(text_of("", "Pipe"), "size_unknown", said)
    assert intake.refused_answers == ()
    found = second(intake)
    assert (found["kind"], found["shape"], found["diameter"].replace('"', " in")) == ("pipe", "pipe", "3 in")


@pytest.mark.parametrize("kind", ["Duct", "Louvre", "Window", ""])
@pytest.mark.parametrize("said", ["4 in dia", "Ø4 in", "4 in round", "diameter 4 in", "diameter=4 in"])
def test_a_diameter_makes_a_line_without_a_shape_round(kind: str, said: str) -> None:
    intake = answer(text_of("none", kind), "size_unreadable", said)
    assert intake.refused_answers == () and asked(intake) == []
    assert second(intake) == {**({"kind": kind.lower()} if kind else {}), "shape": "round", "diameter": "4 in"}


def test_a_length_alone_is_no_size_of_a_window_and_the_question_says_which_forms_are() -> None:
    data = text_of("none", "Window")
    question = next(one for one in read_file(data).questions if one.code == "size_unreadable")
    assert question.open_answer == "a size such as 36 in x 48 in, or a diameter such as 4 in dia"
    intake = read_file(data, Options(answers={question.id: "36 in"}))
    assert intake.refused_answers == ((question.id, f"'36 in' is no size: {question.open_answer} is expected"),)


def test_a_rectangular_sleeve_is_a_rectangle_of_its_width_and_height() -> None:
    intake = read_file(text_of('28" x 10" rect sleeve'))
    assert second(intake) == {"kind": "pipe", "shape": "rectangle", "width": '28"', "height": '10"'}
    assert asked(intake) == []


def test_a_width_and_height_answered_for_a_pipe_are_those_of_a_rectangle() -> None:
    intake = answer(text_of("", "Pipe"), "size_unknown", "28 in x 10 in")
    assert intake.refused_answers == () and asked(intake) == []
    assert second(intake) == {"kind": "pipe", "shape": "rectangle", "width": "28 in", "height": "10 in"}


@pytest.mark.parametrize(
    ("said", "length"), [("3 in OD", "3 in"), ("3 in core drill", "3 in"), ("round 3 in", "3 in"), ("36 in", "36 in")]
)
def test_the_length_in_a_diameter(said: str, length: str) -> None:
    assert without_round(said) == length


def test_a_pipe_of_width_and_height_is_one_question_whose_answers_work() -> None:
    data = text_of("6 in x 6 in", "Pipe")
    question = next(one for one in read_file(data).questions if one.code == "line_unreadable")
    assert asked(read_file(data)) == ["line_unreadable"]
    assert question.open_answer == "fields such as shape=rectangle or diameter=6 in"
    rectangle = read_file(data, Options(answers={question.id: "shape=rectangle"}))
    assert second(rectangle) == {"kind": "pipe", "shape": "rectangle", "width": "6 in", "height": "6 in"}
    round_one = read_file(data, Options(answers={question.id: "diameter=6 in"}))
    assert second(round_one) == {"kind": "pipe", "shape": "pipe", "diameter": "6 in"}
    assert asked(rectangle) == asked(round_one) == []
    refused = read_file(data, Options(answers={question.id: "7 in"}))
    assert refused.refused_answers and asked(refused) == ["line_unreadable"]


@pytest.mark.parametrize("cell", ['12" round', '10" rd. duct'])
def test_round_behind_a_length_is_a_diameter(cell: str) -> None:
    intake = read_file(text_of(cell, "Duct"))
    assert second(intake) == {"kind": "duct", "shape": "round", "diameter": cell[:3]} and asked(intake) == []
