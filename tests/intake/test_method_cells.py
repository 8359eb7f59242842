"""Cells of a column of methods: one method, or a question. Common practice in schedules, none published."""

from __future__ import annotations

import pytest

from estimating.intake.reading import read_file
from estimating.intake.words import method_word


@pytest.mark.parametrize(
    ("cell", "method"),
    [
        ("Liquid", "fluid"),
        ("fluid w/ mesh", "fluid"),
        ("liquid/mesh", "fluid"),
        ("tape or equal", "tape"),
        ("peel & stick", "tape"),
        ("self-adhered membrane", "tape"),
        ("LF/Tape", None),
        ("tape / STPE", None),
        ("fluid or tape", None),
        ("tape or per spec", None),
        ("no tape", None),
    ],
)
def test_a_cell_of_two_things_of_which_one_is_unknown_names_no_method(cell: str, method: str | None) -> None:
    assert method_word(cell)[0] == method


HEAD = "Mark,Kind,Size,Qty,{}\nW1,window,36 in x 48 in,2,{}\nW2,window,36 in x 48 in,2,{}\n"


def read(headings: str, one: str, other: str) -> tuple[list[object], list[str]]:
    """The methods of two lines, and the codes of the questions about methods."""
    found = read_file(HEAD.format(headings, one, other).encode())
    return [line.get("method") for line in found.lines], [q.code for q in found.questions if q.code == "method_unknown"]


@pytest.mark.parametrize(
    ("headings", "one", "other"),
    [
        ("Flashing,Primer", "tape,", "fluid,x"),
        ("Flashing,Tape", "tape,4 in", "fluid,"),
        ("Flashing,System", "tape,", "fluid,"),
        ("WRB,Flashing", "fluid,tape", "sheet,fluid"),
    ],
)
def test_the_column_whose_cells_name_methods_has_them(headings: str, one: str, other: str) -> None:
    assert read(headings, one, other) == (["tape", "fluid"], [])


@pytest.mark.parametrize("headings", ["Flashing,Method", "Remarks,Method"])
def test_another_method_beside_a_line_s_own_is_asked_about(headings: str) -> None:
    assert read(headings, "tape,fluid", "fluid,fluid") == (["fluid", "fluid"], ["method_unknown"])
