"""The price by place and by piece: breakouts and unit prices."""

from __future__ import annotations

from typing import Annotated, TypedDict

from estimating.outputs.documents.scalars import BrokenOut, BrokenOutBy, Day, Hours, Money


class BreakoutLine(TypedDict):
    """The price of one place; the rows of each `by` sum to the price."""

    by: BrokenOutBy
    name: Annotated[str | None, "null: it is no named place, `what` says what it is"]
    what: BrokenOut
    openings: int
    hours: Annotated[Hours, "touch hours"]
    price: Money


class UnitPriceLine(TypedDict):
    """Prices for openings of a mark added and deducted; a change is unit price × quantity + residual."""

    mark: str
    quantity: Annotated[int, "how many more or fewer the unit prices hold for"]
    add_unit_price: Money | None
    add_change: Annotated[Money | None, "of the whole price"]
    add_residual: Money | None
    deduct_unit_price: Money | None
    deduct_change: Annotated[Money | None, "of the whole price"]
    deduct_residual: Money | None
    reason: Annotated[str | None, "why one of them is not given"]
    valid_from: Annotated[Day, "the first day that they hold"]
    valid_until: Annotated[Day | None, "the last day that they hold"]
