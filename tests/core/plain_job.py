"""A job with round sums to put overhead rows on: labour 600.00, materials 150.00 (100.00 taxable), equipment 400.00.

20 windows × 30 minutes at 60.00 an hour are 10 hours, done from a lift at 200.00 for two days. All rates are invented.
"""

from __future__ import annotations

from typing import Any

from estimating.core.estimate import Estimate
from tests.core.invented import (
    Document,
    amounts,
    costed,
    edition,
    lift,
    material,
    materials,
    opening,
    request,
)


def rows() -> list[Document]:
    """Materials of which only the consumables cost anything: 5.00 taxable and 2.50 untaxed an opening."""
    free = [m | {"packs": [p | {"price": "0"} for p in m["packs"]]} for m in materials()]
    taxed = material("consumable", "taxed", per="opening", packs=[{"size": "1 each", "price": "5"}])
    untaxed = material(
        "consumable", "untaxed", per="opening", packs=[{"size": "1 each", "price": "2.50"}], taxable=False
    )
    return [*free, taxed, untaxed]


def job(*overheads: Document, fields: Document | None = None, **tables: Any) -> Estimate:
    """The plain job under these overhead rows."""
    plain: Document = {"materials": rows(), "equipment": [lift()], "overheads": list(overheads)}
    return costed(request(opening(quantity=20, access="lift"), **fields or {}), edition(**plain | tables))


def of_step(estimate: Estimate, step: str) -> list[int]:
    """The amounts of a step."""
    return [amount for name, amount in amounts(estimate) if name == step]
