"""A price whose mesh and tape are whole rolls of the cut plan: figures by hand, and stock chosen for the whole job."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.attribution import compare
from estimating.core.estimate import Estimate
from estimating.core.job import read_request
from estimating.core.part import every_work, stock_left
from estimating.core.roll_needs import STEPS
from estimating.core.stock_choice import JobStock
from rates.core.problems import Refused
from tests.core.derivation_cases import CASES, cost
from tests.core.invented import (
    Document,
    bought,
    costed,
    edition,
    feet,
    material,
    materials,
    opening,
    packs,
    production,
    request,
    sources,
    work,
)

SILL = {"width": "60 in", "height": "60 in", "sides": ["sill"]}  # one piece of 60 in, no corner
BY_PLAN = {"quantities_from": "cut_plan"}


def mesh(**fields: Any) -> Document:
    """An edition whose one mesh is sold in rolls of 100 in at 10.00, 50 % waste beside it."""
    row = {"width": "9 in", "packs": [{"size": "100 in", "price": "10"}], "waste": {"kind": "added", "percent": "50"}}
    others = [m for m in materials() if m["role"] != "mesh"]
    return edition(materials=[*others, material("mesh", "mesh", **row | fields)])


def test_the_worked_example_by_the_cut_plan() -> None:
    """tests/data/golden: net 3,760 in are two rolls and 160 in of a third; 329 ft with waste are three rolls too."""
    estimate, by_waste = cost(CASES["golden by cut plan"]), cost(CASES["golden"])
    line = bought(estimate, "mesh-9")
    assert feet(line.net) * 12 == feet(line.gross) * 12 == 3760
    assert (packs(line), line.amount_minor) == ({"150 ft": 3}, 17400)
    assert feet(line.left_over) * 12 == 5400 - 3760
    assert estimate.up.price_minor == by_waste.up.price_minor == 165500
    assert estimate.input_digest != by_waste.input_digest


def test_a_cut_plan_stands_in_place_of_waste_never_beside_it() -> None:
    """Two pieces of 45 in are 90 in, 135 with waste and so two rolls of 100; by the plan one, 90 in of it taken."""
    sill = SILL | {"width": "45 in"}
    by_waste, by_plan = (costed(request(opening(quantity=2, **sill), **f), mesh()) for f in ({}, BY_PLAN))
    assert [packs(bought(e, "mesh")) for e in (by_waste, by_plan)] == [{"100 in": 2}, {"100 in": 1}]
    assert by_waste.up.price_minor - by_plan.up.price_minor == 1000
    line = bought(by_plan, "mesh")
    assert [feet(nm) * 12 for nm in (line.net, line.gross, line.left_over)] == [90, 90, 10]


def test_offcuts_that_waste_forgets_are_bought() -> None:
    """Five pieces of 60 in need five rolls of 100 in; by length alone three. The share used: 500 − 40 in at 0.10."""
    given_edition = mesh(waste={"kind": "added", "percent": "0"})
    estimate = costed(request(opening(quantity=5, **SILL), **BY_PLAN), given_edition)
    assert packs(bought(estimate, "mesh")) == {"100 in": 5}
    assert bought(costed(request(opening(quantity=5, **SILL)), given_edition), "mesh").amount_minor == 3000
    used = costed(request(opening(quantity=5, **SILL), **BY_PLAN), mesh(price_as="used"))
    assert bought(used, "mesh").amount_minor == 4600


def test_stock_on_hand_is_cut_first_and_carried_to_the_next_part() -> None:
    """250 in on hand are two rolls and 50 in: of three pieces of 60, two come from it. Another part has none left."""
    stocked = request(opening(quantity=3, **SILL), stock={"mesh": "250 in"}, **BY_PLAN)
    line = bought(costed(stocked, mesh()), "mesh")
    assert (packs(line), feet(line.gross) * 12) == ({"100 in": 1}, 260)
    parts = [
        {"work_date": "2027-03-15", "scope": "openings", "openings": ["A"]},
        {"work_date": "2027-06-15", "scope": "openings", "openings": ["B"]},
    ]
    lines = [opening("A", 1, **SILL), opening("B", 1, **SILL)]
    split = costed(request(*lines, stock={"mesh": "100 in"}, mobilisations=parts, **BY_PLAN), mesh())
    assert [packs(bought(split, "mesh", part)) for part in (0, 1)] == [{}, {"100 in": 1}]


def test_a_piece_longer_than_a_roll_is_joined_and_a_roll_no_longer_than_its_lap_refused() -> None:
    """240 in from rolls of 100 lapped by 2: 100 + 100 + 44."""
    long = SILL | {"width": "240 in"}
    line = bought(costed(request(opening(**long), **BY_PLAN), mesh()), "mesh")
    assert (packs(line), feet(line.gross) * 12) == ({"100 in": 3}, 244)
    short = mesh(packs=[{"size": "100 in", "price": "10"}, {"size": "2 in", "price": "1"}])
    assert costed(request(opening(**long)), short)
    with pytest.raises(Refused) as why:
        costed(request(opening(**long), **BY_PLAN), short)
    assert [(p.pointer, p.code) for p in why.value.problems] == [("/tables/materials/3/packs", "roll_too_short")]


@pytest.mark.parametrize(("kind", "severity"), [("added", "to_know"), ("lost", "warning")])
def test_waste_that_the_plan_leaves_out_is_told(kind: str, severity: str) -> None:
    """Half of a roll lost in the heat is no offcut: whoever takes the plan should see that it is not added."""
    rates = mesh(waste={"kind": kind, "percent": "50"})
    by_plan, by_waste = (costed(request(opening(**SILL), **f), rates) for f in (BY_PLAN, {}))
    told = [(r.severity, r.pointer, r.detail) for r in by_plan.remarks if r.code == "waste_left_out"]
    assert told == [
        (severity, "/quantities_from", f"mesh is bought by the cut plan: its waste of 50 % {kind} is not added")
    ]
    assert "waste_left_out" not in {r.code for r in by_waste.remarks}


def tapes() -> Document:
    """Tape 6 in wide at 47.00 and 9 in at 68.00 for 75 ft; a strip past the first takes 6 minutes."""
    rows = [("tape-6", "6 in", "47"), ("tape-9", "9 in", "68")]
    made = [material("tape", c, width=w, packs=[{"size": "75 ft", "price": price}]) for c, w, price in rows]
    others = [m for m in materials() if m["role"] != "tape"]
    return edition(materials=[*others, *made], production=production(tape={"extra_strip_minutes": "6"}))


def test_one_collar_no_longer_buys_a_roll_of_its_own() -> None:
    """A pipe's collar of 4 in takes 6 in tape, which is cheaper by the foot; the roll of 9 in tape has room for it."""
    lines = [opening("A"), {"mark": "P", "kind": "pipe", "diameter": "4 in", "quantity": 1, "access": "ground"}]
    by_opening, by_job = (
        costed(request(*lines, method="tape", wall_barrier="sheet", **f), tapes()) for f in ({}, BY_PLAN)
    )
    assert {m.row.code: packs(m) for m in by_opening.parts[0].materials if m.row.role == "tape"} == {
        "tape-6": {"75 ft": 1},
        "tape-9": {"75 ft": 1},
    }
    assert {m.row.code: packs(m) for m in by_job.parts[0].materials if m.row.role == "tape"} == {"tape-9": {"75 ft": 1}}
    assert by_opening.up.price_minor - by_job.up.price_minor == 4700
    assert work(by_job, 1).stock_code == "tape-9"


def stock_cost(estimate: Estimate, *, of_job: bool) -> Any:
    """Rolls and minutes of extra strips of the first part, as chosen for the job or opening by opening."""
    part = estimate.parts[0]
    works = every_work(part.works, part.joints)
    choosing = JobStock(
        works, part.crew, lambda row: stock_left(part.conditions, (), row), STEPS[estimate.request.units]
    )
    choice = tuple(w.chosen for w in works) if of_job else choosing.own()
    cost = choosing.cost(choice, choosing.cost_of_rolls)
    assert choosing.cost(choice, choosing.least_of_rolls) <= cost
    return cost


sizes = st.integers(20, 120).map(lambda inch: f"{inch} in")
windows = st.lists(st.tuples(st.integers(1, 6), sizes, sizes, st.sampled_from(["3 in", "6 in", "9 in"])), min_size=1)


@settings(max_examples=12)
@given(windows, st.sampled_from(["fluid", "tape"]))
def test_stock_for_the_whole_job_never_costs_more_than_opening_by_opening(rows: list[Any], method: str) -> None:
    lines = [opening(f"W{i}", n, width=w, height=h, treated_depth=d) for i, (n, w, h, d) in enumerate(rows)]
    given_edition = tapes()
    wide = material("mesh", "mesh-12", width="12 in", packs=[{"size": "150 ft", "price": "71"}])
    given_edition["tables"]["materials"].append(wide)
    barrier = "sheet" if method == "tape" else "fluid"
    estimate = costed(request(*lines, method=method, wall_barrier=barrier, **BY_PLAN), given_edition)
    assert stock_cost(estimate, of_job=True) <= stock_cost(estimate, of_job=False)
    for line in estimate.parts[0].materials:
        if line.row.role in ("mesh", "tape"):
            assert 0 < line.gross <= sum(pack.size * count for pack, count in line.mix.counts)


@pytest.mark.parametrize(("waste", "smooth", "rates", "rest"), [("0", False, 2000, 0), ("50", True, -1500, 1500)])
def test_what_a_cut_plan_changes_is_told_by_its_cause_to_the_cent(
    waste: str, smooth: bool, rates: int, rest: int
) -> None:
    """Five pieces of 60 in: three rolls become five at 10.00. Smoothly 450 in at 0.10 become 300."""
    given_edition = mesh(waste={"kind": "added", "percent": waste})
    two = [read_request(request(opening(quantity=5, **SILL), **f), sources(given_edition)) for f in ({}, BY_PLAN)]
    found = compare(*two, smooth=smooth)
    assert {cause: amount for cause, amount in found.causes if amount} == {
        cause: amount for cause, amount in (("rates", rates), ("packs_and_rounding", rest)) if amount
    }
    assert found.after.up.price_minor - found.before.up.price_minor == rates + rest
