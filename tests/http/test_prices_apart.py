"""Over HTTP: alternates alone and together, unit prices, breakouts; who sees them, and what is refused.

The golden request: A 10, B 4, C 2, its price 1,655.00 worked by hand elsewhere; here prices are checked by their laws.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from tests.cast import Api, Office, make_person
from tests.db.making import golden_request

ADDED = {"mark": "X", "quantity": 3, "width": "48 in", "height": "48 in", "access": "ground", "elevation": "West"}


@pytest.fixture
def path(api: Api, office: Office) -> str:
    """The address of the golden estimate with two adds, its doors a deduct, and a unit price of A for up to four."""
    request = golden_request(office)
    lines = [line | {"building": "East wing", "phase": "1"} for line in request["openings"]]
    lines[-1] |= {"alternate": {"name": "no doors", "kind": "deduct"}}
    lines += [ADDED | {"alternate": "1"}, ADDED | {"mark": "Y", "alternate": {"name": "2", "kind": "add"}}]
    wanted = [{"mark": lines[0]["mark"], "quantity": 4, "valid_until": "2027-12-31"}]
    made = api.estimate(request | {"openings": lines, "unit_prices": wanted})
    assert made.status_code == 201, made.content
    assert made.json()["totals"]["price"] == "1655.00"
    return f"/v1/estimates/{made.json()['id']}"


def items(api: Api, path: str) -> list[dict[str, Any]]:
    """The items of a list."""
    answer = api.get(path)
    assert answer.status_code == 200, answer.content
    found: list[dict[str, Any]] = answer.json()["items"]
    return found


def test_alternates_are_full_prices_alone_and_together(api: Api, path: str) -> None:
    alone = items(api, f"{path}/alternates")
    assert [(x["alternate"], x["kind"], x["openings"]) for x in alone] == [
        ("no doors", "deduct", 2), ("1", "add", 3), ("2", "add", 3),
    ]  # fmt: skip
    assert all(Decimal(x["adds"]) == Decimal(x["price"]) - Decimal("1655.00") for x in alone)
    assert Decimal(alone[0]["adds"]) < 0 < Decimal(alone[1]["adds"])
    (both,) = items(api, f"{path}/alternates?accept=1;2")
    assert both["accepted"] == ["1", "2"] and both["openings"] == 6
    assert Decimal(both["adds_alone"]) == Decimal(alone[1]["adds"]) + Decimal(alone[2]["adds"])
    assert Decimal(both["adds"]) < Decimal(both["adds_alone"])  # West is set up once
    refused = api.get(f"{path}/alternates?accept=9")
    assert (refused.status_code, refused.json()["errors"][0]["code"]) == (422, "unknown_alternate")


def test_unit_prices_are_those_asked_for(api: Api, path: str) -> None:
    (found,) = items(api, f"{path}/unit-prices")
    assert (found["quantity"], found["valid_until"], found["reason"]) == (4, "2027-12-31", None)
    for way in ("add", "deduct"):
        unit, change, residual = (Decimal(found[f"{way}_{name}"]) for name in ("unit_price", "change", "residual"))
        assert unit * 4 + residual == change
    assert Decimal(found["deduct_change"]) < 0 < Decimal(found["add_change"])


def test_breakouts_sum_to_the_price_and_are_seen_by_sales(api: Api, office: Office, path: str) -> None:
    found = items(api, f"{path}/breakouts")
    for by in ("building", "elevation", "storey", "phase"):
        assert sum(Decimal(x["price"]) for x in found if x["by"] == by) == Decimal("1655.00")
    assert [(x["name"], x["what"]) for x in found if x["by"] == "building"] == [("East wing", "place")]
    sales = make_person(office, "sales", "sam@office.example")
    assert items(sales, f"{path}/breakouts") == found
    assert items(sales, f"{path}/unit-prices") == items(api, f"{path}/unit-prices")
    assert sales.get(f"{path}/alternates").status_code == 403


def test_every_mark_has_a_unit_price_where_none_is_asked_for(api: Api, office: Office) -> None:
    made = api.estimate(golden_request(office)).json()
    path = f"/v1/estimates/{made['id']}/unit-prices"
    found = items(api, path)
    assert [(x["mark"], x["quantity"]) for x in found] == [(x["mark"], 1) for x in made["by_mark"]]
    first = api.get(f"{path}?limit=2").json()
    assert first["items"] == found[:2] and first["next"]
    assert items(api, f"{path}?cursor={first['next']}") == found[2:]
    rows = api.get(f"{path}.csv").content.decode().splitlines()
    assert rows[0].startswith("mark,quantity,add_unit_price") and len(rows) == len(found) + 1
