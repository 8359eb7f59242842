"""The purchase list: quantities and days by hand, and that no cheaper packs cover the need, by trying every mix."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest

from estimating.outputs.purchase_list import purchase_rows
from estimating.outputs.site_documents import purchase_document, readable
from rates.core.exact import print_up
from tests.core.derivation_purchases import cheapest
from tests.core.invented import costed, edition, material, materials, opening, request
from tests.core.random_estimates import random_estimate
from tests.core.test_cases import DATA, estimate_of
from tests.core.test_cut_plan_prices import BY_PLAN, SILL, mesh


def of_code(rows: list[dict[str, Any]], code: str) -> dict[str, Any]:
    """The row of a material."""
    return next(row for row in rows if row["code"] == code)


def test_a_material_with_all_that_purchasing_asks() -> None:
    """Ten sills of 60 in are 50 ft of mesh, 55 with 10 % waste, 35 after the 20 on hand: two rolls of 20 at 9.00.

    One roll of 50 costs 20.00. Ordered 14 days before 2027-03-15, bought at most 90 days before.
    """
    row = material(
        "mesh", "mesh", width="9 in", waste={"kind": "added", "percent": "10"}, lead_days=14, shelf_life_days=90,
        storage="40 to 90 °F, dry", source="invented quote", priced_on="2026-11-02",
        packs=[{"size": "50 ft", "price": "20"}, {"size": "20 ft", "price": "9"}],
    )  # fmt: skip
    others = [m for m in materials() if m["role"] != "mesh"]
    asked = request(opening(quantity=10, **SILL), stock={"mesh": "20 ft"})
    assert of_code(purchase_rows(costed(asked, edition(materials=[*others, row]))), "mesh") == {
        "code": "mesh",
        "title": "Invented mesh",
        "role": "mesh",
        "net": "50",
        "waste": "10 % added",
        "gross": "55",
        "stock": "20",
        "needed": "35",
        "unit": "ft",
        "packs": [{"size": "20 ft", "count": 2}],
        "left_over": "5",
        "need_by": "2027-03-15",
        "order_by": "2027-03-01",
        "lead_days": 14,
        "buy_after": "2026-12-15",
        "shelf_life_days": 90,
        "storage": "40 to 90 °F, dry",
        "price_source": "invented quote",
        "priced_on": "2026-11-02",
        "amount": "18.00",
        "alternatives": [{"packs": [{"size": "50 ft", "count": 1}], "left_over": "15", "amount": "20.00"}],
        "cost_code": None,
    }


def test_what_is_not_stated_is_absent_and_the_price_is_of_the_edition_s_day() -> None:
    row = of_code(purchase_rows(costed(request(opening()))), "mesh")
    assert [row[name] for name in ("order_by", "lead_days", "buy_after", "shelf_life_days", "storage")] == [None] * 5
    assert (row["need_by"], row["priced_on"], row["waste"]) == ("2027-03-15", "2027-01-01", "none")


def test_a_lead_time_longer_than_time_is_none() -> None:
    """3,650 days before 2 January of year 5 is before all dates."""
    early = request(opening(), work_date="0005-01-02")
    rates = edition(materials=[m | {"lead_days": 3650} for m in materials()], effective_from="0001-01-01")
    assert {row["order_by"] for row in purchase_rows(costed(early, rates))} == {None}


def test_rolls_of_a_cut_plan_and_what_another_size_would_be() -> None:
    """Five pieces of 60 in: five rolls of 100 at 10.00; three of 130 at 21.00 hold two each."""
    rates = mesh(packs=[{"size": "130 in", "price": "21"}, {"size": "100 in", "price": "10"}])
    row = of_code(purchase_rows(costed(request(opening(quantity=5, **SILL), **BY_PLAN), rates)), "mesh")
    assert (row["waste"], row["packs"], row["amount"]) == ("cut plan", [{"size": "100 in", "count": 5}], "50.00")
    assert [(x["packs"], x["amount"]) for x in row["alternatives"]] == [([{"size": "130 in", "count": 3}], "63.00")]


def test_each_part_of_a_season_split_has_its_day() -> None:
    parts = [
        {"work_date": "2027-03-15", "scope": "openings", "openings": ["A"], "title": "spring"},
        {"work_date": "2027-10-15", "scope": "openings", "openings": ["B"], "title": "fall"},
    ]
    rows = purchase_rows(costed(request(opening("A"), opening("B"), mobilisations=parts)))
    assert {(row["part"], row["need_by"]) for row in rows} == {("spring", "2027-03-15"), ("fall", "2027-10-15")}


@pytest.mark.parametrize("seed", range(40, 52))
def test_packs_cover_the_need_and_no_cheaper_packs_do(seed: int) -> None:
    estimate = random_estimate(seed)
    lines = [line for part in estimate.parts for line in part.materials]
    for line, row in zip(lines, purchase_rows(estimate), strict=True):
        sold = [[pack.size, pack.price] for pack in line.packs]
        counts = {pack["size"]: pack["count"] for pack in row["packs"]}
        bought = [counts.get(pack.label, 0) for pack in line.packs]
        held = sum((n * size for n, (size, _) in zip(bought, sold, strict=True)), Fraction(0))
        assert held >= line.needed
        if sum(-(-line.needed // size) for size, _ in sold) < 2000:
            best = cheapest(line.needed, sold)
            assert sum(n * price for n, (_, price) in zip(bought, sold, strict=True)) == sum(
                n * price for n, (_, price) in zip(best, sold, strict=True)
            )


def test_with_a_calendar_each_material_is_needed_when_its_first_zone_is_worked() -> None:
    """Sixteen windows by fluid in the north on Monday the 15th; taped ones in the south from Thursday, when its
    sheathing is ready, for two days: primer by Thursday 18 March, 14 days before it ordered, and kept for 30 days up to
    its last day, Friday. Mesh and tape are cut before anything is started."""
    lead = {"lead_days": 14, "shelf_life_days": 30}
    rows = [m | lead for m in materials()]
    lines = [
        opening("A", 16, elevation="North", method="fluid"),
        opening("B", 32, elevation="South", method="tape"),
    ]
    zones = [{"elevation": "South", "sheathing_ready": "2027-03-18"}]
    asked = request(*lines, method="by_line", wall_barrier="none", calendar={"zones": zones})
    found = purchase_rows(costed(asked, edition(materials=rows)))
    days = {row["code"]: (row["need_by"], row["order_by"], row["buy_after"]) for row in found}
    assert days == {
        "liquid": ("2027-03-15", "2027-03-01", "2027-02-13"),
        "mesh": ("2027-03-15", "2027-03-01", "2027-02-13"),
        "tape": ("2027-03-15", "2027-03-01", "2027-02-17"),
        "primer": ("2027-03-18", "2027-03-04", "2027-02-17"),
    }
    later = request(*lines, method="by_line", wall_barrier="none", calendar={"start": "2027-04-05"})
    found = purchase_rows(costed(later, edition(materials=rows)))
    assert {row["need_by"] for row in found} == {"2027-04-05", "2027-04-06"}


def test_a_season_split_needs_its_materials_on_the_days_of_its_parts() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-10-01", "title": "Autumn"}]
    asked = request(opening("A", 4), opening("B", 4), mobilisations=parts, calendar={"start": "2027-03-17"})
    rows = purchase_rows(costed(asked))
    assert [row["need_by"] for row in rows if row["code"] == "liquid"] == ["2027-03-17", "2027-10-01"]


def test_the_printed_list_has_as_many_places_as_a_yard_reads() -> None:
    """The worked example of README: 27,440 in² at 40 mil are 4.751515 gal, 5.464242 with 15 % waste; mesh 329 ft."""
    rows = list(purchase_rows(estimate_of(DATA / "golden" / "request.json", DATA / "golden" / "edition.json")))
    assert [of_code(rows, "liquid")[name] for name in ("net", "gross")] == ["4.751515", "5.464242"]
    estimate = {"currency": "USD", "cautions": [], "number": 1, "costed_at": "2027-01-04T00:00:00Z"}
    texts = list(purchase_document(rows, estimate, "Office", "Clinic", invented=True).texts())
    assert {"4.75", "5.46", "329"} <= set(texts)
    assert [text for text in texts if re.search(r"\d\.\d{3,}", text)] == []
    assert not any(re.search(r"\d{4}-\d\d-\d\d", text) for text in texts), "a person reads March 15, 2027"


@pytest.mark.parametrize(
    ("exact", "read"),
    [
        ("1234.565", "1,234.57"),
        ("0", "0"),
        ("0.5", "0.5"),
        ("0.012", "0.01"),
        ("0.0035", "0.004"),
        ("0.00002", "0.00002"),
    ],
)
def test_a_small_quantity_is_never_nothing(exact: str, read: str) -> None:
    """Half up at two places; what is less than 0.01 at its first digit."""
    assert readable(exact) == read


def test_hours_that_may_not_be_less_are_rounded_up() -> None:
    """7/3 h is 2.333...: a coat that dries so long is not dry after 2.33."""
    assert [print_up(value, 2) for value in (Fraction(7, 3), Fraction(2), Fraction(5, 2))] == ["2.34", "2", "2.5"]
