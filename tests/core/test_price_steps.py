"""Profit, subcontracts and tax, allowances, minimum charge, rounding up: on the plain job of plain_job.py, by hand."""

from __future__ import annotations

import pytest

from estimating.core.derivation import derive
from estimating.outputs.answer import answer, cost_codes
from tests.core.invented import (
    Document,
    amounts,
    costed,
    edition,
    mark_prices,
    opening,
    overhead,
    percent,
    request,
)
from tests.core.plain_job import job, of_step


@pytest.mark.parametrize(
    ("row", "profit", "markup", "margin"),
    [
        (percent("profit", "20", "cost", kind="markup"), 23000, "20", "16.67"),
        (percent("profit", "20", "cost", kind="margin"), 28750, "25", "20"),  # 1150 / 0.8 = 1437.50
        (percent("profit", "0", "cost", kind="margin"), 0, "0", "0"),
        (percent("profit", "12.5", "running", kind="markup"), 14375, "12.5", "11.11"),
        (percent("profit", "23", "labour", kind="markup"), 13800, "12", "10.71"),  # 138 on 1150; 138 of 1288
    ],
)
def test_markup_is_on_cost_and_margin_of_the_price_and_both_are_printed(
    row: Document, profit: int, markup: str, margin: str
) -> None:
    estimate = job(row)
    totals = answer(estimate)["totals"]
    assert of_step(estimate, "profit") == [profit]
    assert (totals["markup_percent"], totals["margin_percent"]) == (markup, margin)


def test_subcontracts_are_direct_cost_and_taxable_unless_told() -> None:
    """10 % of 100.00 of materials and of the 70.10 that are taxable: 17.01."""
    contracts = [
        {"title": "Mock-up", "amount": "70.10"},
        {"title": "Testing", "amount": "500", "taxable": False, "cost_code": "01 45 00"},
    ]
    tax = percent("sales_tax", "10", "taxable_materials")
    estimate = job(tax, percent("overhead", "10", "direct_cost"), fields={"subcontracts": contracts})
    assert of_step(estimate, "subcontracts") == [7010, 50000]
    assert of_step(estimate, "sales_tax") == [1701]
    assert of_step(estimate, "overhead") == [17371]  # 1150 + 570.10 + 17.01 = 1737.11


def test_an_exemption_certificate_leaves_the_tax_line_at_nothing_and_is_told() -> None:
    rates = [percent("sales_tax", "10", "taxable_materials"), overhead("sales_tax", "flat", amount="9")]
    estimate = job(*rates, fields={"exemption_certificate": "X-1"})
    assert of_step(estimate, "sales_tax") == [0, 0]
    assert "X-1" in next(r.detail for r in estimate.remarks if r.code == "tax_exempt")
    assert of_step(job(*rates), "sales_tax") == [1000, 900]


def test_allowances_are_not_marked_up_but_bonded() -> None:
    """600 of allowances: profit stays 10 % of 1150; the bond is on all of it: (1150 + 115 + 600) × 1/99 = 18.84."""
    asked = {"allowances": [{"title": "Unscheduled pipes", "count": "24", "unit_price": "25", "cost_code": "01 21 00"}]}
    profit, bond = percent("profit", "10", "cost", kind="markup"), overhead("bond", percent="1", on="price")
    estimate = job(profit, bond, fields=asked)
    assert amounts(estimate)[3:] == [("profit", 11500), ("allowances", 60000), ("bond", 1884)]
    assert estimate.up.cost_minor == 115000
    assert next(x for x in cost_codes(estimate) if x["code"] == "01 21 00")["other"] == "600.00"
    told = [derive(estimate, name) for name in ("cost_code.01~2021~2000", "cost_code.~")]
    assert [(x["title"], x["printed"]) for x in told] == [
        ("Cost code 01 21 00", "600.00 USD"),
        ("No cost code", "1283.84 USD"),
    ]


@pytest.mark.parametrize(
    ("minimum", "step", "lines"),
    [
        ("1000", "5", [("minimum_charge", 0), ("round_up_to", 0)]),
        ("1150", "100", [("minimum_charge", 0), ("round_up_to", 5000)]),
        ("1151", "5", [("minimum_charge", 100), ("round_up_to", 400)]),
        ("2000.50", "10", [("minimum_charge", 85050), ("round_up_to", 950)]),
        ("0", "1", [("minimum_charge", 0), ("round_up_to", 0)]),
    ],
)
def test_the_minimum_comes_before_rounding_up_and_both_have_lines_of_their_own(
    minimum: str, step: str, lines: list[tuple[str, int]]
) -> None:
    estimate = job(overhead("minimum_charge", amount=minimum), overhead("round_up_to", amount=step))
    assert amounts(estimate)[3:] == lines
    assert estimate.up.price_minor == 115000 + sum(amount for _, amount in lines)


def test_marks_carry_the_minimum_and_the_rounding_too() -> None:
    estimate = job(overhead("minimum_charge", amount="2000"))
    assert mark_prices(estimate) == {"A": 200000}


@pytest.mark.parametrize("minimum", ["0", "400"])
def test_a_minimum_says_up_to_what_and_where_it_is_waived(minimum: str) -> None:
    """Nothing to be done costs nothing by default: the line stands and says that its amount is waived."""
    given = edition(overheads=[overhead("minimum_charge", amount=minimum), overhead("round_up_to", amount="5")])
    waived, *_ = costed(request(), given).up.lines[-2:]
    least, rounding = costed(request(opening(), empty_price="zero"), given).up.lines[-2:]
    asked, _ = costed(request(empty_price="minimum"), given).up.lines[-2:]
    up_to = f"up to {minimum}.00"
    assert (least.basis, asked.basis, rounding.basis) == (up_to, up_to, "up to a multiple of 5.00")
    assert waived.basis == ("400.00 waived, as nothing is to be done" if minimum != "0" else up_to)
    assert (asked.amount, waived.amount) == (int(minimum), 0)
