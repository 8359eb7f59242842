"""What a second reading of the intake found: cells that took minutes, and doubts that were lost."""

from __future__ import annotations

import pytest

from estimating.intake.reading import Options, read_file
from tests.intake.test_words_beside_lines import HEAD, blocking

LONG = {
    "remark": ("Remarks", "1 w " * 60 + "ok"),
    "mark": ("Mark", ", ".join(str(n) for n in range(100, 160)) + " (typ)"),
    "storey": ("Level", ", ".join(str(n) for n in range(1, 60)) + " ok"),
}


@pytest.mark.parametrize("name", LONG)
def test_a_long_cell_is_read_in_the_time_of_its_length(name: str) -> None:
    """Each of these doubled its time with every further number: this would not end."""
    heading, cell = LONG[name]
    row = {"Mark": "W1", "Kind": "Window", "Qty": "1", "Size": "36 in x 60 in"} | {heading: cell}
    data = ";".join(row) + "\n" + ";".join(row.values()) + "\n"
    assert read_file(data.encode()).lines


@pytest.mark.parametrize(
    ("heading", "cell"),
    [("Treated depth", "6 in at 2 walls"), ("Treated depth", "6 in max"), ("Springline", "48 in 45 deg")],
)
def test_words_beside_any_length_are_asked(heading: str, cell: str) -> None:
    shape = ",half_round_top" if heading == "Springline" else ","
    data = f"Mark,Kind,Qty,Width,Height,Shape,{heading}\nW1,Window,1,36 in,60 in{shape},{cell}\n"
    assert "words_beside_size" in {question.code for question in read_file(data.encode()).questions}


@pytest.mark.parametrize(("heading", "cell"), [("Level", "2-4"), ("Building", "A & B")])
def test_several_places_above_are_not_the_place_of_a_blank_cell(heading: str, cell: str) -> None:
    data = f"Mark,Kind,Qty,Size,{heading}\nW1,Window,2,36 in x 60 in,{cell}\nW2,Window,3,36 in x 60 in,\n".encode()
    asked = [question for question in read_file(data).questions if question.code == "place_blank"]
    assert asked and all("as_above" not in question.choices for question in asked)
    plain = data.replace(cell.encode(), b"A")
    (one,) = [question for question in read_file(plain).questions if question.code == "place_blank"]
    assert "as_above" in one.choices


@pytest.mark.parametrize(("cell", "method"), [("Peel & stick", "tape"), ("no tape", None), ("Self-adhesive", "tape")])
def test_methods_by_their_words(cell: str, method: str | None) -> None:
    intake = read_file(f"{HEAD},Flashing\nW1,Window,4,36 in,60 in,North,1,{cell}\n".encode())
    assert intake.lines[0].get("method") == method


def test_a_pair_of_lengths_is_no_answer_about_a_depth() -> None:
    data = b"Mark,Kind,Qty,Width,Height,Treated depth\nW1,Window,1,36 in,48 in,6 in to 8 in\n"
    (asked,) = [
        question for question in read_file(data).questions if "6 in to 8 in" in question.sentence and question.open
    ]
    for answer, depth in (("6 in x 8 in", None), ("8 in", "8 in")):
        line = read_file(data, Options(answers={asked.id: answer})).lines[0]
        assert (line["width"], line["height"], line.get("treated_depth")) == ("36 in", "48 in", depth)


def test_nothing_else_is_asked_of_a_plain_line() -> None:
    assert blocking(read_file(f"{HEAD}\nW1,Window,4,36 in,60 in,North,1\n".encode())) == {}
