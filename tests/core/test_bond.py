"""The bond on the price that contains it, against published premiums and its own definition."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.bond import Tier, premium, solve_price
from rates.core.money import print_money, round_to_minor

INSURANCE_JOURNAL = "Insurance Journal blog, 27 Oct 2021: 25, 15 and 10 per thousand"
WORKED = "worked figure: 2.5 % of the first 100,000 and 1.5 % of the next 400,000, on 180,000"


def tiers(*rows: tuple[int | None, str]) -> list[Tier]:
    return [Tier(None if end is None else Fraction(end), Fraction(rate)) for end, rate in rows]


THOUSANDS = tiers((100_000, "0.025"), (500_000, "0.015"), (None, "0.010"))


def test_published_premium() -> None:
    assert premium(Fraction(1_000_000), THOUSANDS) == 13_500, INSURANCE_JOURNAL


def test_premium_inside_the_price() -> None:
    """Computed from the published rates: 986,500 of cost makes exactly 1,000,000."""
    assert solve_price(Fraction(986_500), THOUSANDS, Fraction(0)) == (13_500, 0, 1_000_000)


def test_worked_price() -> None:
    price = solve_price(Fraction(180_000), tiers((100_000, "0.025"), (None, "0.015")), Fraction(0)).price
    assert print_money(round_to_minor(price, "USD"), "USD") == "183756.35", WORKED


def test_bond_at_one_rate_of_the_price() -> None:
    """The worked example: 1,464.38 of cost and 162.71 of profit, bond 1.5 % of the price: 24.78."""
    bond = solve_price(Fraction("1627.09"), tiers((None, "0.015")), Fraction(0)).bond
    assert print_money(round_to_minor(bond, "USD"), "USD") == "24.78"


def test_bond_and_tax_together() -> None:
    """X = base / (1 − b − t) at one rate of each."""
    assert solve_price(Fraction(100), tiers((None, "0.03")), Fraction("0.02")).price == Fraction(100) / Fraction("0.95")


@pytest.mark.parametrize("end", [100_000, 500_000])
def test_premium_is_continuous_at_the_ends(end: int) -> None:
    step = Fraction(1, 10**9)
    at = premium(Fraction(end), THOUSANDS)
    assert at - premium(end - step, THOUSANDS) <= step
    assert premium(end + step, THOUSANDS) - at <= step


def test_effective_rate_falls() -> None:
    prices = [Fraction(p) for p in (50_000, 100_000, 150_000, 500_000, 800_000, 2_000_000)]
    rates = [premium(price, THOUSANDS) / price for price in prices]
    assert rates == sorted(rates, reverse=True)
    assert (rates[0], rates[1]) == (Fraction("0.025"), Fraction("0.025"))


def test_the_end_of_a_tier_belongs_to_it() -> None:
    assert solve_price(Fraction(97_500), THOUSANDS, Fraction(0)) == (2_500, 0, 100_000)


rate = st.integers(0, 200).map(lambda per_mille: Fraction(per_mille, 1000))


@st.composite
def any_tiers(draw: st.DrawFn) -> list[Tier]:
    widths = draw(st.lists(st.integers(1, 10**6), max_size=4))
    ends: list[Fraction | None] = [Fraction(end) for end in accumulate(widths)]
    return [Tier(end, draw(rate)) for end in [*ends, None]]


@given(st.fractions(0, 10**7, max_denominator=100), any_tiers(), rate)
def test_the_parts_make_the_price(base: Fraction, rows: list[Tier], tax_rate: Fraction) -> None:
    bond, tax, price = solve_price(base, rows, tax_rate)
    assert base + bond + tax == price
    assert tax == tax_rate * price
    assert bond == _by_hand(price, rows)


def _by_hand(price: Fraction, rows: list[Tier]) -> Fraction:
    """Each tier's part of the price, from the difference of the price cut at its two ends."""
    ends = [Fraction(0), *(price if row.up_to is None else min(row.up_to, price) for row in rows)]
    return sum((row.rate * (high - low) for row, low, high in zip(rows, ends, ends[1:], strict=False)), Fraction(0))


@given(st.integers(0, 10**6), any_tiers(), rate)
def test_the_price_rises_with_its_base(base: int, rows: list[Tier], tax_rate: Fraction) -> None:
    here, above = (solve_price(Fraction(b), rows, tax_rate).price for b in (base, base + 1))
    assert above > here >= base


@pytest.mark.parametrize(
    ("base", "rows", "tax_rate"),
    [
        ("1", [(None, "0.6")], "0.4"),  # the whole price
        ("1", [(100, "0.99"), (None, "0.01")], "0.01"),  # the whole price in the first tier
        ("-1", [(None, "0.01")], "0"),
        ("1", [(None, "0.01")], "-0.01"),
        ("1", [(None, "-0.01")], "0"),
        ("1", [], "0"),
        ("1", [(100, "0.01")], "0"),  # no tier without end
        ("1", [(None, "0.01"), (None, "0.01")], "0"),
        ("1", [(100, "0.02"), (100, "0.01"), (None, "0.01")], "0"),
        ("1", [(0, "0.02"), (None, "0.01")], "0"),
    ],
)
def test_impossible_bonds_are_refused(base: str, rows: list[tuple[int | None, str]], tax_rate: str) -> None:
    with pytest.raises(ValueError):
        solve_price(Fraction(base), tiers(*rows), Fraction(tax_rate))


def test_no_premium_on_a_price_below_nothing() -> None:
    with pytest.raises(ValueError):
        premium(Fraction(-1), THOUSANDS)
