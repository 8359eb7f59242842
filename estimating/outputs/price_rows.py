"""The price by place and by piece, as answers list it: breakouts, and unit prices for openings added and deducted."""

from __future__ import annotations

from estimating.core.breakouts import breakouts
from estimating.core.estimate import Estimate
from estimating.core.unit_prices import Change, UnitPrice, asked, unit_price
from rates.core.exact import print_quantity

Row = dict[str, object]
MOST_UNIT_PRICES = 20  # at once: each is two full estimates


def breakout_rows(estimate: Estimate) -> list[Row]:
    """The price by building, elevation, storey and phase; the rows of each sum to the price."""
    return [
        {
            "by": place.by,
            "name": place.name.strip() or None,
            "what": place.what,
            "openings": place.openings,
            "hours": print_quantity(place.touch_minutes / 60),
            "price": estimate.till.text(place.price_minor),
        }
        for place in breakouts(estimate)
    ]


def change_texts(way: str, change: Change | None, estimate: Estimate) -> Row:
    """What a change of the quantity does: unit price × openings + residual is the change."""
    text = estimate.till.text
    amounts = (change.unit_minor, change.change_minor, change.residual_minor) if change is not None else None
    names = (f"{way}_unit_price", f"{way}_change", f"{way}_residual")
    return dict(zip(names, map(text, amounts), strict=True)) if amounts else dict.fromkeys(names)


def unit_price_row(found: UnitPrice, quantity: int, estimate: Estimate) -> Row:
    """One mark's unit prices."""
    return {
        "mark": found.mark,
        "quantity": quantity,
        **change_texts("add", found.add, estimate),
        **change_texts("deduct", found.deduct, estimate),
        "reason": found.reason,
        "valid_from": str(found.valid_from),
        "valid_until": None if found.valid_until is None else str(found.valid_until),
    }


def unit_price_rows(estimate: Estimate, start: int, most: int) -> tuple[list[Row], bool]:
    """(the unit prices from a place in the list on, at most so many and MOST_UNIT_PRICES, whether there are more)."""
    wanted = asked(estimate)
    end = start + min(most, MOST_UNIT_PRICES)
    rows = [unit_price_row(unit_price(estimate, of), of.quantity, estimate) for of in wanted[start:end]]
    return rows, end < len(wanted)
