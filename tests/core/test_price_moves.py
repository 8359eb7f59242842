"""What an edition moves against the one before it: prices and wages past a limit, rows that went; every rate invented.

Percentages by hand beside each case. Laws: with a limit of nothing every changed price is told and an unchanged one
never; of two limits the wider one tells no more; the reverse comparison tells the same prices.
"""

from __future__ import annotations

import copy
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.price_moves import Moves, edition_moves
from tests.core.invented import Document, edition, lift, overhead, production, worker

BEFORE = edition(
    labour=[worker(code="journeyman", title="Journeyman", wage="36.00", fringe="8.00")],
    equipment=[lift()],
    production=production(access={"lift": "1.2"}),
    overheads=[overhead("minimum_charge", amount="500")],
)


def moves(change: Any, limit: str = "10") -> Moves:
    """What a changed copy of the edition moves."""
    after = copy.deepcopy(BEFORE)
    change(after["tables"])
    return edition_moves(BEFORE, after, Fraction(limit) / 100)


def sentences(change: Any, limit: str = "10") -> list[str]:
    """Every sentence about a changed copy."""
    found = moves(change, limit)
    return [told.sentence for told in found.prices] + [told.sentence for told in found.gone]


def set_wage(wage: str) -> Any:
    """Sets the wage."""
    return lambda tables: tables["labour"][0].update(wage=wage)


def liquid(tables: Document) -> Document:
    """The row of the liquid."""
    return next(row for row in tables["materials"] if row["role"] == "liquid")


@pytest.mark.parametrize(
    ("wage", "told"),
    [
        ("39.60", []),  # 3.60 / 36.00 is 10 % exactly: not past it
        ("39.61", ["Journeyman (journeyman): wage 36.00 to 39.61 an hour, up 10.03 %."]),  # 10.03 %
        ("32.40", []),
        ("30.00", ["Journeyman (journeyman): wage 36.00 to 30.00 an hour, down 16.67 %."]),
        ("3400", ["Journeyman (journeyman): wage 36.00 to 3,400.00 an hour, up 9344.44 %."]),  # 3364 / 36
    ],
)
def test_a_wage_that_moves_past_the_limit_is_told_in_percent(wage: str, told: list[str]) -> None:
    assert sentences(set_wage(wage)) == told


def test_nothing_changed_is_nothing_told() -> None:
    assert moves(lambda tables: None, "0") == Moves((), ())


def test_a_price_from_nothing_is_always_told() -> None:
    before = copy.deepcopy(BEFORE)
    before["tables"]["labour"][0]["fringe"] = "0"
    (found,) = edition_moves(before, BEFORE, Fraction(10)).prices
    assert (found.field, found.before, found.after, found.percent) == ("fringe", "0.00", "8.00", None)
    assert found.sentence == "Journeyman (journeyman): fringe 0.00 to 8.00 an hour."


def test_packs_are_compared_by_what_they_hold() -> None:
    """A gallon of 40.00 beside a pail of 5 gal at 150.00; turned round and rewritten in quarts they cost the same."""
    before = copy.deepcopy(BEFORE)
    liquid(before["tables"])["packs"] = [{"size": "1 gal", "price": "40.00"}, {"size": "5 gal", "price": "150.00"}]
    after = copy.deepcopy(before)
    liquid(after["tables"])["packs"] = [{"size": "5 gal", "price": "150"}, {"size": "4 qt", "price": "40"}]
    assert edition_moves(before, after, Fraction(0)) == Moves((), ())
    liquid(after["tables"])["packs"][0]["price"] = "180"
    (found,) = edition_moves(before, after, Fraction(0)).prices
    assert (found.field, found.before, found.after, found.percent) == ("packs/0/price", "150.00", "180.00", "20")


def test_a_pail_priced_as_a_gallon_shows() -> None:
    """A pail of 5 gal at 150.00 is 30.00 a gallon; a gallon at 150.00 is 400 % more."""
    before, after = copy.deepcopy(BEFORE), copy.deepcopy(BEFORE)
    liquid(before["tables"]).update(title="Flashing", code="fl", packs=[{"size": "5 gal", "price": "150.00"}])
    liquid(after["tables"]).update(title="Flashing", code="fl", packs=[{"size": "1 gal", "price": "150.00"}])
    (found,) = edition_moves(before, after, Fraction(1, 10)).prices
    assert found.sentence == (
        "Flashing (fl): the pack of 1 gal new at 150.00, up 400 % from 30.00 at the old price a unit."
    )


def test_rental_and_amounts_are_prices_too() -> None:
    def dearer(tables: Document) -> None:
        for price in tables["equipment"][0]["rental"]:
            price["price"] = str(2 * Fraction(price["price"]))
        tables["overheads"][0]["amount"] = "750"

    found = moves(dearer)
    assert {(m.table, m.field, m.percent) for m in found.prices} == {
        ("overheads", "amount", "50"),
        *(("equipment", f"rental/{i}/price", "100") for i, _ in enumerate(lift()["rental"])),
    }
    assert any("rental by the day" in m.sentence for m in found.prices)


def test_rows_and_factors_that_went_are_told() -> None:
    def take_out(tables: Document) -> None:
        tables["equipment"] = []
        del tables["production"]["access"]["lift"]

    row = lift()
    assert sentences(take_out) == [
        f"The equipment table no longer has {row['title']} ({row['code']}).",
        "The production table no longer has access, lift, which was 1.2.",
    ]


def test_another_currency_compares_no_price() -> None:
    after = copy.deepcopy(BEFORE) | {"currency": "JPY"}
    set_wage("5000")(after["tables"])
    after["tables"]["equipment"] = []
    found = edition_moves(BEFORE, after, Fraction(0))
    assert (found.prices, [gone.code for gone in found.gone]) == ((), [lift()["code"]])


WAGES = st.decimals("0.01", "5000", places=2).map(str)


@given(WAGES, WAGES, st.integers(0, 200), st.integers(0, 200))
def test_a_wider_limit_tells_no_more_and_the_way_back_tells_the_same_prices(
    was: str, now: str, narrow: int, wide: int
) -> None:
    before, after = copy.deepcopy(BEFORE), copy.deepcopy(BEFORE)
    set_wage(was)(before["tables"])
    set_wage(now)(after["tables"])
    told = [bool(edition_moves(before, after, Fraction(n, 100)).prices) for n in sorted((narrow, wide))]
    assert told[0] >= told[1]
    there, back = (edition_moves(*pair, Fraction(0)).prices for pair in ((before, after), (after, before)))
    assert [(m.before, m.after) for m in there] == [(m.after, m.before) for m in back]
    assert bool(there) == (Fraction(was) != Fraction(now))
