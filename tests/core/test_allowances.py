"""Allowances reconciled: what one came to less what was allowed is a line of its own; worked by hand, and laws."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.core.derivation_cases import walk_all, walk_price
from tests.core.invented import Document, built, costed, edition, opening, percent, refusals, request
from tests.core.plain_job import job, of_step

PIPES: Document = {"title": "Pipes", "count": "12", "unit_price": "38.00", "cost_code": "01 21 00"}


@pytest.mark.parametrize(
    ("actual", "change"),
    [
        ({"count": "15"}, 114_00),  # 15 × 38.00 − 456.00
        ({"count": "9"}, -114_00),
        ({"count": "12", "unit_price": "38.335"}, 4_02),  # 460.02 − 456.00
        ({"count": "0"}, -456_00),
        ({"count": "12"}, 0),
    ],
)
def test_the_change_is_what_it_came_to_less_the_allowance(actual: Document, change: int) -> None:
    estimate = job(percent("profit", "10", "cost", kind="markup"), fields={"allowances": [PIPES | {"actual": actual}]})
    assert of_step(estimate, "allowances") == [456_00, change]
    assert of_step(estimate, "profit") == [115_00]  # an allowance is not marked up, nor is its change
    assert [x.cost_code for x in estimate.up.lines if x.step == "allowances"] == ["01 21 00"] * 2
    assert estimate.up.price_minor == 1150_00 + 115_00 + 456_00 + change


def test_every_figure_of_it_is_explained() -> None:
    case = (request(opening(), allowances=[PIPES | {"actual": {"count": "15", "unit_price": "40"}}]), [edition()])
    estimate = costed(*case[:1], *case[1])
    walk_all(walk_price(case, estimate), estimate)


def test_without_a_count_it_is_refused() -> None:
    wrong = refusals(request(opening(), allowances=[PIPES | {"actual": {"unit_price": "40"}}]))
    assert wrong == [("/allowances/0/actual/count", "missing")]


@settings(max_examples=25, deadline=None)
@given(count=st.integers(0, 50), cents=st.integers(0, 9999))
def test_allowed_and_change_are_what_it_came_to(count: int, cents: int) -> None:
    """As an allowance of just that count and price; absent is as before."""
    price = str(Decimal(cents) / 100)
    came_to = costed(request(allowances=[PIPES | {"actual": {"count": str(count), "unit_price": price}}]))
    as_such = costed(request(allowances=[PIPES | {"count": str(count), "unit_price": price}]))
    assert sum(of_step(came_to, "allowances")) == sum(of_step(as_such, "allowances"))
    assert came_to.up.price_minor == as_such.up.price_minor
    assert built(costed(request(allowances=[PIPES | {"actual": None}]))) == built(costed(request(allowances=[PIPES])))
