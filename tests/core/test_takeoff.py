"""Liquid, mesh and consumables: net, waste once, less stock on hand, then whole packs or the share used.

Arithmetic is written beside each figure; 1 US gal = 231 in³ (NIST Handbook 44, appendix C). A window 48 × 48 in with
d 6 and f 2 has A = 192 × 8 + 16 = 1552 in². Published coverages are in test_published_values.py.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from estimating.outputs.answer import materials as material_rows
from tests.core.invented import (
    LIQUID,
    MESH,
    Document,
    bought,
    costed,
    edition,
    feet,
    gallons,
    inches,
    material,
    materials,
    opening,
    packs,
    production,
    refusals,
    request,
    with_row,
)

AREA = 1552  # in², of the plain window


@pytest.mark.parametrize(
    ("films", "mils"), [(["20 mil", "20 mil"], 40), (["12 mil"], 12), (["10 mil", "15 mil", "0.5 mm"], None)]
)
def test_liquid_is_treated_area_times_the_total_wet_film(films: list[str], mils: int | None) -> None:
    total = Fraction(mils, 1000) if mils else Fraction(25, 1000) + Fraction(5, 254)  # 0.5 mm = 5/254 in
    estimate = costed(request(opening(quantity=7)), with_row("liquid", wet_film=films))
    assert gallons(bought(estimate, "liquid").net) == 7 * AREA * total / 231


def test_mesh_need_is_by_length() -> None:
    """Two sills and heads of 48, two jambs of 52, four diagonals entering by their short side: 216 in."""
    estimate = costed(request(opening(quantity=7)))
    assert inches(bought(estimate, "mesh").net) == 7 * (2 * 48 + 2 * 52 + 4 * 4)


@pytest.mark.parametrize(
    ("waste", "factor"),
    [
        ({"kind": "added", "percent": "15"}, Fraction(115, 100)),
        ({"kind": "lost", "percent": "15"}, Fraction(100, 85)),
        ({"kind": "lost", "percent": "50"}, Fraction(2)),  # half of a roll lost doubles the purchase
        ({"kind": "added", "percent": "100"}, Fraction(2)),
        ({"kind": "lost", "percent": "0"}, Fraction(1)),
        ({"kind": "added", "percent": "12.5"}, Fraction(9, 8)),
    ],
)
def test_waste_added_and_waste_lost_are_two_things(waste: Document, factor: Fraction) -> None:
    """Added a: gross = net (1 + a). Lost s: gross = net / (1 − s); the two agree where a = s / (1 − s)."""
    line = bought(costed(request(opening()), with_row("mesh", waste=waste)), "mesh")
    assert (line.gross / line.net, inches(line.net)) == (factor, 216)


def test_the_whole_of_a_material_cannot_be_lost() -> None:
    given = with_row("mesh", waste={"kind": "lost", "percent": "100"})
    assert refusals(request(opening()), given) == [("/tables/materials/1/waste/percent", "waste_lost_whole")]


@pytest.mark.parametrize(("temperature", "factor"), [(None, "1.1"), ("hot", "2"), ("cold", "1.1")])
def test_waste_at_a_temperature_replaces_the_plain_one_and_never_compounds(
    temperature: str | None, factor: str
) -> None:
    waste = {"kind": "added", "percent": "10"}
    rows = [
        m | {"waste": waste, "waste_by_temperature": {"hot": {"kind": "lost", "percent": "50"}}} for m in materials()
    ]
    given = edition(materials=rows, production=production(temperature={"cold": "1"}))
    asked = {} if temperature is None else {"temperature": temperature}
    line = bought(costed(request(opening(), method="tape", **asked), given), "tape")
    assert line.gross / line.net == Fraction(factor)


def test_stock_on_hand_comes_off_the_gross_and_gross_is_printed_before_it() -> None:
    """20 windows: 4320 in net, 10 % added makes 396 ft; 150 ft on hand leave 246 ft: two rolls, 54 ft left over."""
    given = with_row("mesh", waste={"kind": "added", "percent": "10"})
    estimate = costed(request(opening(quantity=20), stock={"mesh": "150 ft"}), given)
    line = bought(estimate, "mesh")
    assert (feet(line.net), feet(line.gross), feet(line.needed), packs(line)) == (360, 396, 246, {"150 ft": 2})
    printed = next(row for row in material_rows(estimate) if row["code"] == "mesh")
    shown = {name: printed[name] for name in ("net", "gross", "stock", "left_over", "amount", "priced_as")}
    assert shown == {
        "net": "360",
        "gross": "396",
        "stock": "150",
        "left_over": "54",
        "amount": "120.00",
        "priced_as": "bought",
    }


def test_enough_stock_buys_nothing_and_costs_nothing() -> None:
    line = bought(costed(request(opening(), stock={"mesh": "40 m"})), "mesh")
    assert (packs(line), line.amount_minor, line.needed) == ({}, 0, 0)


@pytest.mark.parametrize(
    ("stock", "fault"),
    [
        ({"nothing": "1 gal"}, ("/stock/nothing", "unknown_row")),
        ({"mesh": "1 gal"}, ("/stock/mesh", "wrong_dimension")),
    ],
)
def test_stock_names_a_row_and_its_dimension(stock: dict[str, str], fault: tuple[str, str]) -> None:
    assert refusals(request(opening(), stock=stock)) == [fault]


def test_the_price_is_of_whole_packs_or_of_the_share_used() -> None:
    """18 ft of mesh: a roll of 150 ft at 60.00, or 18/150 of it, 7.20; at the lowest price by the foot of two rolls."""
    as_bought = bought(costed(request(opening())), "mesh")
    as_used = bought(costed(request(opening()), with_row("mesh", price_as="used")), "mesh")
    assert (packs(as_bought), as_bought.amount_minor, as_used.amount_minor) == ({"150 ft": 1}, 6000, 720)
    rolls = [{"size": "50 ft", "price": "25"}, {"size": "150 ft", "price": "60"}]
    small = bought(costed(request(opening()), with_row("mesh", packs=rolls)), "mesh")
    both = bought(costed(request(opening()), with_row("mesh", packs=rolls, price_as="used")), "mesh")
    assert (packs(small), small.amount_minor, both.amount_minor) == ({"50 ft": 1}, 2500, 720)


def test_the_mix_of_packs_costs_what_its_packs_cost() -> None:
    """24 windows × 1552 in² × 40 mil = 6.4501 gal a 231 in³: 5 gal at 180 and two of 1 gal at 40, 0.5499 gal left."""
    cans = [{"size": "1 gal", "price": "40"}, {"size": "5 gal", "price": "180"}]
    line = bought(costed(request(opening(quantity=24)), with_row("liquid", packs=cans)), "liquid")
    assert (packs(line), line.amount_minor, line.mix.cost) == ({"1 gal": 2, "5 gal": 1}, 260_00, 260)
    assert gallons(line.mix.left_over) == 7 - 24 * AREA * Fraction(40, 1000) / 231


def test_packs_are_of_the_project_total_and_not_of_each_mark() -> None:
    """Two marks of 75 ft each share one roll of 150 ft."""
    line = {"sides": ["sill"], "height": "10 in", "width": "900 in"}
    estimate = costed(request(opening("A", **line), opening("B", **line)))
    assert (feet(bought(estimate, "mesh").net), packs(bought(estimate, "mesh"))) == (150, {"150 ft": 1})


def test_two_liquids_need_a_choice_and_two_meshes_need_none() -> None:
    second = material("liquid", "liquid-2", **LIQUID | {"wet_film": ["30 mil"]})
    given = edition(materials=[*materials(), second])
    assert refusals(request(opening()), given) == [("/materials/liquid", "choose_row")]
    chosen = costed(request(opening(), materials={"liquid": "liquid-2"}), given)
    assert [m.row.code for m in chosen.parts[0].materials] == ["mesh", "liquid-2"]
    assert refusals(request(opening(), materials={"liquid": "mesh"}), given) == [("/materials/liquid", "unknown_row")]
    meshes = edition(
        materials=[*materials(), material("mesh", "dear", **MESH | {"packs": [{"size": "1 ft", "price": "9"}]})]
    )
    assert bought(costed(request(opening()), meshes), "mesh").net
    named = costed(request(opening(), materials={"mesh": "dear"}), meshes)
    assert [m.row.code for m in named.parts[0].materials] == ["liquid", "dear"]


@pytest.mark.parametrize(
    ("coverage", "told"), [("40 ft2/gal", False), ("44 ft2/gal", False), ("44.2 ft2/gal", True), ("35 ft2/gal", True)]
)
def test_a_data_sheets_coverage_more_than_a_tenth_off_the_film_is_told(coverage: str, told: bool) -> None:
    """40 mil is 1604.17 / 40 = 40.1 ft² a gallon; the film is priced either way."""
    estimate = costed(request(opening()), with_row("liquid", coverage=coverage))
    assert ("coverage_differs" in [r.code for r in estimate.remarks]) == told
    assert gallons(bought(estimate, "liquid").net) == AREA * Fraction(40, 1000) / 231


def test_consumables_go_by_opening_and_by_whole_crew_day() -> None:
    """20 windows × 30 min = 10 h of one worker: two days of 8 h."""
    rows = [
        material("consumable", "blades", per="opening", packs=[{"size": "1 each", "price": "1.75"}]),
        material("consumable", "gloves", per="crew_day", packs=[{"size": "1 each", "price": "12"}]),
    ]
    estimate = costed(request(opening(quantity=20)), edition(materials=[*materials(), *rows]))
    assert (bought(estimate, "blades").net, bought(estimate, "blades").amount_minor) == (20, 3500)
    assert (bought(estimate, "gloves").net, bought(estimate, "gloves").amount_minor) == (2, 2400)
