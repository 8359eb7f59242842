"""Prices changed by formula over chosen rows; figures are invented and worked by hand beside each check."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.fields import Faults
from rates.core.price_formula import FORMULA, Formula, apply_formula
from tests.core.invented import Document, lift, material, materials, overhead, percent, worker


def read(**fields: Any) -> Formula:
    """A formula as a body states it."""
    faults: Faults = []
    found = FORMULA.read(fields, "", faults)
    assert isinstance(found, Formula), faults
    return found


def faults_of(**fields: Any) -> list[tuple[str, str]]:
    """(pointer, code) of what is wrong with a formula."""
    faults: Faults = []
    FORMULA.read(fields, "", faults)
    return [(f.pointer, f.code) for f in faults]


def told(
    rows: list[Document], currency: str = "USD", rounding: str = "half_up", **fields: Any
) -> list[tuple[str, ...]]:
    """(code, field, before, after) of each price changed."""
    after, found = apply_formula(rows, read(**fields), currency, rounding)
    assert len(after) == len(rows)
    return [(c.code, c.field, c.before, c.after) for c in found]


def test_all_mesh_four_percent_dearer() -> None:
    """60 × 1.04 = 62.40; nothing but mesh moves."""
    rows = [*materials(), material("mesh", "mesh-6", width="6 in", packs=[{"size": "150 ft", "price": "41.99"}])]
    found = told(rows, table="materials", price="price", role="mesh", change="+4 %")
    assert found == [("mesh", "packs/0/price", "60", "62.40"), ("mesh-6", "packs/0/price", "41.99", "43.67")]
    after, _ = apply_formula(rows, read(table="materials", price="price", role="mesh", change="+4 %"), "USD", "half_up")
    assert [row for row in after if row["role"] != "mesh"] == [row for row in rows if row["role"] != "mesh"]
    assert rows[1]["packs"][0]["price"] == "60"


@pytest.mark.parametrize(
    ("change", "wage"),
    [
        ("+4 %", "62.40"),
        ("-2.5%", "58.50"),
        ("+0.50", "60.50"),
        ("- 1", "59.00"),
        ("x 1.04", "62.40"),
        ("×1.1", "66.00"),
        ("= 71.5", "71.50"),
    ],
)
def test_the_ways_to_write_a_change(change: str, wage: str) -> None:
    assert told([worker()], table="labour", price="wage", change=change) == [("worker", "wage", "60", wage)]


@pytest.mark.parametrize(
    ("currency", "round_to", "rounding", "after"),
    [
        ("USD", None, "half_up", "10.51"),  # 10.30 × 1.02 = 10.506
        ("JPY", None, "half_up", "11"),
        ("KWD", None, "half_up", "10.506"),
        ("USD", "0.25", "half_up", "10.50"),
        ("USD", "5", "half_up", "10.00"),
        ("CLF", None, "half_even", "10.5060"),
    ],
)
def test_prices_are_rounded_once_to_the_minor_unit_or_a_stated_step(
    currency: str, round_to: str | None, rounding: str, after: str
) -> None:
    fields = {"round_to": round_to} if round_to else {}
    found = told([worker(wage="10.30")], currency, rounding, table="labour", price="wage", change="+2 %", **fields)
    assert found == [("worker", "wage", "10.30", after)]


@pytest.mark.parametrize(("rounding", "after"), [("half_up", "0.13"), ("half_even", "0.12")])
def test_a_half_goes_as_the_edition_says(rounding: str, after: str) -> None:
    """0.125: half away from zero 0.13, half to even 0.12."""
    found = told([worker(wage="0.25")], "USD", rounding, table="labour", price="wage", change="x 0.5")
    assert found == [("worker", "wage", "0.25", after)]


def test_criteria_hold_together() -> None:
    rows = [lift(), lift(code="lift-2", title="Big LIFT"), lift(code="frame", for_access=["frame_scaffold"])]
    every = {"table": "equipment", "price": "price", "change": "+1"}
    assert [c[0] for c in told(rows, **every)] == ["lift", "lift-2", "frame"]
    assert [c[0] for c in told(rows, **every, access="lift")] == ["lift", "lift-2"]
    assert [c[0] for c in told(rows, **every, access="lift", title_has="big lift")] == ["lift-2"]
    assert [c[0] for c in told(rows, **every, codes=["frame", "lift"], access="lift")] == ["lift"]
    assert told(rows, **every | {"price": "delivery"}) == []
    money = [overhead("minimum_charge", amount="1500"), percent("overhead", "10", "direct_cost")]
    assert told(money, table="overheads", price="amount", change="+10 %") == [
        ("minimum_charge", "amount", "1500", "1650.00")
    ]


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({}, [("/table", "missing"), ("/price", "missing"), ("/change", "missing")]),
        ({"table": "labour", "price": "delivery", "change": "+1"}, [("/price", "unknown_choice")]),
        ({"table": "labour", "price": "wage", "change": "+1", "role": "mesh"}, [("/role", "not_for_table")]),
        ({"table": "labour", "price": "wage", "change": "4"}, [("/change", "not_a_change")]),
        ({"table": "labour", "price": "wage", "change": "+1e5"}, [("/change", "not_a_change")]),
        ({"table": "labour", "price": "wage", "change": "+1.2.3"}, [("/change", "not_a_number")]),
        ({"table": "labour", "price": "wage", "change": "+1", "round_to": "0"}, [("/round_to", "too_small")]),
    ],
)
def test_what_is_no_formula_is_told(fields: Document, expected: Any) -> None:
    assert faults_of(**fields) == expected


@given(st.lists(st.integers(0, 10**7), min_size=1, max_size=5), st.integers(-99, 300))
def test_the_preview_is_exactly_the_difference(cents: list[int], per_cent: int) -> None:
    rows = [worker(f"w{i}", f"{c // 100}.{c % 100:02}") for i, c in enumerate(cents)]
    change = f"{'+' if per_cent >= 0 else '-'}{abs(per_cent)} %"
    after, found = apply_formula(rows, read(table="labour", price="wage", change=change), "USD", "half_up")
    changed = {r["code"]: (r["wage"], a["wage"]) for r, a in zip(rows, after, strict=True) if r["wage"] != a["wage"]}
    assert {c.code: (c.before, c.after) for c in found} == changed
    for cent, row in zip(cents, after, strict=True):
        expected = (cent * (100 + per_cent) * 2 + 100) // 200  # half up of non-negative cents, in whole numbers
        assert int(row["wage"].replace(".", "")) == expected
