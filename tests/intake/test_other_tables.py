"""Tables of other things beside a schedule, and words about one of its lines (invented content)."""

from __future__ import annotations

import pytest

from estimating.intake.reading import read_file

PLAIN_LINES = "Mark,Kind,Qty,Width,Height\nW1,Window,4,36 in,60 in\nW2,Window,2,48 in,60 in\n"


@pytest.mark.parametrize(
    "text",
    [
        "Désignation;N°;Nb;Largeur (mm);Hauteur (mm)\nPorte;P1;9;1260;2600\nFenêtre;F2;3;900;1200\n",
        PLAIN_LINES + ",,,,\nHardware set,Item,Qty,,\nHW-1,Hinge,3,,\nHW-1,Strike,1,,\n",
        PLAIN_LINES + ",,,,\nGlass,SF,,,\nGL-1,120,,,\nGL-2,60,,,\n",
        PLAIN_LINES.replace("Height\n", "Height,Shim space\n").replace("60 in\n", "60 in,1/2 in\n"),
    ],
)
def test_columns_and_tables_of_other_things_are_no_openings_and_nothing_is_asked(text: str) -> None:
    intake = read_file(text.encode())
    assert [q.code for q in intake.questions if q.severity == "blocks_costing"] == []
    assert len(intake.lines) == 2 and all(isinstance(line["quantity"], int) for line in intake.lines)


def test_a_table_of_hardware_that_names_a_mark_of_the_schedule_is_read() -> None:
    text = PLAIN_LINES + ",,,,\nHardware set,Mark,Qty,,\nHW-1,W1,3,,\n"
    assert [q.code for q in read_file(text.encode()).questions if q.severity == "blocks_costing"]


@pytest.mark.parametrize(
    ("text", "code", "marks"),
    [
        (PLAIN_LINES + "\nNotes:\nW2 is part of Alternate No. 2.\n", "alternate_words", {"W2"}),
        ("W2 by others,,,,\n" + PLAIN_LINES, "scope_words", {"W2"}),
        ("Mark,Kind,Qty,Size,Level\nW1,Window,4,36 in x 60 in,TYP 2-5\n", "typical_storeys", {"W1"}),
    ],
)
def test_words_about_one_line_ask_one_question_about_it(text: str, code: str, marks: set[str]) -> None:
    intake = read_file(text.encode())
    asked = [question for question in intake.questions if question.severity == "blocks_costing"]
    assert [question.code for question in asked] == [code]
    assert {intake.lines[index]["mark"] for index in asked[0].lines} == marks
