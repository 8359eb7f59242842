"""The formula A = P(d + f) + f²K against a numeric offset of the outline, and against the strips that are cut.

Each outline is drawn as a fine polyline, moved outward by f with mitred corners, and areas are added up by the shoelace
formula (tests/core/outlines.py); nothing of the core is used on that side.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import cos, hypot, radians, sin, sqrt
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.core import outlines
from tests.core.invented import (
    Measure,
    costed,
    edition,
    inches,
    line_faults,
    materials,
    measure,
    opening,
    production,
    request,
    square_inches,
    treated_area,
    work,
)

LENGTHS = st.integers(min_value=40, max_value=900).map(lambda tenths: Fraction(tenths, 10))
DEPTHS = st.integers(min_value=0, max_value=120).map(lambda tenths: Fraction(tenths, 10))
LAPS = st.integers(min_value=1, max_value=39).map(lambda tenths: Fraction(tenths, 10))
SIDES = st.lists(st.sampled_from(["sill", "jambs", "head"]), min_size=1, max_size=3, unique=True)
STEP = settings(max_examples=40)
TOLERANCE = 2e-6  # of the area: chords are short of their arcs by 5e-7, mitres of their corners by 1e-6


def text(value: Fraction) -> str:
    """Inches as decimal text."""
    return f"{float(value):.6f}"


def check_offset(
    found: Measure, paths: Sequence[outlines.Path], closed: bool, d: Fraction, f: Fraction, tolerance: float = TOLERANCE
) -> None:
    """The formula's area is that of the paths' mitred offset and return."""
    numeric = sum(outlines.offset_area(path, float(d), float(f), closed) for path in paths)
    assert treated_area(found, d, f) == pytest.approx(numeric, rel=tolerance)


@STEP
@given(LENGTHS, LENGTHS, SIDES, DEPTHS, LAPS)
def test_a_rectangles_area_is_that_of_its_offset(
    w: Fraction, h: Fraction, sides: list[str], d: Fraction, f: Fraction
) -> None:
    found = measure(width=text(w), height=text(h), sides=sides)
    head = [(float(w), float(h)), (0.0, float(h))]
    check_offset(found, *outlines.treated_paths(float(w), float(h), head, sides), d, f)


@STEP
@given(LENGTHS, st.sampled_from([0, 10, 480]), st.integers(5, 100), SIDES, DEPTHS, LAPS)
def test_an_archs_area_is_that_of_its_offset(
    w: Fraction, spring_tenths: int, flatness: int, sides: list[str], d: Fraction, f: Fraction
) -> None:
    """Flat and round arches, with and without jambs, with any of their sides treated."""
    spring, rise = Fraction(spring_tenths, 10), w / 2 * Fraction(flatness, 100)
    line = {"shape": "segmental_top", "width": text(w), "springline": text(spring), "rise": text(rise)}
    assume(Fraction(line["rise"]) > 0 and not (spring == 0 and set(sides) == {"jambs"}))
    found = measure(sides=sides, **line)
    head = outlines.head_arc(float(w), float(spring), float(Fraction(line["rise"])))
    check_offset(found, *outlines.treated_paths(float(w), float(spring), head, sides), d, f)


@STEP
@given(LENGTHS, LENGTHS, SIDES, DEPTHS, LAPS)
def test_a_half_rounds_area_is_that_of_its_offset(
    w: Fraction, spring: Fraction, sides: list[str], d: Fraction, f: Fraction
) -> None:
    found = measure(shape="half_round_top", width=text(w), springline=text(spring), sides=sides)
    head = outlines.head_arc(float(w), float(spring), float(w) / 2)
    check_offset(found, *outlines.treated_paths(float(w), float(spring), head, sides), d, f)


@STEP
@given(LENGTHS, DEPTHS, LAPS)
def test_a_circles_area_is_that_of_its_offset(diameter: Fraction, d: Fraction, f: Fraction) -> None:
    found = measure(shape="round", diameter=text(diameter))
    check_offset(found, [outlines.ring(float(diameter), float(diameter))], True, d, f)


@STEP
@given(LENGTHS, LENGTHS, DEPTHS, LAPS)
def test_an_ellipses_area_is_nearly_that_of_its_offset(w: Fraction, h: Fraction, d: Fraction, f: Fraction) -> None:
    """Ramanujan's perimeter is itself an approximation: within 5e-5 up to axes of 1 to 3."""
    assume(Fraction(1, 3) <= w / h <= 3)
    found = measure(shape="ellipse", width=text(w), height=text(h))
    check_offset(found, [outlines.ring(float(w), float(h))], True, d, f, 5e-5)


@STEP
@given(st.lists(st.integers(0, 719), min_size=3, max_size=9, unique=True), LENGTHS, LENGTHS, DEPTHS, LAPS)
def test_a_convex_polygons_area_is_that_of_its_offset(
    half_degrees: list[int], w: Fraction, h: Fraction, d: Fraction, f: Fraction
) -> None:
    """Points on an ellipse in order make a convex polygon; sharp corners are mitred however far they reach."""
    angles = [radians(a / 2) for a in sorted(half_degrees)]
    points = [[f"{float(w) * cos(a):.6f}", f"{float(h) * sin(a):.6f}"] for a in angles]
    assume(line_faults(shape="polygon", points=points) == [])
    path = outlines.counter_clockwise([(float(x), float(y)) for x, y in points])
    check_offset(measure(shape="polygon", points=points), [path], True, d, f)


@STEP
@given(st.lists(st.tuples(st.integers(5, 30), st.integers(5, 30)), min_size=1, max_size=6), st.booleans(), DEPTHS, LAPS)
def test_a_right_angled_outlines_area_is_that_of_its_offset(
    steps: list[tuple[int, int]], clockwise: bool, d: Fraction, f: Fraction
) -> None:
    """A flight of stairs: as many inside corners as steps less one."""
    corners = [(0, 0), (sum(x for x, _ in steps), 0)]
    x, y = corners[-1][0], 0
    for run, rise in steps:
        corners += [(x, y + rise), (x - run, y + rise)]
        x, y = x - run, y + rise
    points = corners[::-1] if clockwise else corners
    found = measure(shape="outline", points=[[p, q] for p, q in points])
    path = outlines.counter_clockwise([(float(p), float(q)) for p, q in corners])
    check_offset(found, [path], True, d, f)
    assert found.corners == 2 * len(steps) + 2


@STEP
@given(LENGTHS, LENGTHS, DEPTHS, LAPS)
def test_strips_of_a_four_sided_rectangle_are_four_lapped_corners_more_than_its_area(
    w: Fraction, h: Fraction, d: Fraction, f: Fraction
) -> None:
    """Strip area − A = 4fd where the jambs turn on to sill and head by the face lap; exact."""
    lap = f"{text(f)} in"
    geometry = {"face_lap": lap, "turn_sill": lap, "turn_head": lap}
    line = opening(width=f"{text(w)} in", height=f"{text(h)} in", treated_depth=f"{text(d)} in")
    stock = {"role": "mesh", "width": "20 in", "packs": [{"size": "150 ft", "price": "60"}]}
    found = work(costed(request(line), wide_edition(stock, geometry)))
    assert found.choice is not None
    strips = sum(
        (inches(p.length_nm) * inches(p.width_nm) * p.count for p in found.choice.pieces if p.name != "diagonal"),
        Fraction(0),
    )
    assert strips - square_inches(found.treated_area) == 4 * f * d


def wide_edition(stock: dict[str, Any], geometry: dict[str, str]) -> dict[str, Any]:
    """An edition whose mesh is wide enough for one strip."""
    from_plain = [m for m in materials() if m["role"] != "mesh"]
    return edition(
        materials=[*from_plain, {"code": "wide", "title": "Wide mesh"} | stock],
        production=production(geometry=geometry),
    )


def test_the_offset_itself_is_right_for_a_square() -> None:
    """The test's own ruler: a 10 in square moved out by 1 in gains 44 in², and 3 in of return add 120."""
    square: outlines.Path = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    assert outlines.offset_area(square, 3, 1, True) == pytest.approx(44 + 120)
    assert outlines.offset_area(square[:2], 3, 1, False) == pytest.approx(10 + 30)
    assert hypot(*outlines.offset(square, 1, True)[0]) == pytest.approx(sqrt(2))
