"""Pans with a back dam, two beads of a perimeter seal, a temperature for each part of a season split: by hand, laws."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.estimate import Estimate
from rates.core.units import VOLUME_NM3
from tests.core.invented import (
    Document,
    bought,
    built,
    costed,
    edition,
    feet,
    inches,
    line_faults,
    materials,
    opening,
    production,
    refusals,
    request,
    seal_materials,
    square_inches,
    work,
)


def panned(back_dam: str | None, **line: Any) -> Estimate:
    """A 48 × 48 in window with a pan; extra strips take a minute, a pan 5."""
    table = production(sill={"pan": "5"}, tape={"extra_strip_minutes": "1"})
    sill = {"kind": "pan"} | ({} if back_dam is None else {"back_dam": back_dam})
    return costed(request(opening(sill=sill, **line)), edition(production=table))


def test_a_back_dam_adds_its_area_and_widens_the_sill_strip() -> None:
    """1552 + 48 × 3 in²; a sill strip of 6 + 2 + 3 = 11 in takes two strips of 9 in mesh, a minute more: 30 + 5 + 1.

    Mesh: sill 2 × 48, jambs 2 × 52, head 48, four diagonals of 4 in.
    """
    plain, dammed = panned(None), panned("3 in")
    assert square_inches(work(plain).treated_area) == 1552
    assert square_inches(work(dammed).treated_area) == 1696
    assert work(plain).base_minutes == 35 and work(dammed).base_minutes == 36
    assert inches(bought(plain, "mesh").net) == 48 + 104 + 48 + 16
    assert inches(bought(dammed, "mesh").net) == 96 + 104 + 48 + 16
    assert bought(dammed, "liquid").net - bought(plain, "liquid").net == 144 * VOLUME_NM3["in3"] * Fraction(40, 1000)


def test_a_back_dam_of_a_taped_arch_runs_along_its_sill() -> None:
    """Width 36: 36 × 2 in² more; 6 + 2 + 2 = 10 in over 9 in tape is two strips, 36 + 2 × 6 in more."""
    arch = {"shape": "half_round_top", "width": "36 in", "springline": "48 in", "method": "tape"}
    plain, dammed = panned(None, **arch), panned("2 in", **arch)
    assert square_inches(work(dammed).treated_area - work(plain).treated_area) == 72
    assert inches(bought(dammed, "tape").net - bought(plain, "tape").net) == 48


def test_only_a_treated_pan_has_a_back_dam() -> None:
    assert line_faults(width="40", height="40", sill={"kind": "flat", "back_dam": "2"}) == [
        ("/0/sill/back_dam", "not_for_sill")
    ]
    pan = {"kind": "pan", "back_dam": "2"}
    assert line_faults(width="40", height="40", sides=["head"], sill=pan) == [("/0/sill", "contradiction")]
    assert line_faults(width="40", height="40", sill=pan | {"back_dam": "0"}) == [("/0/sill/back_dam", "too_small")]


@settings(max_examples=25, deadline=None)
@given(dam=st.integers(1, 12), more=st.integers(0, 12))
def test_a_higher_dam_never_takes_less(dam: int, more: int) -> None:
    low, high = panned(f"{dam} in"), panned(f"{dam + more} in")
    assert square_inches(work(high).treated_area - work(low).treated_area) == 48 * more
    assert work(low).base_minutes <= work(high).base_minutes
    assert bought(low, "mesh").net <= bought(high, "mesh").net
    assert low.up.price_minor <= high.up.price_minor


def sealed(**seal: Any) -> Estimate:
    """Three 48 × 48 in windows with a perimeter seal at half a minute a foot."""
    rates = edition(materials=seal_materials(), production=production(perimeter_seal={"minutes_per_foot": "0.5"}))
    return costed(request(opening(quantity=3), perimeter_seal={"width": "1/2 in", "depth": "1/4 in"} | seal), rates)


def test_two_beads_take_twice_the_sealant_the_rod_and_the_minutes() -> None:
    """2 × (192 − 6) in: 46.5 in³ of sealant and 31 ft of rod each, 15.5 minutes on top of 30."""
    estimate = sealed(beads=2, weeps={"count": 3, "length": "2 in"})
    assert bought(estimate, "sealant").net == 3 * Fraction("46.5") * VOLUME_NM3["in3"]
    assert feet(bought(estimate, "rod 5/8 in").net) == 3 * 31
    assert work(estimate).base_minutes == Fraction("45.5")


def test_one_bead_written_out_is_as_before_and_three_are_refused() -> None:
    assert built(sealed(beads=1)) == built(sealed())
    assert refusals(request(opening(), perimeter_seal={"width": "1/2 in", "beads": 3})) == [
        ("/perimeter_seal/beads", "too_large")
    ]


HOT = {"hot": {"kind": "lost", "percent": "50"}}
PARTS: list[Document] = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-08-15"}]


def split(*temperatures: str | None, **fields: Any) -> Estimate:
    """A window in each of two parts, each at its own temperature."""
    rows = [row | {"waste_by_temperature": HOT} if row["role"] == "mesh" else row for row in materials()]
    rates = edition(materials=rows, production=production(temperature={"hot": "1.1", "cold": "1.2"}))
    named = zip(PARTS, temperatures, strict=True)
    parts = [part if at is None else part | {"temperature": at} for part, at in named]
    return costed(request(opening("A"), opening("B"), mobilisations=parts, **fields), rates)


def test_each_part_has_the_factor_and_the_waste_of_its_temperature() -> None:
    """Cold: 30 × 1.2 and 18 ft of mesh; hot: 30 × 1.1 and, half of it lost, 36 ft."""
    estimate = split(None, "hot", temperature="cold")
    assert [part.hours.touch_minutes for part in estimate.parts] == [36, 33]
    assert [feet(bought(estimate, "mesh", part).gross) for part in (0, 1)] == [18, 36]


@pytest.mark.parametrize("at", ["hot", "cold"])
def test_parts_that_name_the_requests_temperature_are_as_before(at: str) -> None:
    assert built(split(at, at)) == built(split(None, None, temperature=at))
    assert built(split(at, None, temperature=at)) == built(split(None, None, temperature=at))


def test_an_unknown_temperature_of_a_part_is_refused_where_it_stands() -> None:
    parts = [PARTS[0] | {"temperature": "icy"}, PARTS[1]]
    wrong = refusals(request(opening("A"), opening("B"), mobilisations=parts))
    assert wrong == [("/mobilisations/0/temperature", "unknown_name")]
