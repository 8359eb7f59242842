"""Where beside Wall: the one that holds elevations is the elevation, whichever heading is the likelier one."""

from __future__ import annotations

from estimating.intake.reading import read_file

TEXT = b"tag,qty,size,where,wall,notes\n%s"
ROWS = b"A,14,4'-0\" x 5'-0\",S,gyp shtg,\nB,6,3'-0\" x 5'-0\",N,CMU,\nE1,2,6'-0\" x 4'-0\",E,gyp shtg,\n"


def test_where_is_the_elevation_beside_a_column_of_wall_constructions() -> None:
    """Elevations were dropped as rooms, and the E of the east wall was asked about as `existing`."""
    found = read_file(TEXT % ROWS)
    assert [line.get("elevation") for line in found.lines] == ["S", "N", "E"]
    assert [line.get("substrate") for line in found.lines][1] == "cmu"
    assert "scope_words" not in {question.code for question in found.questions}


def test_a_wall_that_names_elevations_keeps_them() -> None:
    found = read_file(TEXT % b"A,14,4'-0\" x 5'-0\",S,North,\nB,6,3'-0\" x 5'-0\",N,South,\n")
    assert [line.get("elevation") for line in found.lines] == ["North", "South"]
