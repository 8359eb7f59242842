"""Cells of a column of kinds of sill: a kind, a question, or what says nothing of it. Common practice, no source."""

from __future__ import annotations

import pytest

from estimating.intake.reading import read_file

HEAD = "Mark,Kind,Size,Qty,{}\n"


def asked(heading: str, cell: str) -> list[str]:
    """Codes of the questions about the sill of one line."""
    text = f"{HEAD.format(heading)}W1,window,36 in x 48 in,2,{cell}\n"
    return [one.code for one in read_file(text.encode()).questions if one.code == "sill_unknown"]


@pytest.mark.parametrize("cell", ["back dam", "sl.", "slp", "upturn", "1:12", "sloped", "weird", "bent plate"])
def test_a_sill_that_is_no_known_kind_is_asked_about(cell: str) -> None:
    assert asked("Sill", cell) == asked("Sill type", cell) == ["sill_unknown"]


@pytest.mark.parametrize("cell", ["flat", "pan", "precast", "stone", "5/A501", "see detail", "A", "typ.", "-", ""])
def test_a_known_kind_a_material_or_a_detail_is_not(cell: str) -> None:
    assert asked("Sill", cell) == asked("Sill type", cell) == []
