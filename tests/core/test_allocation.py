"""The price over marks, lines and cost codes by both allocations, and lines that are not priced; worked by hand.

Shares are exact; one largest remainder makes them whole cents, ties to the earlier in the document.
"""

from __future__ import annotations

from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.outputs.answer import answer, cost_codes
from estimating.outputs.takeoff_rows import openings as opening_rows
from tests.core.invented import (
    MESH,
    Document,
    amounts,
    costed,
    edition,
    lift,
    mark_prices,
    material,
    opening,
    overhead,
    percent,
    production,
    request,
    worker,
)
from tests.core.plain_job import rows

FREE = [m for m in rows() if m["role"] != "consumable"]
USED_MESH = material("mesh", "mesh", **MESH, price_as="used")  # 0.40 a foot


def two_marks(*overheads: Document, **fields: Any) -> Estimate:
    """A: a whole window, 18 ft of mesh. B: a sill alone, 4 ft of mesh, from the lift. 30 minutes each."""
    stock = [m for m in FREE if m["role"] != "mesh"] + [USED_MESH]
    lines = (opening("A"), opening("B", sides=["sill"], access="lift"))
    given = edition(materials=stock, equipment=[lift()], overheads=list(overheads))
    return costed(request(*lines, **fields), given)


SHARED = [
    percent("freight", "10", "materials"),
    percent("sales_tax", "10", "taxable_materials"),
    percent("overhead", "10", "direct_cost"),
]


def test_own_use_gives_each_mark_what_it_uses_and_the_rest_in_proportion() -> None:
    """Direct of A: 30.00 + 7.20 + 0.72 + 0.72 = 38.64; of B: 30.00 + 1.60 + 0.16 + 0.16 + 200.00 = 231.92.

    27.06 of overhead on 270.56 makes 297.62: 42.5045… and 255.1154…, the missing cent to the larger remainder.
    """
    estimate = two_marks(*SHARED)
    assert estimate.up.direct_minor == 27056
    assert mark_prices(estimate) == {"A": 4250, "B": 25512}


def test_touch_minutes_divides_all_of_it_by_touch_minutes() -> None:
    assert mark_prices(two_marks(*SHARED, allocate_by="touch_minutes")) == {"A": 14881, "B": 14881}


def test_own_use_is_what_a_request_without_a_word_gets() -> None:
    assert mark_prices(two_marks(*SHARED)) == mark_prices(two_marks(*SHARED, allocate_by="own_use"))


def test_only_taxable_rows_carry_the_tax() -> None:
    """Free of tax the mesh of A is 7.20 and 0.72 of freight; the tax of 20.00 on the lift goes by touch minutes."""
    untaxed = material("mesh", "mesh", **MESH, price_as="used", taxable=False)
    stock = [m for m in FREE if m["role"] != "mesh"] + [untaxed]
    lines = (opening("A"), opening("B", sides=["sill"]))
    tax = percent("sales_tax", "10", "taxable_materials")
    contract = [{"title": "Mock-up", "amount": "100"}]
    estimate = costed(request(*lines, subcontracts=contract), edition(materials=stock, overheads=[SHARED[0], tax]))
    # 30 + 7.20 + 0.72 + half of the contract's 100 and of its tax of 10; 30 + 1.60 + 0.16 + 55
    assert mark_prices(estimate) == {"A": 9292, "B": 8676}


def test_crew_days_of_consumables_and_set_up_go_by_touch_minutes() -> None:
    """One day of gloves, 12.00, and one hour of set-up, 60.00, over 30 and 60 minutes (B from a lift at double)."""
    gloves = material("consumable", "gloves", per="crew_day", packs=[{"size": "1 each", "price": "12"}])
    rules = production(access={"lift": "2"}, setup_hours={"mobilisation": "1"})
    estimate = costed(
        request(opening("A"), opening("B", access="lift")), edition(materials=[*FREE, gloves], production=rules)
    )
    assert mark_prices(estimate) == {"A": 3000 + 2400, "B": 6000 + 4800}


def test_a_mark_of_several_lines_is_priced_once_and_split_over_them() -> None:
    """1 + 2 windows of 30 minutes from the ground, 100.00 in all: 33.33 and 66.67."""
    lines = (opening("A", 1), opening("B", 0), opening("A", 2, storey="2"))
    estimate = costed(request(*lines), edition(materials=FREE, overheads=[overhead("minimum_charge", amount="100")]))
    assert mark_prices(estimate) == {"A": 10000, "B": 0}
    assert list(estimate.allocation.line_prices) == [3333, 0, 6667]


@pytest.mark.parametrize(
    ("quantity", "price", "unit", "residual"),
    [
        (3, "100", "33.33", "0.01"),
        (7, "100.01", "14.29", "-0.02"),
        (8, "100", "12.50", "0.00"),
        (200, "6001", "30.01", "-1.00"),
    ],
)
def test_a_unit_price_is_rounded_half_up_and_what_it_leaves_is_printed(
    quantity: int, price: str, unit: str, residual: str
) -> None:
    rows = edition(materials=FREE, overheads=[overhead("minimum_charge", amount=price)], labour=[worker(wage="0")])
    (mark,) = answer(costed(request(opening(quantity=quantity)), rows))["by_mark"]
    assert (mark["unit_price"], mark["residual"]) == (unit, residual)


def test_marks_that_differ_in_spelling_alone_are_one() -> None:
    """Upper case, trimmed, dashes unified; `01` is not `1`."""
    lines = (opening("w-1"), opening(" W–1 "), opening("W-01"))
    assert list(mark_prices(costed(request(*lines)))) == ["w-1", "W-01"]


def coded(**fields: Any) -> Document:
    """Two at 60.00 under one code, a mate at 30.00 giving half under another."""
    rows = [worker(cost_code="07 27 00"), worker("mate", "30", productive_share="0.5", cost_code="07 92 00")]
    return edition(labour=rows, materials=FREE, **fields)


CREW = {"members": [{"labour": "worker", "count": 2}, {"labour": "mate", "count": 1}]}


@pytest.mark.parametrize(
    ("quantity", "amounts_"),
    [
        (2, {"07 27 00": 4800, "07 92 00": 1200}),  # one hour at 150 / 2.5
        (1, {"07 27 00": 2400, "07 92 00": 600}),
    ],
)
def test_labour_is_rounded_once_and_split_by_count_times_rate(quantity: int, amounts_: dict[str, int]) -> None:
    estimate = costed(request(opening(quantity=quantity), crew=CREW), coded())
    found = {x.cost_code: x.amount_minor for x in estimate.up.lines if x.step == "labour"}
    assert found == amounts_


def test_the_odd_cent_of_labour_goes_to_the_largest_remainder() -> None:
    """50.01 by 120 to 30: 40.008 and 10.002."""
    rule = {"opening_minutes": {"fixed": "50.01", "per_foot": "0"}}
    estimate = costed(request(opening(), crew=CREW), coded(production=rule))
    assert [x.amount_minor for x in estimate.up.lines if x.step == "labour"] == [4001, 1000]


def test_materials_and_equipment_have_a_line_for_each_code_and_none_is_shown_as_such() -> None:
    stock = [material("consumable", f"c{i}", per="opening", packs=[{"size": "1 each", "price": "1"}]) for i in range(3)]
    stock[0]["cost_code"] = stock[2]["cost_code"] = "07 27 00"
    estimate = costed(request(opening(quantity=5)), edition(materials=[*FREE, *stock]))
    found = [(x.cost_code, x.amount_minor) for x in estimate.up.lines if x.step == "materials"]
    assert found == [(None, 500), ("07 27 00", 1000)]
    printed = {x["code"]: (x["labour"], x["materials"], x["amount"], x["title"]) for x in cost_codes(estimate)}
    assert printed[None] == ("150.00", "5.00", "155.00", "no cost code")
    assert printed["07 27 00"][1:3] == ("10.00", "10.00")


def test_excluded_and_alternate_lines_are_shown_and_priced_nothing() -> None:
    lines = (
        opening("A", 2),
        opening("B", 3, excluded={"reason": "curtain wall by others"}),
        opening("C", 4, alternate="2"),
        {"mark": "D", "quantity": 5, "excluded": {"reason": "infilled"}},
    )
    estimate = costed(request(*lines))
    alone = costed(request(opening("A", 2)))
    assert estimate.up.price_minor == alone.up.price_minor
    assert (estimate.openings, list(mark_prices(estimate))) == (2, ["A"])
    shown = [(x["mark"], x["quantity"], x["price"], x["not_priced"]) for x in opening_rows(estimate)]
    assert shown[1:] == [
        ("B", 3, "0.00", "curtain wall by others"),
        ("C", 4, "0.00", "alternate 2"),
        ("D", 5, "0.00", "infilled"),
    ]
    told = [r.detail for r in estimate.remarks if r.code == "not_priced"]
    assert told == ["3 lines are shown and priced 0 (excluded or alternates): B, C, D"]


def test_only_external_leaves_out_interior_lines_and_asks_about_unknown_ones() -> None:
    lines = (opening("A", external=True), opening("B", external=False), opening("C"))
    estimate = costed(request(*lines, only_external=True))
    assert (estimate.openings, [x["not_priced"] for x in opening_rows(estimate)]) == (2, [None, "interior", None])
    assert "external_unknown" in [r.code for r in estimate.remarks if r.severity == "question"]
    assert costed(request(*lines)).openings == 3


def test_quantity_nothing_prices_nothing_and_is_shown() -> None:
    lines = (opening("A", 2), opening("B", 0, width="90 in", height="90 in", access="lift", elevation="North"))
    rules = production(setup_hours={"elevation": "1"})
    given = edition(equipment=[lift()], production=rules)
    estimate = costed(request(*lines), given)
    assert amounts(estimate) == amounts(costed(request(opening("A", 2)), given))
    assert mark_prices(estimate)["B"] == 0
    assert [x["quantity"] for x in opening_rows(estimate)] == [2, 0]


@pytest.mark.parametrize("lines", [[], [opening(quantity=0)], [opening(excluded={"reason": "by others"})]])
def test_no_opening_at_all_is_nothing_or_the_minimum_by_choice(lines: list[Document]) -> None:
    closing = [
        percent("overhead", "10", "direct_cost"),
        overhead("minimum_charge", amount="1500"),
        overhead("round_up_to", amount="400"),
    ]
    given = edition(overheads=closing, production=production(setup_hours={"mobilisation": "9"}), equipment=[lift()])
    nothing = costed(request(*lines), given)
    assert (nothing.up.price_minor, nothing.standard_hours, nothing.crew_days) == (0, 0, 0)
    assert nothing.price_per_opening is None
    least = costed(request(*lines, empty_price="minimum"), given)
    assert (least.up.price_minor, least.standard_hours) == (160000, 0)
    assert sum(mark_prices(least).values()) == 160000
    assert all(price == 0 for mark, price in mark_prices(least).items() if mark is not None)
    totals = answer(least)["totals"]
    assert totals["price_per_opening"] is None


def test_a_subcontract_alone_is_a_price_without_openings() -> None:
    asked = {"subcontracts": [{"title": "Testing", "amount": "250"}]}
    estimate = costed(request(**asked), edition(overheads=[overhead("minimum_charge", amount="400")]))
    assert (estimate.up.price_minor, mark_prices(estimate)) == (40000, {None: 40000})
