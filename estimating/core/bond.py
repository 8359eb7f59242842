"""The bond premium on the price that contains it, in tiers, solved together with a receipts tax on the same price."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from estimating.core.figures.rules import rule
from rates.core.fraction import Fraction


@dataclass(frozen=True, slots=True)
class Tier:
    """The rate (0.025 for 2.5 %) on the part of the price up to and including `up_to`; None: without end."""

    up_to: Fraction | None
    rate: Fraction


class Solved(NamedTuple):
    """Exact parts of one price, in the unit of its base: base + bond + tax = price."""

    bond: Fraction
    tax: Fraction
    price: Fraction


def _require_tiers(tiers: Sequence[Tier]) -> None:
    if not tiers or tiers[-1].up_to is not None:
        raise ValueError("the last tier has no upper end")
    ends = [Fraction(0)]
    for tier in tiers[:-1]:
        if tier.up_to is None:
            raise ValueError("only the last tier has no upper end")
        ends.append(tier.up_to)
    if any(later <= earlier for earlier, later in pairwise(ends)):
        raise ValueError("the upper ends of tiers rise from above 0")
    if any(tier.rate < 0 for tier in tiers):
        raise ValueError("a rate is at least 0")


def premium(price: Fraction, tiers: Sequence[Tier]) -> Fraction:
    """The exact premium on a price of at least 0: each tier's rate on its own part of the price.

    Same unit as the price; continuous at the tiers' ends. ValueError for a price below 0 or tiers out of order.
    """
    _require_tiers(tiers)
    if price < 0:
        raise ValueError("a price is at least 0")
    total, start = Fraction(0), Fraction(0)
    for tier in tiers:
        end = price if tier.up_to is None else min(price, tier.up_to)
        total += max(end - start, Fraction(0)) * tier.rate
        start = max(start, end)
    return total


def solve_price(base: Fraction, tiers: Sequence[Tier], tax_rate: Fraction) -> Solved:
    """The bond, tax and price X with X = base + premium(X) + tax_rate·X, exact and in the unit of the base.

    Within a tier that starts at s the equation is linear: X·(1 − rate − tax) = base + premium(s) − rate·s. The solution
    of the tier where it lands is the only one, because X − premium(X) − tax·X rises. ValueError for a base or tax below
    0, and where a tier's rate and the tax take the whole price (1 or more).
    """
    _require_tiers(tiers)
    if base < 0 or tax_rate < 0:
        raise ValueError("the base and the tax rate are at least 0")
    if max(tier.rate for tier in tiers) + tax_rate >= 1:
        raise ValueError("bond and tax together take the whole price")
    start = paid = Fraction(0)
    for tier in tiers:
        price = (base + paid - tier.rate * start) / (1 - tier.rate - tax_rate)
        if tier.up_to is None or price <= tier.up_to:
            break
        paid += tier.rate * (tier.up_to - start)
        start = tier.up_to
    bond, tax = premium(price, tiers), tax_rate * price
    if base + bond + tax != price:
        raise ArithmeticError("the price does not lie in the tier it was solved in")
    return Solved(bond, tax, price)


def tiers_of(terms: Sequence[tuple[Fraction, ...]]) -> tuple[Tier, ...]:
    """Tiers from terms (up to, percent), the last (percent,) alone; none cost nothing."""
    made = [Tier(term[0] if len(term) == 2 else None, term[-1] / 100) for term in terms]
    return tuple(made) or (Tier(None, Fraction(0)),)


@rule("X = first + tiered premium of X + second % of X")
def price_with_bond_and_tax(base: Fraction, tax_percent: Fraction, *tiers: tuple[Fraction, ...]) -> Fraction:
    """The price that contains both."""
    return solve_price(base, tiers_of(tiers), Fraction(tax_percent) / 100).price


@rule("premium of the first by tiers")
def tiered(price: Fraction, *tiers: tuple[Fraction, ...]) -> Fraction:
    """Each tier's percentage of its own part of the price."""
    return premium(price, tiers_of(tiers))
