"""From net quantities to packs and money: net -> waste once -> less stock on hand -> whole packs of the project total.

Base units: nm of length, nm³ of volume, pieces. Rounding: each row's amount once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from estimating.core.packs import Mix, least_cost_mix, lowest_unit_price
from estimating.core.request import Request
from estimating.core.strips import packs_of
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.money import round_to_minor
from rates.core.problems import Problem, escape
from rates.core.rows import MaterialRow, Waste


@dataclass(frozen=True)
class MaterialLine:
    """One material's quantities and money; mix is None where the price is of the share used."""

    row: MaterialRow
    net: Fraction
    waste: Waste
    gross: Fraction
    stock: Fraction
    needed: Fraction
    mix: Mix
    as_used: bool
    unit_price: Fraction
    exact_amount: Fraction
    amount_minor: int


def stock_on_hand(request: Request, card: Card, faults: Faults) -> dict[str, Fraction]:
    """Stock by material code in base units; a code or unit that the edition does not have is a fault."""
    rows = {row.code: row for row in card.materials}
    found: dict[str, Fraction] = {}
    for code, (dimension, size) in request.stock:
        at = "/stock" + escape(code)
        row = rows.get(code)
        if row is None:
            faults.append(Problem(at, "unknown_row", f'the edition has no material "{code}"'))
        elif row.packs[0].dimension != dimension or size < 0:
            faults.append(Problem(at, "wrong_dimension", f"stock of {code} is a {row.packs[0].dimension}"))
        else:
            found[code] = size
    return found


def material_line(
    row: MaterialRow, net: Fraction, stock: Fraction, request: Request, card: Card, smooth: bool
) -> MaterialLine:
    """The row bought, or its share used; `smooth` prices fractional packs at the lowest unit price."""
    waste = row.waste_at(request.temperature)
    gross = net * waste.gross_factor
    needed = max(Fraction(0), gross - stock)
    packs = packs_of(row)
    mix, unit_price = least_cost_mix(needed, packs), lowest_unit_price(packs)
    as_used = smooth or row.price_as == "used"
    exact = needed * unit_price if as_used else mix.cost
    amount = round_to_minor(exact, card.currency, card.rounding)
    return MaterialLine(row, net, waste, gross, stock, needed, mix, as_used, unit_price, exact, amount)


def material_lines(
    net: Mapping[str, Fraction], stock: Mapping[str, Fraction], request: Request, card: Card, smooth: bool
) -> tuple[MaterialLine, ...]:
    """A line for each row of which something is used, in the order of the table."""
    return tuple(
        material_line(row, net[row.code], stock.get(row.code, Fraction(0)), request, card, smooth)
        for row in card.materials
        if net.get(row.code)
    )
