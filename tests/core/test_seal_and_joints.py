"""Perimeter seal (bead, rod, weep gaps, minutes) and sheathing joints (length by layout, strips, liquid, minutes).

Published lengths of bead for a gallon or a cartridge are in test_published_values.py. A rod of 1.25 times the joint and
a bead half as deep as wide, at least 1/4 in, are common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from math import pi
from typing import Any

import pytest

from estimating.core.joints import JointWork
from rates.core.units import VOLUME_NM3
from tests.core.invented import (
    Document,
    bought,
    costed,
    edition,
    feet,
    gallons,
    inches,
    mark_prices,
    material,
    materials,
    opening,
    packs,
    production,
    refusals,
    request,
    rod,
    seal_materials,
    square_feet,
    work,
)

PER_FOOT = {"minutes_per_foot": "0.5"}


def sealed(*lines: Document, seal: Document | None = None, **production_fields: Any) -> Any:
    """The estimate of lines with a perimeter seal."""
    given = edition(materials=seal_materials(), production=production(perimeter_seal=PER_FOOT, **production_fields))
    return costed(request(*lines, perimeter_seal=seal or {"width": "1/2 in", "depth": "1/4 in"}), given)


def test_bead_and_rod_run_around_the_treated_perimeter() -> None:
    """16 ft: 192 in × 1/2 × 1/4 = 24 in³ of sealant, 16 ft of rod."""
    estimate = sealed(opening(quantity=3))
    assert bought(estimate, "sealant").net == 3 * 24 * VOLUME_NM3["in3"]
    assert feet(bought(estimate, "rod 5/8 in").net) == 3 * 16
    assert packs(bought(estimate, "sealant")) == {"10.1 fl oz": 4}  # 72 in³ = 39.9 fl oz


@pytest.mark.parametrize(
    ("width", "depth"),
    [("1/4 in", "1/4"), ("3/8 in", "1/4"), ("1/2 in", "1/4"), ("5/8 in", "5/16"), ("1 in", "1/2")],
)
def test_an_absent_depth_is_half_the_width_and_at_least_a_quarter_inch(width: str, depth: str) -> None:
    given = edition(materials=[*seal_materials(), rod("1 1/4 in")])
    estimate = costed(request(opening(), perimeter_seal={"width": width}), given)
    area = Fraction(width.removesuffix(" in")) * Fraction(depth)
    assert bought(estimate, "sealant").net == 192 * area * VOLUME_NM3["in3"]


@pytest.mark.parametrize(
    ("line", "around", "gaps"),
    [
        ({"width": "48 in", "height": "48 in"}, 192, 2),
        ({"width": "48 in", "height": "48 in", "sides": ["sill"]}, 48, 2),
        ({"kind": "door", "width": "40 in", "height": "86 in", "sides": ["jambs", "head"]}, 212, 0),
        ({"shape": "half_round_top", "width": "36 in", "springline": "48 in"}, 36 + 96 + 18 * pi, 2),
        ({"shape": "round", "diameter": "36 in"}, 36 * pi, 0),
    ],
)
def test_weep_gaps_are_left_only_where_a_sill_is_treated(line: Document, around: float, gaps: int) -> None:
    weeps = {"count": 2, "length": "1 in"}
    estimate = sealed(opening(**line), seal={"width": "1/2 in", "weeps": weeps})
    assert float(inches(bought(estimate, "rod 5/8 in").net)) == pytest.approx(around - gaps, rel=1e-12)
    assert float(inches(work(estimate).bead_nm)) == pytest.approx(around - gaps, rel=1e-12)


def test_more_gap_than_sill_leaves_no_negative_bead() -> None:
    weeps = {"count": 50, "length": "1 ft"}
    estimate = sealed(opening(), seal={"width": "1/2 in", "weeps": weeps})
    assert work(estimate).bead_nm == 0
    assert [m.row.role for m in estimate.parts[0].materials] == ["liquid", "mesh"]


def test_seal_minutes_go_by_the_foot_of_bead() -> None:
    """(192 − 6) in of bead at 0.5 a foot: 7.75 on top of 30."""
    seal = {"width": "1/2 in", "weeps": {"count": 3, "length": "2 in"}}
    assert work(sealed(opening(), seal=seal)).base_minutes == Fraction("37.75")


def test_a_line_may_go_without_seal_and_needs_the_request_to_have_one() -> None:
    estimate = sealed(opening("A"), opening("B", seal=False, storey="2"))
    assert [w.bead_nm > 0 for w in estimate.parts[0].works.values()] == [True, False]
    assert refusals(request(opening(seal=True))) == [("/openings/0/seal", "missing")]


@pytest.mark.parametrize(
    ("joint", "chosen"),
    [
        ("1/4 in", "rod 3/8 in"),  # 5/16 at least
        ("3/8 in", "rod 1/2 in"),  # 15/32
        ("2/5 in", "rod 1/2 in"),  # 1/2: a rod of just 1.25 times fits
        ("0.41 in", "rod 5/8 in"),  # 0.5125: half an inch is too small
        ("1/2 in", "rod 5/8 in"),
    ],
)
def test_the_rod_is_the_next_size_from_a_quarter_more_than_the_joint(joint: str, chosen: str) -> None:
    estimate = sealed(opening(), seal={"width": joint})
    assert [m.row.code for m in estimate.parts[0].materials if m.row.role == "backer_rod"] == [chosen]


def test_no_rod_wide_enough_is_refused() -> None:
    given = edition(materials=seal_materials())
    document = request(opening(), perimeter_seal={"width": "9/16 in"})
    assert refusals(document, given) == [("/perimeter_seal/width", "no_rod_fits")]


def test_of_two_rods_of_one_size_the_cheaper_is_taken() -> None:
    cheap = material("backer_rod", "cheap", diameter="5/8 in", packs=[{"size": "100 ft", "price": "19"}])
    given = edition(materials=[*seal_materials(), cheap])
    estimate = costed(request(opening(), perimeter_seal={"width": "1/2 in"}), given)
    assert bought(estimate, "cheap").net > 0


def test_a_seal_needs_sealant_and_rod() -> None:
    document = request(opening(), perimeter_seal={"width": "1/2 in"})
    assert refusals(document) == [("/tables/materials", "missing_role"), ("/tables/materials", "missing_role")]


# --- sheathing joints ------------------------------------------------------------------------------------------------

WALL = {"length": "40 ft", "height": "20 ft", "sheet_long": "8 ft", "sheet_high": "4 ft"}


def joints_of(joints: Document, method: str = "fluid", **rates: Any) -> JointWork:
    """The sheathing joints as worked."""
    table = production(sheathing_joint={"width": "4 in", "minutes_per_foot": "0.25"})
    estimate = costed(request(sheathing_joints=joints, method=method), edition(production=table | rates))
    found = estimate.parts[0].joints
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("joints", "length"),
    [
        # 5 courses leave 4 joints of 40 ft, 5 columns 4 of 20 ft
        ({"walls": [WALL]}, 4 * 40 + 4 * 20),
        ({"walls": [WALL, WALL]}, 480),
        ({"walls": [WALL | {"sheet_long": "4 ft", "sheet_high": "8 ft"}]}, 2 * 40 + 9 * 20),
        # 40 ft 1 in needs a sixth column, 20 ft 1 in a sixth course
        ({"walls": [WALL | {"length": "40 ft 1 in"}]}, 4 * (40 + Fraction(1, 12)) + 5 * 20),
        ({"walls": [WALL | {"height": "20 ft 1 in"}]}, 5 * 40 + 4 * (20 + Fraction(1, 12))),
        ({"walls": [WALL | {"length": "8 ft", "height": "4 ft"}], "corners": "10 ft"}, 10),
        ({"walls": [WALL], "corners": "20 ft", "terminations": "5 ft", "deflection": "40 ft"}, 240 + 65),
    ],
)
def test_joints_are_counted_by_layout(joints: Document, length: Fraction | int) -> None:
    """(ceil(H/b) − 1) L + (ceil(L/a) − 1) H: the worked example of 40 × 20 ft in 8 × 4 sheets is 240 ft."""
    assert feet(joints_of(joints).perimeter) == length


def test_fluid_joints_take_a_strip_of_mesh_and_liquid_on_their_width() -> None:
    """240 ft × 4 in = 80 ft² at 40 mil: 80 × 144 × 0.04 / 231 gal; 240 ft at 0.25 is 60 minutes."""
    found = joints_of({"walls": [WALL]})
    use = found.use
    assert square_feet(found.treated_area) == 80
    assert (feet(use["mesh"]), gallons(use["liquid"])) == (240, 80 * 144 * Fraction(4, 100) / 231)
    assert found.touch_minutes == 60


def test_taped_joints_take_tape_and_primer() -> None:
    """Edge primer: 240 ft × 1 in / 200 ft² a gallon."""
    found = joints_of({"walls": [WALL]}, "tape")
    use = found.use
    assert (feet(use["tape"]), gallons(use["primer"]), "liquid" in use) == (240, Fraction(240, 12 * 200), False)


def test_wide_joints_take_strips() -> None:
    """16 in of 9 in mesh lapped by 2: two strips, one more than the first."""
    wide = {"sheathing_joint": {"width": "16 in", "minutes_per_foot": "0.25"}, "tape": {"extra_strip_minutes": "3"}}
    found = joints_of({"walls": [WALL]}, **wide)
    assert (feet(found.use["mesh"]), found.base_minutes) == (480, 63)


def test_joints_are_a_mark_of_their_own_and_no_opening() -> None:
    table = production(sheathing_joint={"width": "4 in", "minutes_per_foot": "0.25"}, access={"lift": "1.2"})
    joints = {"walls": [WALL], "access": "lift"}
    document = request(opening("A", 2), sheathing_joints=joints, allocate_by="touch_minutes")
    estimate = costed(document, edition(production=table))
    prices = mark_prices(estimate)
    assert estimate.openings == 2
    assert list(prices) == ["A", "joints"]
    assert sum(prices.values()) == estimate.up.price_minor
    # 60 minutes each for the windows; the joints' 60 × 1.2
    assert [m.touch_minutes for m in estimate.allocation.marks] == [60, 72]


def test_a_schedule_may_not_have_a_mark_called_joints_beside_them() -> None:
    table = production(sheathing_joint={"width": "4 in"})
    document = request(opening("Joints"), sheathing_joints={"walls": [WALL]})
    assert refusals(document, edition(production=table)) == [("/sheathing_joints", "mark_taken")]


def test_joints_need_their_row_and_on_gypsum_their_primer() -> None:
    document = request(sheathing_joints={"walls": [WALL]})
    assert refusals(document) == [("/tables/production/sheathing_joint", "missing")]
    table = {"production": production(sheathing_joint={"width": "4 in"})}
    taped = document | {"method": "tape", "substrate": "gypsum_sheathing"}
    bare = [m for m in materials() if m["role"] != "primer"]
    assert refusals(taped, edition(materials=bare, **table)) == [("/tables/materials", "missing_role")]


@pytest.mark.parametrize(("barrier", "role"), [("fluid", "mesh"), ("sheet", "tape"), (None, "mesh")])
def test_by_line_the_joints_take_what_the_barrier_takes(barrier: str | None, role: str) -> None:
    table = production(sheathing_joint={"width": "4 in"})
    document = request(method="by_line", wall_barrier=barrier, sheathing_joints={"walls": [WALL]})
    estimate = costed(document, edition(production=table))
    assert role in [m.row.role for m in estimate.parts[0].materials]


def test_without_seal_no_sealant_is_bought() -> None:
    assert [m.row.role for m in costed(request(opening()), edition(materials=seal_materials())).parts[0].materials] == [
        "liquid",
        "mesh",
    ]
