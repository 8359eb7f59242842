"""Columns of walls: the elevation, what the wall is built of, or whether it is exterior, as the cells say.

Source: common practice in schedules, none published; the expected values are what a reader of the sheet would say.
"""

from __future__ import annotations

import pytest

from estimating.intake.asking import BLOCKS_ISSUE
from estimating.intake.reading import Intake, Options, read_file
from estimating.intake.wall_words import is_construction, is_elevation


def text_of(heading: str, *cells: str) -> bytes:
    rows = "".join(f'W{n},Window,2,36 in,60 in,"{cell}"\n' for n, cell in enumerate(cells * 2))
    return f"Mark,Kind,Qty,Width,Height,{heading}\n{rows}".encode()


def column(intake: Intake) -> str:
    """What the last column was taken for."""
    return str(intake.tables[0]["columns"][-1]["field"])


@pytest.mark.parametrize("heading", ["WALL", "Exterior wall", "Face", "Elevation", "Side", "Facade"])
def test_cells_of_a_wall_s_construction_are_its_substrate_and_no_elevation(heading: str) -> None:
    intake = read_file(text_of(heading, "CMU", "stud"))
    assert column(intake) == "substrate"
    assert [line.get("substrate") for line in intake.lines[:2]] == ["cmu", None]
    assert not [line for line in intake.lines if "elevation" in line]
    asked = {one.code: one for one in intake.questions if one.code == "substrate_unknown"}
    assert asked["substrate_unknown"].cells == ("F3", "F5"), "stud is asked about: sheathed with what?"


@pytest.mark.parametrize("cells", [("Ext", "Int"), ("Ext.", "Int. wall"), ("Exterior", "Interior wall")])
def test_exterior_and_interior_under_wall_are_no_elevation(cells: tuple[str, str]) -> None:
    intake = read_file(text_of("Wall", *cells))
    assert column(intake) == "external"
    assert [line["external"] for line in intake.lines] == [True, False, True, False]
    assert next(one for one in intake.questions if one.code == "interior_words").cells == ("F3", "F5")


@pytest.mark.parametrize("cells", [("N", "S"), ("North", "South wall"), ("Front", "Rear")])
def test_known_elevations_under_wall_are_taken(cells: tuple[str, str]) -> None:
    intake = read_file(text_of("Wall", *cells))
    assert [line["elevation"] for line in intake.lines] == [*cells, *cells]
    assert not [one for one in intake.questions if one.code == "columns"]


@pytest.mark.parametrize(
    ("heading", "cells"),
    [
        ("Wall", ("W1", "W2")),
        ("Wall", ("CMU", "North")),
        ("Wall", ("Gate side", "Street")),
        ("Elevation", ("North", "brick")),
    ],
)
def test_cells_that_are_no_known_elevation_are_asked_about(heading: str, cells: tuple[str, str]) -> None:
    data = text_of(heading, *cells)
    intake = read_file(data)
    question = next(one for one in intake.questions if one.code == "columns")
    assert question.severity == BLOCKS_ISSUE and "= elevation" in question.sentence
    answered = read_file(data, Options(answers={question.id: "F=substrate"}))
    assert column(answered) == "substrate" and not [line for line in answered.lines if "elevation" in line]


def test_elevations_under_a_heading_of_substrates_are_elevations() -> None:
    intake = read_file(text_of("Wand", "Nord", "Süd"))
    assert [line["elevation"] for line in intake.lines[:2]] == ["Nord", "Süd"]


@pytest.mark.parametrize(
    "cell", ["CMU", "8 in CMU w/ brick", "metal stud", "2x6 wd.", "Holzrahmen", "béton", "ladrillo"]
)
def test_words_of_construction(cell: str) -> None:
    assert is_construction(cell) and not is_elevation(cell)


@pytest.mark.parametrize("cell", ["North", "Block A", "Street", "W1", "Elev. 3", "East wing"])
def test_places_and_codes_are_no_construction(cell: str) -> None:
    assert not is_construction(cell)


def test_the_code_of_an_interior_wall_is_asked_as_interior() -> None:
    intake = read_file(text_of("Wall type", "EXT-1", "INT-3"))
    assert [one.cells for one in intake.questions if one.code == "interior_words"] == [("F3", "F5")]
