"""The pieces of each shape by both methods; strips and stock are in test_strips.py.

Expected lengths and widths are worked in the tests from the rules for pieces; laps and turns are common practice, no
source, except where one is named. f = 2 in, turns 2 in, d = 6 in unless a test says otherwise.
"""

from __future__ import annotations

from math import asin, cos, pi, radians
from typing import Any

import pytest

from estimating.outputs.takeoff_rows import pieces as piece_rows
from tests.core import outlines
from tests.core.invented import Document, costed, edition, inches, materials, opening, production, request, work

AAMA = "AAMA 2400-10, 5.7.3.2 note 3: head and sill strips = opening width + 2 × jamb strip width"
IRC = "International Residential Code 2015, R703.2: upper over lower by at least 2 in, joints by at least 6 in"
Row = tuple[str, float, float, int]
ARC_60_12 = 2 * 43.5 * asin(60 / 87)


def cut(line: Document, method: str = "fluid", **geometry: Any) -> list[Row]:
    """(name, length, width, count) of each piece in inches, from stock wide enough for one strip."""
    wide = [m | {"width": "20 in"} if m["role"] in ("mesh", "tape") else m for m in materials()]
    given = edition(materials=wide, production=production(geometry=geometry))
    choice = work(costed(request(line, method=method, length_unit="in"), given)).choice
    assert choice is not None and choice.extra_strips == 0
    return [row(p.name, float(inches(p.length_nm)), float(inches(p.width_nm)), p.count) for p in choice.pieces]


def row(name: str, length: float, width: float, count: int) -> Row:
    """A piece to six places of an inch."""
    return name, round(length, 6), round(width, 6), count


TRAPEZIUM = [[0, 0], [40, 0], [40, 30], [0, 60]]
ELL = [[0, 0], [60, 0], [60, 30], [30, 30], [30, 80], [0, 80]]
HALF_ROUND = {"shape": "half_round_top", "width": "36", "springline": "48"}
SEGMENTAL = {"shape": "segmental_top", "width": "60", "springline": "48", "rise": "12"}
DOOR = {"kind": "door", "width": "40", "height": "86", "sides": ["jambs", "head"]}
WINDOW = {"width": "48", "height": "60"}


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (WINDOW, [row("sill", 48, 8, 1), row("jamb", 60 + 4, 8, 2), row("head", 48, 8, 1), row("diagonal", 4, 8, 4)]),
        (DOOR, [row("jamb", 86 + 2, 8, 2), row("head", 40, 8, 1), row("diagonal", 4, 8, 2)]),
        (WINDOW | {"sides": ["sill"]}, [row("sill", 48, 8, 1)]),
        (
            WINDOW | {"sides": ["sill", "jambs"]},
            [row("sill", 48, 8, 1), row("jamb", 64, 8, 2), row("diagonal", 4, 8, 2)],
        ),
        (
            HALF_ROUND,
            [
                row("sill", 36, 8, 1),
                row("jamb", 52, 8, 2),
                row("arch head", 18 * pi * 1.1, 8, 1),
                row("diagonal", 4, 8, 2),
            ],
        ),
        (
            HALF_ROUND | {"kind": "door", "sides": ["jambs", "head"]},
            [row("jamb", 50, 8, 2), row("arch head", 18 * pi * 1.1, 8, 1)],
        ),
        (
            SEGMENTAL,
            [
                row("sill", 60, 8, 1),
                row("jamb", 52, 8, 2),
                row("arch head", ARC_60_12 * 1.1, 8, 1),
                row("diagonal", 4, 8, 2),
            ],
        ),
        ({"shape": "round", "diameter": "36"}, [row("collar", 36 * pi * 1.1 + 2, 8, 1)]),
        (
            {"shape": "ellipse", "width": "60", "height": "36"},
            [row("collar", outlines.ellipse_around(60, 36) * 1.1 + 2, 8, 1)],
        ),
        ({"kind": "pipe", "diameter": "4"}, [row("collar", 4 * pi * 1.1 + 2, 2 + 2, 1)]),
        ({"kind": "pipe", "diameter": "4", "lap_on_pipe": "3"}, [row("collar", 4 * pi * 1.1 + 2, 3 + 2, 1)]),
        (
            {"shape": "polygon", "points": TRAPEZIUM},
            [*(row("side", side + 2, 8, 1) for side in (40, 30, 50, 60)), row("diagonal", 4, 8, 4)],
        ),
        (
            {"shape": "outline", "points": ELL},
            [*(row("side", side + 2, 8, 1) for side in (60, 30, 30, 50, 30, 80)), row("diagonal", 4, 8, 6)],
        ),
        (
            WINDOW | {"sill": {"kind": "sloped", "angle_degrees": "15"}},
            [
                row("sill", 48, 6 / cos(radians(15)) + 2, 1),
                row("jamb", 64, 8, 2),
                row("head", 48, 8, 1),
                row("diagonal", 4, 8, 4),
            ],
        ),
    ],
)
def test_fluid_takes_these_pieces_of_mesh(line: Document, expected: list[Row]) -> None:
    assert cut(opening(**line)) == expected


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (
            WINDOW,
            [row("sill", 48 + 12, 8, 1), row("jamb", 64, 8, 2), row("head", 48 + 4, 8, 1), row("corner", 6, 20, 4)],
        ),
        (DOOR, [row("jamb", 88, 8, 2), row("head", 44, 8, 1), row("corner", 6, 20, 2)]),
        (WINDOW | {"sides": ["sill"]}, [row("sill", 60, 8, 1)]),
        (
            HALF_ROUND,
            [
                row("sill", 48, 8, 1),
                row("jamb", 52, 8, 2),
                row("arch head", 18 * pi * 1.1, 8, 1),
                row("corner", 6, 20, 2),
            ],
        ),
        ({"shape": "round", "diameter": "36"}, [row("collar", 36 * pi * 1.1 + 2, 8, 1)]),
        ({"kind": "pipe", "diameter": "4"}, [row("collar", 4 * pi * 1.1 + 2, 4, 1)]),
        (
            {"shape": "polygon", "points": TRAPEZIUM},
            [*(row("side", side + 2, 8, 1) for side in (40, 30, 50, 60)), row("corner", 6, 20, 4)],
        ),
        (
            {"shape": "outline", "points": ELL},
            [*(row("side", side + 2, 8, 1) for side in (60, 30, 30, 50, 30, 80)), row("corner", 6, 20, 6)],
        ),
    ],
)
def test_tape_takes_these_pieces(line: Document, expected: list[Row]) -> None:
    assert cut(opening(**line), "tape") == expected


def test_every_lap_turn_and_factor_of_the_table_is_used() -> None:
    geometry = {
        "face_lap": "3 in",
        "turn_sill": "1 in",
        "turn_head": "5 in",
        "sill_turn_up": "4 in",
        "diagonal": {"width": "5 in", "length": "30 in"},
        "arch_factor": "1.2",
        "collar_factor": "1.3",
        "collar_lap": "7 in",
        "tape_sill_turn_up": "8 in",
        "tape_corner_length": "9 in",
        "lap_on_pipe": "2.5 in",
    }
    assert cut(opening(**WINDOW), **geometry) == [
        row("sill", 48 + 8, 9, 1),
        row("jamb", 60 + 6, 9, 2),
        row("head", 48, 9, 1),
        row("diagonal", 30, 5, 4),  # too long to lie across the roll
    ]
    assert cut(opening(**WINDOW), "tape", **geometry) == [
        row("sill", 48 + 16, 9, 1),
        row("jamb", 66, 9, 2),
        row("head", 48 + 6, 9, 1),
        row("corner", 9, 20, 4),
    ]
    assert cut(opening(**HALF_ROUND), **geometry)[2] == row("arch head", 18 * pi * 1.2, 9, 1)
    assert cut(opening(kind="pipe", diameter="4"), **geometry) == [row("collar", 4 * pi * 1.3 + 7, 2.5 + 3, 1)]


@pytest.mark.parametrize(("width", "strip", "length"), [("36", "9", 54), ("72", "9", 90), ("36", "6", 48)])
def test_head_and_sill_strips_reach_past_the_jamb_strips(width: str, strip: str, length: int) -> None:
    """The whole strip lies on the face there, so d = 0, f = the strip's width and the sill runs up by the same."""
    lap = f"{strip} in"
    line = opening(width=width, height="60", treated_depth="0")
    found = cut(line, "tape", face_lap=lap, tape_sill_turn_up=lap)
    lengths = {name: (length, wide) for name, length, wide, _ in found}
    assert (lengths["sill"], lengths["head"]) == ((length, float(strip)), (length, float(strip))), AAMA


def test_the_default_laps_meet_the_code() -> None:
    """Upper pieces lap the lower ones by the turns: never under 2 in; a tape sill turns up 6 in."""
    by_name = {name: length for name, length, _, _ in cut(opening(**WINDOW), "tape")}
    assert by_name["jamb"] - 60 >= 2 * 2, IRC
    assert by_name["sill"] - 48 >= 2 * 6, IRC


def test_equal_pieces_of_several_marks_are_one_row_that_says_whose_they_are() -> None:
    """Two windows 48 in wide share sills, heads and diagonals; their jambs differ."""
    lines = (opening("A", 2, width="48 in", height="60 in"), opening("B", 3, width="48 in", height="36 in"))
    found = piece_rows(costed(request(*lines)))
    rows = [(x["piece"], x["length"], x["count"], x["marks"]) for x in found["items"]]  # type: ignore[attr-defined]
    assert rows == [
        ("jamb", "64", 4, {"A": 4}),
        ("head", "48", 5, {"A": 2, "B": 3}),
        ("sill", "48", 5, {"A": 2, "B": 3}),
        ("jamb", "40", 6, {"B": 6}),
        ("diagonal", "4", 20, {"A": 8, "B": 12}),
    ]
    assert found["count"] == 4 + 5 + 5 + 6 + 20
