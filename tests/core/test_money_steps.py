"""The build-up: the order of its steps, the base of each row, one rounding a line.

The plain job (plain_job.py) has labour 600.00, materials 150.00 of which 100.00 are taxable, and equipment 400.00.
Published rows are in test_published_values.py, the bond in test_bond.py, profit and the rest in test_price_steps.py.
"""

from __future__ import annotations

from itertools import permutations

import pytest

from estimating.outputs.answer import answer
from rates.core.steps import ORDER
from tests.core.invented import (
    amounts,
    costed,
    edition,
    material,
    opening,
    overhead,
    percent,
    request,
    worker,
)
from tests.core.plain_job import job, of_step, rows


def test_the_plain_job_is_labour_materials_and_equipment() -> None:
    estimate = job()
    assert amounts(estimate) == [("labour", 60000), ("materials", 15000), ("equipment", 40000)]
    assert (estimate.up.direct_minor, estimate.up.cost_minor, estimate.up.price_minor) == (115000, 115000, 115000)


def test_labour_materials_and_equipment_stand_even_at_nothing() -> None:
    assert amounts(costed(request())) == [("labour", 0), ("materials", 0), ("equipment", 0)]


ALL_STEPS = [
    percent("freight", "10", "materials"),
    percent("sales_tax", "10", "taxable_materials"),
    percent("small_tools", "10", "labour"),
    overhead("travel", amount="0", on="mobilisations"),
    overhead("per_diem", amount="0", on="worker_days"),
    overhead("return_trips", amount="0", on="return_trips"),
    percent("overhead", "10", "direct_cost"),
    percent("contingency", "10", "direct_cost_and_overhead"),
    percent("profit", "10", "cost", kind="markup"),
    overhead("bond", percent="1", on="price"),
    overhead("gross_receipts_tax", percent="0.5", on="price"),
    overhead("minimum_charge", amount="100"),
    overhead("round_up_to", amount="50"),
]


def test_every_step_in_its_order() -> None:
    """Worked: freight 15.00, tax 10.00, tools 60.00, subcontract 100.00, direct 1335.00; overhead 133.50, contingency
    146.85, cost 1615.35, profit 161.54, allowance 50.00, together 1826.89; X = 1826.89 / 0.985 = 1854.71, of which
    bond 18.55 and tax 9.27; to the next 50: 45.29.
    """
    asked = {
        "subcontracts": [{"title": "Testing", "amount": "100", "taxable": False}],
        "allowances": [{"title": "Pipes", "count": "4", "unit_price": "12.50"}],
    }
    estimate = job(*ALL_STEPS, fields=asked)
    assert amounts(estimate) == [
        ("labour", 60000),
        ("materials", 15000),
        ("freight", 1500),
        ("sales_tax", 1000),
        ("equipment", 40000),
        ("small_tools", 6000),
        ("travel", 0),
        ("per_diem", 0),
        ("return_trips", 0),
        ("subcontracts", 10000),
        ("overhead", 13350),
        ("contingency", 14685),
        ("profit", 16154),
        ("allowances", 5000),
        ("bond", 1855),
        ("gross_receipts_tax", 927),
        ("minimum_charge", 0),
        ("round_up_to", 4529),
    ]
    assert [step for step, _ in amounts(estimate)] == list(ORDER)
    assert (estimate.up.direct_minor, estimate.up.cost_minor, estimate.up.price_minor) == (133500, 161535, 190000)


def test_the_order_of_rows_does_not_matter_between_steps() -> None:
    """Overhead and contingency alone keep the order of their rows."""
    expected = amounts(job(*ALL_STEPS))
    two = [row for row in ALL_STEPS if row["step"] in ("overhead", "contingency")]
    others = [row for row in ALL_STEPS if row not in two]
    for turn in range(len(others)):
        turned = others[turn:] + others[:turn]
        assert amounts(job(two[0], *turned, two[1])) == expected
        assert amounts(job(*reversed(turned), *two)) == expected


def test_overhead_and_contingency_rows_stand_in_their_own_order() -> None:
    """A contingency written first is on direct cost alone; the overhead after it then has it among all above."""
    first, then = percent("contingency", "10", "running"), percent("overhead", "10", "running")
    assert amounts(job(first, then))[3:] == [("contingency", 11500), ("overhead", 12650)]
    assert amounts(job(then, first))[3:] == [("overhead", 11500), ("contingency", 12650)]


def test_rows_of_one_step_run_in_their_own_order() -> None:
    """10 % and 5 % of everything above: 115.00 and 63.25, or 57.50 and 120.75."""
    ten, five = percent("overhead", "10", "running", "ten"), percent("overhead", "5", "running", "five")
    found = [of_step(job(*order), "overhead") for order in permutations([ten, five])]
    assert found == [[11500, 6325], [5750, 12075]]


@pytest.mark.parametrize(
    ("step", "on", "above", "amount"),
    [
        ("freight", "labour", [], 6000),
        ("freight", "materials", [], 1500),
        ("freight", "taxable_materials", [], 1000),
        ("freight", "equipment", [], 4000),
        ("freight", "running", [], 7500),  # labour and materials stand above
        ("sales_tax", "labour", [], 6000),
        ("sales_tax", "materials", [], 1500),
        ("sales_tax", "taxable_materials", [], 1000),
        ("sales_tax", "equipment", [], 4000),
        ("sales_tax", "running", ["freight"], 7650),
        ("small_tools", "taxable_materials", [], 1000),
        ("small_tools", "equipment", [], 4000),
        ("small_tools", "running", ["freight", "sales_tax"], 11750),  # 600 + 150 + 15 + 10 + 400
        ("overhead", "labour", ["freight"], 6000),
        ("overhead", "direct_cost", ["freight"], 11650),
        ("overhead", "direct_cost_and_overhead", ["freight"], 11650),
        ("overhead", "running", ["freight"], 11650),
        ("contingency", "materials", ["overhead"], 1500),
        ("contingency", "equipment", ["overhead"], 4000),
        ("contingency", "direct_cost", ["overhead"], 11500),
        ("contingency", "direct_cost_and_overhead", ["overhead"], 12650),
        ("contingency", "running", ["overhead"], 12650),
        ("profit", "labour", ["overhead"], 6000),
        ("profit", "direct_cost", ["overhead"], 11500),
        ("profit", "direct_cost_and_overhead", ["overhead", "contingency"], 12650),
        ("profit", "cost", ["overhead", "contingency"], 13915),
        ("profit", "running", ["overhead", "contingency"], 13915),
    ],
)
def test_ten_percent_of_each_base(step: str, on: str, above: list[str], amount: int) -> None:
    own = {"kind": "markup"} if step == "profit" else {}
    estimate = job(*(row for row in ALL_STEPS if row["step"] in above), percent(step, "10", on, **own))
    assert of_step(estimate, step) == [amount]


@pytest.mark.parametrize("step", ["freight", "sales_tax", "small_tools", "overhead", "contingency"])
def test_a_row_may_state_an_amount(step: str) -> None:
    estimate = job(overhead(step, amount="33.335"))
    assert of_step(estimate, step) == [3334]
    empty = costed(request(), edition(overheads=[overhead(step, amount="33.33")]))
    assert of_step(empty, step) == [0]  # nothing to do costs nothing


def test_overhead_may_go_by_paid_hours() -> None:
    """10 standard hours of a worker who gives half an hour in one: 20 paid hours at 2.505."""
    rows = [worker(wage="30", productive_share="0.5")]
    estimate = job(overhead("overhead", amount="2.505", on="paid_hours"), labour=rows)
    assert of_step(estimate, "overhead") == [5010]
    assert of_step(estimate, "labour") == [60000]


@pytest.mark.parametrize(("rounding", "cents"), [("half_up", 26), ("half_even", 24)])
def test_each_row_is_rounded_and_then_summed(rounding: str, cents: int) -> None:
    """Two rows of 0.125 are 0.13 + 0.13, or 0.12 + 0.12 by half to even; never 0.25."""
    free = [m for m in rows() if m["role"] != "consumable"]
    pieces = [
        material("consumable", f"p{i}", per="opening", packs=[{"size": "1 each", "price": "0.125"}]) for i in (1, 2)
    ]
    estimate = costed(request(opening()), edition(materials=[*free, *pieces], rounding=rounding))
    assert of_step(estimate, "materials") == [cents]


def test_a_percentage_is_worked_on_rounded_sums_and_rounded_once() -> None:
    """One opening at 1.005 an hour for half an hour is 0.5025, rounded 0.50; 1 % of 0.50 is 0.005, rounded 0.01."""
    estimate = costed(
        request(opening()), edition(labour=[worker(wage="1.005")], overheads=[percent("overhead", "1", "labour")])
    )
    assert (of_step(estimate, "labour"), of_step(estimate, "overhead")) == ([50], [1])


@pytest.mark.parametrize(
    ("currency", "rounding", "minor"),
    [
        ("USD", "half_up", 123457),  # 1234.565
        ("USD", "half_even", 123456),
        ("JPY", "half_up", 1235),  # no minor unit
        ("JPY", "half_even", 1235),
        ("KWD", "half_up", 1234565),  # three places
        ("CLF", "half_up", 12345650),  # four
    ],
)
def test_amounts_are_in_the_currencys_minor_unit(currency: str, rounding: str, minor: int) -> None:
    """Places by ISO 4217."""
    asked = request(subcontracts=[{"title": "Testing", "amount": "1234.565"}])
    estimate = costed(asked, edition(currency=currency, rounding=rounding))
    assert estimate.up.price_minor == minor
    printed = answer(estimate)["totals"]
    places = {"USD": 2, "JPY": 0, "KWD": 3, "CLF": 4}[currency]
    assert printed["price"] == (f"{minor / 10**places:.{places}f}")
