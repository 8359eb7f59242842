"""Ten shapes by one formula, A = P(d + f) + f²K: a table by hand, corners and sides, and what is refused.

The table's figures are computed here with math's floats from plane geometry; test_shape_offsets.py has the formula
against a numeric offset of each outline.
"""

from __future__ import annotations

from fractions import Fraction
from math import asin, atan, cos, pi, radians, sin, sqrt, tan
from typing import Any

import pytest

from estimating.core import shapes
from estimating.core.outlines import over_cosine
from rates.core.production import SHAPES
from rates.core.units import LENGTH_NM
from tests.core import outlines
from tests.core.invented import (
    costed,
    inches,
    measure,
    opening,
    read_kind,
    request,
    square_inches,
    treated_area,
    work,
)

INCH = LENGTH_NM["in"]
TABLE = "plane geometry, computed here in floats"


TRAPEZIUM = [[0, 0], [40, 0], [40, 30], [0, 60]]  # its upper corners turn 90° + 36.87° and 90° − 36.87°
ELL = [[0, 0], [60, 0], [60, 30], [30, 30], [30, 80], [0, 80]]
SLOPE = atan(30 / 40)
ARC_60_12 = 2 * 43.5 * asin(60 / 87)
BY_HAND: list[tuple[str, dict[str, Any], float, float]] = [
    ("rectangle, four sides", {"width": "48", "height": "60"}, 216, 4),
    ("door, no sill", {"kind": "door", "width": "40", "height": "86", "sides": ["jambs", "head"]}, 212, 2),
    ("sill only", {"width": "48", "height": "60", "sides": ["sill"]}, 48, 0),
    ("round", {"shape": "round", "diameter": "36"}, 36 * pi, pi),
    (
        "half-round top",
        {"shape": "half_round_top", "width": "36", "springline": "48"},
        36 + 96 + 18 * pi,
        2 + pi / 2,
    ),
    (
        "segmental top",
        {"shape": "segmental_top", "width": "60", "springline": "48", "rise": "12"},
        60 + 96 + ARC_60_12,
        2 + 2 * tan((pi / 2 - asin(60 / 87)) / 2) + asin(60 / 87),
    ),
    ("ellipse", {"shape": "ellipse", "width": "60", "height": "36"}, outlines.ellipse_around(60, 36), pi),
    (
        "polygon",
        {"shape": "polygon", "points": TRAPEZIUM},
        40 + 30 + 50 + 60,
        1 + 1 + tan((pi / 2 - SLOPE) / 2) + tan((pi / 2 + SLOPE) / 2),
    ),
    ("right-angled outline", {"shape": "outline", "points": ELL}, 60 + 30 + 30 + 50 + 30 + 80, 4),
    ("pipe", {"kind": "pipe", "diameter": "4"}, 4 * pi, pi),
]


def test_the_table_by_hand_has_every_shape_that_editions_name() -> None:
    by_hand = {
        line.get("shape", line.get("kind") if line.get("kind") == "pipe" else "rectangle") for _, line, *_ in BY_HAND
    }
    assert by_hand == set(SHAPES) == set(shapes.SHAPE)


@pytest.mark.parametrize(("name", "line", "perimeter", "corner_factor"), BY_HAND, ids=[row[0] for row in BY_HAND])
def test_each_shape_has_its_perimeter_and_corner_factor(
    name: str, line: dict[str, Any], perimeter: float, corner_factor: float
) -> None:
    found = measure(**line)
    assert float(inches(found.perimeter_nm)) == pytest.approx(perimeter, rel=1e-12), TABLE
    assert float(found.corner_factor) == pytest.approx(corner_factor, rel=1e-12, abs=1e-12), TABLE


@pytest.mark.parametrize(("name", "line", "perimeter", "corner_factor"), BY_HAND, ids=[row[0] for row in BY_HAND])
def test_an_estimate_prices_the_area_of_the_formula(
    name: str, line: dict[str, Any], perimeter: float, corner_factor: float
) -> None:
    """The default lap is 2 in; d is 6 in, but 2 in along a pipe."""
    takeoff = work(costed(request(opening(**line), length_unit="in")))
    depth = 2 if name == "pipe" else 6
    expected = perimeter * (depth + 2) + 4 * corner_factor
    assert float(square_inches(takeoff.treated_area)) == pytest.approx(expected, rel=1e-12), TABLE


def test_a_pipe_is_covered_along_itself_and_on_the_face() -> None:
    """Area = πDp + πf(D + f): the sleeve, and a ring of width f around it."""
    line = opening(kind="pipe", diameter="4 in", lap_on_pipe="3 in")
    takeoff = work(costed(request(line)))
    expected = pi * 4 * 3 + pi * 2 * (4 + 2)
    assert float(square_inches(takeoff.treated_area)) == pytest.approx(expected, rel=1e-12)


def test_the_segmental_example_comes_out_as_worked() -> None:
    """Worked example: w 60, s 48, r 12, f 2, d 6 gives R 43.5, P 222.2081 and A 1792.137 in²."""
    line = {"shape": "segmental_top", "width": "60", "springline": "48", "rise": "12"}
    found = measure(**line)
    shape = read_kind(**line).shape
    assert isinstance(shape, shapes.SegmentalTop)
    arc_nm, half_angle = shape.arc()
    assert float(inches(arc_nm)) / float(2 * half_angle) == pytest.approx(43.5, rel=1e-15)
    assert round(float(inches(found.perimeter_nm)), 4) == 222.2081
    assert round(treated_area(found, 6, 2), 3) == 1792.137


def test_a_rise_of_half_the_width_is_a_half_round() -> None:
    segmental = measure(shape="segmental_top", width="36", springline="48", rise="18")
    half_round = measure(shape="half_round_top", width="36", springline="48")
    assert (segmental.perimeter_nm, segmental.corner_factor) == (half_round.perimeter_nm, half_round.corner_factor)


def test_a_rise_just_under_half_the_width_is_nearly_one() -> None:
    """No jump where the corner at the springline fades out."""
    segmental = measure(shape="segmental_top", width="36", springline="48", rise="17.999999")
    half_round = measure(shape="half_round_top", width="36", springline="48")
    assert float(segmental.perimeter_nm / half_round.perimeter_nm) == pytest.approx(1, abs=1e-7)
    assert float(segmental.corner_factor - half_round.corner_factor) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("shape", "size", "rise"), [("half_round_top", {"width": "36"}, 18), ("segmental_top", {"width": "60"}, 12)]
)
def test_an_arch_may_give_its_overall_height_instead_of_its_springline(
    shape: str, size: dict[str, str], rise: int
) -> None:
    own = {"rise": str(rise)} if shape == "segmental_top" else {}
    assert read_kind(shape=shape, height=str(48 + rise), **size, **own) == read_kind(
        shape=shape, springline="48", **size, **own
    )


def test_a_polygon_of_four_right_angles_is_a_rectangle() -> None:
    polygon = measure(shape="polygon", points=[[0, 0], [48, 0], [48, 60], [0, 60]])
    rectangle = measure(width="48", height="60")
    assert (polygon.perimeter_nm, polygon.corner_factor, polygon.corners) == (
        rectangle.perimeter_nm,
        rectangle.corner_factor,
        rectangle.corners,
    )


def test_an_outline_of_four_points_is_a_rectangle() -> None:
    outline = measure(shape="outline", points=[[0, 0], [48, 0], [48, 60], [0, 60]])
    rectangle = measure(width="48", height="60")
    assert (outline.perimeter_nm, outline.corner_factor) == (rectangle.perimeter_nm, rectangle.corner_factor)


def test_a_regular_polygon_of_many_sides_is_nearly_round() -> None:
    n = 60
    points = [[f"{18 * cos(2 * pi * i / n):.6f}", f"{18 * sin(2 * pi * i / n):.6f}"] for i in range(n)]
    polygon, circle = measure(shape="polygon", points=points), measure(shape="round", diameter="36")
    assert float(polygon.perimeter_nm / circle.perimeter_nm) == pytest.approx(1, abs=6e-4)
    assert float(polygon.corner_factor) == pytest.approx(n * tan(pi / n), rel=1e-4)


def test_an_ellipse_of_equal_axes_is_a_circle() -> None:
    ellipse, circle = measure(shape="ellipse", width="36", height="36"), measure(shape="round", diameter="36")
    assert (ellipse.perimeter_nm, ellipse.corner_factor) == (circle.perimeter_nm, circle.corner_factor)


def test_an_ellipse_lies_between_its_chord_and_its_box() -> None:
    """Around an ellipse is more than 4√(a² + b²) and less than the rectangle around it."""
    found = float(inches(measure(shape="ellipse", width="60", height="36").perimeter_nm))
    assert 4 * sqrt(30**2 + 18**2) < found < 2 * (60 + 36)


@pytest.mark.parametrize(
    "points",
    [
        ELL,
        [[0, 0], [0, 20], [20, 20], [20, 60], [40, 60], [40, 20], [60, 20], [60, 0]],
        [[0, 0], [90, 0], [90, 50], [60, 50], [60, 20], [30, 20], [30, 50], [0, 50]],
    ],
    ids=["L", "T", "U"],
)
def test_a_right_angled_outline_turns_once_around(points: list[list[int]]) -> None:
    """Outside corners less inside corners is four, whichever way round the points run and wherever they begin."""
    assert measure(shape="outline", points=points).corner_factor == 4
    assert len(points) == measure(shape="outline", points=points).corners
    turned = [[-x, y] for x, y in points[3:] + points[:3]]
    again = measure(shape="outline", points=turned)
    assert again.perimeter_nm == measure(shape="outline", points=points).perimeter_nm


def test_points_may_run_either_way_round() -> None:
    one, other = (measure(shape="polygon", points=p) for p in (TRAPEZIUM, TRAPEZIUM[::-1]))
    assert (one.perimeter_nm, one.corner_factor) == (other.perimeter_nm, other.corner_factor)


@pytest.mark.parametrize(
    ("sides", "perimeter", "corner_factor", "corners"),
    [
        (["sill", "jambs", "head"], 2 * (48 + 60), 4, 4),
        (["jambs", "head"], 48 + 120, 2, 2),
        (["sill", "jambs"], 48 + 120, 2, 2),
        (["sill", "head"], 96, 0, 0),
        (["jambs"], 120, 0, 0),
        (["sill"], 48, 0, 0),
        (["head"], 48, 0, 0),
    ],
)
def test_only_treated_sides_and_the_corners_between_them_count(
    sides: list[str], perimeter: int, corner_factor: int, corners: int
) -> None:
    found = measure(width="48", height="60", sides=sides)
    assert (inches(found.perimeter_nm), found.corner_factor, found.corners) == (perimeter, corner_factor, corners)


@pytest.mark.parametrize(
    ("sides", "corners"),
    [(["sill", "jambs", "head"], 2), (["jambs", "head"], 0), (["sill", "jambs"], 2), (["sill"], 0)],
)
def test_an_arch_takes_diagonals_at_its_sill_alone(sides: list[str], corners: int) -> None:
    assert measure(shape="half_round_top", width="36", springline="48", sides=sides).corners == corners


def test_a_door_on_a_slab_may_say_so_by_its_sill() -> None:
    by_sill = measure(kind="door", width="40", height="86", sill={"kind": "none"})
    by_sides = measure(kind="door", width="40", height="86", sides=["head", "jambs"])
    assert by_sill == by_sides


@pytest.mark.parametrize(
    ("angle", "factor"), [("15", 1 / cos(radians(15))), ("60", 2.0), ("0.5", 1 / cos(radians(0.5)))]
)
def test_a_sloped_sill_returns_over_its_slope(angle: str, factor: float) -> None:
    assert float(over_cosine(6 * INCH, Fraction(angle)) / INCH) == pytest.approx(6 * factor, rel=1e-10)


def test_a_sloped_sill_adds_its_longer_return_to_the_area() -> None:
    """w·d/cos φ instead of w·d."""
    line = opening(width="36 in", height="60 in", sill={"kind": "sloped", "angle_degrees": "15"})
    takeoff = work(costed(request(line)))
    expected = 192 * 8 + 16 + 36 * (6 / cos(radians(15)) - 6)
    assert float(square_inches(takeoff.treated_area)) == pytest.approx(expected, rel=1e-12)
