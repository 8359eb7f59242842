"""What a quote offers beside its price: alternates, each alone, and the unit prices that were asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.alternates import Offered, alternates
from estimating.core.estimate import Estimate
from estimating.core.schedule_lines import ADD, DEDUCT
from estimating.core.unit_prices import unit_price
from estimating.outputs.printed.amounts import print_amount, print_signed

WHEN_ASKED = "when asked"


@dataclass(frozen=True)
class LetterAlternate:
    """An alternate as customers read it. change: what it alone does to the price, as printed."""

    name: str
    what: str
    openings: int
    change: str


@dataclass(frozen=True)
class LetterUnitPrice:
    """For up to so many openings of a mark more, or fewer: the price of each as printed, blank where there is none."""

    mark: str
    openings: int
    more: str
    fewer: str
    holds: str


def option_rows(estimate: Estimate) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """(the alternates of the schedule, the unit prices that the request asks for), as they are kept with a quote.

    Amounts in minor units, None where there is no price.
    """
    price = estimate.up.price_minor
    offered = [
        {
            "name": one.name,
            "what": what_it_does(one),
            "openings": one.openings,
            "change_minor": None if variant.up is None else variant.up.price_minor - price,
        }
        for one, variant in alternates(estimate)
    ]
    units = []
    for of in estimate.request.unit_prices:
        found = unit_price(estimate, of)
        more, fewer = (None if x is None else x.unit_minor for x in (found.add, found.deduct))
        until = f" to {found.valid_until}" if found.valid_until is not None else " on"
        row = {"mark": found.mark, "openings": of.quantity, "more_minor": more, "fewer_minor": fewer}
        units.append(row | {"holds": f"{found.valid_from}{until}"})
    return offered, units


def what_it_does(one: Offered) -> str:
    """Which openings come or go."""
    if one.kind == ADD:
        return "added"
    return "left out" if one.kind == DEDUCT else f"in place of {', '.join(one.replaces)}"


def letter_alternates(rows: Sequence[Mapping[str, Any]], currency: str) -> Iterator[LetterAlternate]:
    """The alternates as printed."""
    for row in rows:
        change = row["change_minor"]
        told = WHEN_ASKED if change is None else print_signed(change, currency)
        yield LetterAlternate(row["name"], row["what"], row["openings"], told)


def letter_unit_prices(rows: Sequence[Mapping[str, Any]], currency: str) -> Iterator[LetterUnitPrice]:
    """The unit prices as printed."""
    for row in rows:
        each = [row["more_minor"], row["fewer_minor"]]
        more, fewer = ("" if minor is None else print_amount(minor, currency) for minor in each)
        yield LetterUnitPrice(row["mark"], row["openings"], more, fewer, row["holds"])
