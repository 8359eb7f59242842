"""Small openings worked as penetrations: an outline strictly shorter than the table's limit takes penetration minutes.

Worked by hand: 8 + 2 a foot of treated perimeter, nothing added for shape, depth or sill.
"""

from __future__ import annotations

from fractions import Fraction
from math import pi
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.worked import larger_if_shorter, larger_unless_shorter
from tests.core.added_fields import PENETRATIONS, SMALL, added_production
from tests.core.invented import Document, built, costed, edition, material, opening, production, request, work

LIMITED = edition(production=added_production())


def minutes(line: Document, rates: Document = LIMITED) -> Fraction:
    """Base minutes of one opening, 7 in deep."""
    return work(costed(request(opening(**line), treated_depth="7 in"), rates)).base_minutes


@pytest.mark.parametrize(
    ("line", "by_hand"),
    [
        ({"width": "5 in", "height": "6 in"}, Fraction(35, 3)),  # 22 in around: 8 + 2 × 22/12
        ({"width": "6 in", "height": "5 in", "kind": "door", "sides": ["jambs", "head"]}, Fraction(32, 3)),  # 16 in
        ({"width": "6 in", "height": "5 in", "sill": {"kind": "pan"}}, Fraction(35, 3)),  # no 5 for the pan
        ({"width": "6 in", "height": "6 in"}, Fraction("34.5")),  # 24 in is not shorter: 30 + 3 in past 4 × 1.5
        ({"width": "8 in", "height": "6 in", "sides": ["sill"]}, Fraction("34.5")),  # 28 in, whatever is treated
    ],
)
def test_an_opening_of_a_shorter_outline_takes_penetration_minutes(line: Document, by_hand: Fraction) -> None:
    assert minutes(line) == by_hand


def test_a_round_one_and_a_pipe_take_no_minutes_for_their_shape() -> None:
    """4 in around is 12.57 in: 8 + 2 × 4π/12. A pipe of 12 in keeps its 3 minutes: 8 + 2π + 3."""
    assert float(minutes(SMALL)) == pytest.approx(8 + 2 * 4 * pi / 12, rel=1e-12)
    assert minutes({"kind": "pipe", "diameter": "4 in"}) == minutes(SMALL)
    assert float(minutes({"kind": "pipe", "diameter": "12 in"})) == pytest.approx(8 + 2 * pi + 3, rel=1e-12)


def vents(line: Document, limit: bool) -> Fraction:
    """The price of 60 vents of 4 in through plywood, 6 in deep, under invented rates of their own."""
    table = {k: v for k, v in PENETRATIONS.items() if limit or k != "below_perimeter"}
    rates: dict[str, Any] = {"penetration_minutes": table, "setup_hours": {"mobilisation": "2"}}
    rows = [
        material("liquid", "liquid", wet_film=["20 mil", "20 mil"], packs=[{"size": "1 gal", "price": "42"}]),
        material("mesh", "mesh", width="9 in", packs=[{"size": "150 ft", "price": "58"}]),
        material("consumable", "sundry", per="opening", packs=[{"size": "1 each", "price": "1.75"}]),
    ]
    estimate = costed(request(opening(quantity=60, **line)), edition(materials=rows, production=production(**rates)))
    return Fraction(estimate.up.price_minor, 100)


def test_sixty_vents_of_4_in_cost_the_same_as_duct_and_as_pipe_within_5_percent() -> None:
    """60 × 10.0944 min + 2 h = 12.0944 h at 60.00 = 725.66; one roll of 58 for 60 × 15.82 in = 79 ft; 60 × 1.75 = 105.

    Duct: 4π × 8 + 4π = 113.1 in² each, 47.1 ft² at 40 mil = 1.17 gal, two of 42; pipe: 4π × 4 + 4π = 62.8 in², one.
    """
    duct, pipe = (vents(line, True) for line in (SMALL, {"kind": "pipe", "diameter": "4 in"}))
    assert duct == Fraction("725.66") + 84 + 58 + 105
    assert pipe == Fraction("725.66") + 42 + 58 + 105
    assert abs(duct - pipe) <= min(duct, pipe) / 20
    assert vents(SMALL, False) > 2 * duct  # 30 minutes each without the limit


@settings(max_examples=25, deadline=None)
@given(width=st.integers(2, 60), height=st.integers(2, 60), limit=st.integers(1, 300))
def test_the_limit_moves_nothing_but_shorter_outlines(width: int, height: int, limit: int) -> None:
    line = opening(width=f"{width} in", height=f"{height} in")
    table = {k: v for k, v in PENETRATIONS.items() if k != "below_perimeter"}
    plain, limited = (
        costed(request(line), edition(production=production(penetration_minutes=row)))
        for row in (table, table | {"below_perimeter": f"{limit} in"})
    )
    if 2 * (width + height) >= limit:
        assert built(plain) == built(limited)
    else:
        assert work(limited).base_minutes == 8 + 2 * Fraction(2 * (width + height), 12)


@pytest.mark.parametrize(("outline", "shorter"), [(11, 31), (12, 0), (13, 0)])
def test_minutes_are_by_one_table_or_by_the_other(outline: int, shorter: int) -> None:
    """Below 12 in around those of a penetration, here at least 31, else those of an opening; never both."""
    limits = Fraction(outline), Fraction(12)
    assert larger_if_shorter(*limits, Fraction(31), Fraction(30)) == shorter
    assert larger_unless_shorter(*limits, Fraction(30), Fraction(31)) == 31 - shorter
