"""Cells of a column of methods: one method, or a question. Common practice in schedules, none published."""

from __future__ import annotations

import pytest

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
