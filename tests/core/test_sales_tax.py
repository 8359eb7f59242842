"""Sales tax worked once for the invoice or item by item, rounded up from the half of the last place.

Streamlined Sales and Use Tax Agreement, section 324: to the third decimal, up when it exceeds 4, by item or by invoice
at the seller's choice; three things of 0.10 at 5 % are 0.03 by item and 0.02 by invoice. Other figures by hand.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from estimating.core.derivation import derive, figures
from estimating.core.estimate import Estimate
from rates.core.problems import Refused
from tests.core.derivation_walk import Walk
from tests.core.invented import Document, costed, edition, lift, material, materials, opening, percent, request
from tests.core.plain_job import of_step


def consumables(*prices: str, **fields: Any) -> list[Document]:
    """A consumable at each price, one to an opening; all that an opening needs besides costs nothing."""
    free = [m | {"packs": [p | {"price": "0"} for p in m["packs"]]} for m in materials()]
    each = [
        material("consumable", f"c{i}", per="opening", packs=[{"size": "1 each", "price": price}], **fields)
        for i, price in enumerate(prices)
    ]
    return [*free, *each]


def documents(
    by: str | None, *rows: Document, tax: tuple[Document, ...] = (), asked: Document | None = None, **tables: Any
) -> tuple[Document, Document]:
    """(request, edition) of one opening with these materials."""
    head = {"sales_tax_by": by} if by else {}
    taxes = list(tax) or [percent("sales_tax", "5", "taxable_materials")]
    whole = edition(materials=list(rows), overheads=taxes, **tables | head)
    return request(opening(), **asked or {}), whole


def job(by: str | None, *rows: Document, **fields: Any) -> Estimate:
    """The estimate of those documents."""
    return costed(*documents(by, *rows, **fields))


@pytest.mark.parametrize(("by", "cents"), [("item", 3), ("invoice", 2), (None, 2)])
def test_three_things_of_ten_cents_at_five_percent(by: str | None, cents: int) -> None:
    """0.10 × 5 % = 0.005 is 0.01 each; 0.30 × 5 % = 0.015 is 0.02. Without a word it is by invoice."""
    assert of_step(job(by, *consumables("0.10", "0.10", "0.10")), "sales_tax") == [cents]


@pytest.mark.parametrize(
    ("price", "cents"), [("0.08", 0), ("0.09", 0), ("0.10", 1), ("0.29", 1), ("0.30", 2), ("0.28", 1)]
)
def test_up_when_the_third_decimal_exceeds_four(price: str, cents: int) -> None:
    assert of_step(job("item", *consumables(price)), "sales_tax") == [cents]


def test_what_is_not_taxable_is_no_item() -> None:
    rows = [*consumables("0.10", "0.10"), *consumables("0.10", taxable=False)[-1:]]
    rows[-1]["code"] = "free"
    assert of_step(job("item", *rows), "sales_tax") == [2]


def test_taxable_subcontracts_are_items_and_a_certificate_takes_all_away() -> None:
    contracts = [{"title": "A", "amount": "0.10"}, {"title": "B", "amount": "0.10", "taxable": False}]
    asked = {"subcontracts": contracts}
    assert of_step(job("item", *consumables("0.10"), asked=asked), "sales_tax") == [2]
    exempt = asked | {"exemption_certificate": "EX-1"}
    assert of_step(job("item", *consumables("0.10"), asked=exempt), "sales_tax") == [0]


def test_equipment_is_taxed_row_by_row_and_a_base_without_items_once() -> None:
    lifts = [
        lift(rental=[{"period": "day", "price": "0.10"}]),
        lift(code="b", rental=[{"period": "day", "price": "0.10"}]),
    ]
    taxes = (percent("sales_tax", "5", "equipment", "on-equipment"), percent("sales_tax", "5", "labour", "on-labour"))
    made = costed(
        request(opening(access="lift")),
        edition(materials=consumables(), equipment=lifts, overheads=list(taxes), sales_tax_by="item"),
    )
    assert of_step(made, "sales_tax") == [2, 150]  # labour is 30 minutes at 60.00


def test_a_later_row_on_everything_above_sees_the_tax_item_by_item() -> None:
    """30.00 labour, 0.30 materials, 0.03 tax: 100 % of 30.33."""
    taxes = (percent("sales_tax", "5", "taxable_materials", "a"), percent("sales_tax", "100", "running", "b"))
    assert of_step(job("item", *consumables("0.10", "0.10", "0.10"), tax=taxes), "sales_tax") == [3, 3033]


@pytest.mark.parametrize("by", ["item", "invoice"])
def test_every_figure_evaluates_again_from_its_leaves(by: str) -> None:
    asked = {"subcontracts": [{"title": "A", "amount": "0.10"}]}
    ask, whole = documents(by, *consumables("0.10", "0.30"), asked=asked)
    made = costed(ask, whole)
    walk = Walk(ask, [whole])
    for name in figures(made):
        walk.add(derive(made, name, depth=1000))
        step = walk.steps[name]
        if step["unit"] != "text":
            assert walk.value(name) == Fraction(step["value"]), name
    items = [name for name in figures(made) if ".item." in name]
    assert len(items) == (2 * 5 if by == "item" else 0)  # liquid and mesh at 0, two consumables, the contract


def test_an_unknown_way_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        job("month", *consumables("0.10"))
    assert [(p.pointer, p.code) for p in refused.value.problems] == [("/sales_tax_by", "unknown_choice")]
