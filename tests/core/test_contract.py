"""Contract and exposure: laws over any change orders, notice days against calendars, a bond on top of a contract."""

from __future__ import annotations

import datetime
import itertools
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.bond import premium, tiers_of
from estimating.core.contract import EXPOSED, NEXT, STATES, Counted, standing
from estimating.core.job import Job, read_request
from estimating.core.notice import last_day
from estimating.core.quoted_units import Asked, price_by_units
from estimating.core.time_and_material import Hours, Invoice, PricedTicket, Rental, Ticket, price_ticket
from estimating.core.unit_prices import unit_price
from rates.core.card import EditionSource
from tests.core.invented import costed, edition, opening, request
from tests.worked_cases import read_case

MINOR = st.integers(-(10**9), 10**9)
ORDERS = st.lists(st.builds(Counted, st.sampled_from(STATES), st.none() | MINOR), max_size=12)


@given(MINOR, ORDERS, st.randoms())
def test_every_price_counts_in_one_place_whatever_the_order(awarded: int, orders: list[Counted], chance: Any) -> None:
    """A law of the definition: contract + exposure + withdrawn = awards + everything that was proposed."""
    found = standing(awarded, orders)
    proposed = sum(order.price_minor or 0 for order in orders)
    assert found.contract_minor + found.exposure_minor + found.by_state["withdrawn"] == awarded + proposed
    assert found.contract_minor == awarded + sum(order.contract_minor for order in orders)
    assert found.exposure_minor == sum(order.exposure_minor for order in orders)
    assert found.unpriced == sum(order.price_minor is None and order.state in EXPOSED for order in orders)
    shuffled = list(orders)
    chance.shuffle(shuffled)
    assert standing(awarded, shuffled) == found


@given(MINOR, ORDERS, MINOR)
def test_what_is_withdrawn_adds_nothing(awarded: int, orders: list[Counted], price: int) -> None:
    before, after = standing(awarded, orders), standing(awarded, [*orders, Counted("withdrawn", price)])
    assert (after.contract_minor, after.exposure_minor) == (before.contract_minor, before.exposure_minor)


@given(MINOR, st.lists(MINOR, min_size=1, max_size=5))
def test_the_order_of_agreement_does_not_matter(awarded: int, prices: list[int]) -> None:
    ends = set()
    for order in itertools.islice(itertools.permutations(range(len(prices))), 24):
        states = ["proposed"] * len(prices)
        for place in order:
            states[place] = "agreed"
        ends.add(standing(awarded, map(Counted, states, prices)).contract_minor)
    assert ends == {awarded + sum(prices)}


def test_what_is_agreed_or_withdrawn_stays_and_all_else_can_end() -> None:
    assert {state for state, after in NEXT.items() if not after} == {"agreed", "withdrawn"} == set(STATES) - {*EXPOSED}
    assert all({"agreed", "withdrawn"} <= set(NEXT[state]) for state in EXPOSED)


@given(
    st.dates(datetime.date(2000, 1, 1), datetime.date(2100, 1, 1)), st.integers(0, 300), st.sets(st.integers(0, 400))
)
def test_working_days_are_counted_as_a_walk_through_the_calendar(
    known: datetime.date, days: int, holidays: set[int]
) -> None:
    """Monday to Friday by isoweekday: between the two days there are so many working days, and the last is one."""
    off = {known + datetime.timedelta(n) for n in holidays}
    last = last_day(known, days, "working", off)
    walked = [known + datetime.timedelta(n + 1) for n in range((last - known).days)]
    working = [day for day in walked if day.isoweekday() <= 5 and day not in off]
    assert len(working) == days and (not working or working[-1] == last)
    assert last_day(known, days, "calendar", off) == known + datetime.timedelta(days)


def golden(overheads: Any = None) -> Job:
    """The worked example's request and edition, with other overheads where given."""
    asked, document = read_case("golden", "request.json"), read_case("golden", "edition.json")
    asked.pop("edition")
    if overheads is not None:
        document["tables"]["overheads"] = overheads
    return read_request(asked, [EditionSource("e", 1, "company", document)])


def priced(job: Job, ticket: Ticket, contract_minor: int = 0) -> PricedTicket:
    found, faults = price_ticket(job.cards[0], job.plan.request, ticket, contract_minor)
    assert found is not None, faults
    return found


BOND = {"code": "bond", "title": "Bond", "step": "bond", "on": "price",
        "tiers": [{"up_to": "100000", "percent": "2.5"}, {"up_to": "500000", "percent": "1.5"},
                  {"up_to": None, "percent": "1"}]}  # fmt: skip


@pytest.mark.parametrize(
    ("contract", "cost", "bond"),
    [
        (0, "9750", 250_00),  # 10,000 × 2.5 %
        (200_000, "9850", 150_00),  # all in the second tier: 10,000 × 1.5 %
        (90_000, "19600", 400_00),  # 10,000 to the end of the first tier × 2.5 %, 10,000 × 1.5 %: 20,000 in all
        (500_000, "990", 10_00),  # at the end of a tier: 1,000 × 1 %
    ],
)
def test_a_tiered_bond_is_that_on_the_contract_with_the_change_less_that_without(
    contract: int, cost: str, bond: int
) -> None:
    """By hand; and as the difference of two premiums by the bond's own function."""
    found = priced(golden([BOND]), Ticket(materials=[Invoice("x", Fraction(cost))]), contract * 100)
    assert found.build_up[-1] == ("bond", "Bond", bond)
    tiers = tiers_of(((Fraction(100_000), Fraction(5, 2)), (Fraction(500_000), Fraction(3, 2)), (Fraction(1),)))
    after, before = (premium(Fraction(x), tiers) for x in (contract + Fraction(found.price_minor, 100), contract))
    assert (after - before) * 100 == bond


COST = st.integers(0, 10**7).map(lambda cents: Fraction(cents, 100))


@given(
    st.lists(st.integers(1, 10**5).map(lambda n: Fraction(n, 100)), max_size=3),
    st.lists(COST, max_size=3),
    st.lists(st.integers(1, 60), max_size=2),
    st.integers(0, 10**9),
)
def test_entries_and_build_up_both_sum_to_the_price(
    hours: list[Fraction], invoices: list[Fraction], days: list[int], contract: int
) -> None:
    ticket = Ticket(
        [Hours("journeyman", x) for x in hours],
        [Invoice("x", x) for x in invoices],
        [Rental("lift", x, 1, 0) for x in days],
    )
    found = priced(GOLDEN, ticket, contract)
    assert sum(amount for _, _, amount in found.build_up) == found.price_minor
    assert sum(found.prices) == (found.price_minor if found.costs else 0)
    assert found.price_minor >= sum(cost.cost_minor for cost in found.costs)
    assert {step for step, _, _ in found.build_up}.isdisjoint({"minimum_charge", "round_up_to", "freight", "sales_tax"})


GOLDEN = golden()


def test_openings_at_unit_prices_in_parts_are_as_all_at_once_and_the_range_is_the_contract_s() -> None:
    """Unit prices are flat in their range: n at once cost as much as one by one; one more than the range is refused."""
    asked = [{"mark": "A", "quantity": 3, "valid_from": "2027-03-01", "valid_until": "2027-06-30"}]
    estimate = costed(request(opening("A", 6), unit_prices=asked), edition())
    day = datetime.date(2027, 3, 1)
    found = unit_price(estimate, estimate.request.unit_prices[0])
    assert found.add is not None and found.deduct is not None
    once, faults = price_by_units(estimate, [Asked("a", 3)], day, {})
    single = [price_by_units(estimate, [Asked("A", 1)], day, {("A", True): n})[0][0].amount_minor for n in range(3)]
    assert not faults and once[0].amount_minor == sum(single) == 3 * found.add.unit_minor
    fewer, _ = price_by_units(estimate, [Asked("A", -3)], day, {("A", True): 3})
    assert fewer[0].amount_minor == 3 * found.deduct.unit_minor < 0, "more and fewer have a range each"
    for wrong, taken, on, code in (
        ([Asked("A", 4)], {}, day, "out_of_range"),
        ([Asked("A", 1), Asked("A", 3)], {}, day, "out_of_range"),
        ([Asked("A", 1)], {("A", True): 3}, day, "out_of_range"),
        ([Asked("A", 1)], {}, datetime.date(2027, 7, 1), "out_of_time"),
        ([Asked("A", 1)], {}, datetime.date(2027, 2, 28), "out_of_time"),
        ([Asked("B", 1)], {}, day, "not_quoted"),
    ):
        assert [problem.code for problem in price_by_units(estimate, wrong, on, taken)[1]] == [code]


def test_an_amount_for_each_paid_hour_counts_and_one_for_the_whole_job_does_not() -> None:
    """8 h × 50.46 = 403.68; 8 × 2.00 = 16.00; the 500.00 of the job, minimum and rounding up are in the contract."""
    rows = [
        {"code": "a", "title": "Supervision", "step": "overhead", "amount": "2.00", "on": "paid_hours"},
        {"code": "b", "title": "Site office", "step": "overhead", "amount": "500.00"},
        {"code": "c", "title": "Minimum", "step": "minimum_charge", "amount": "9000.00"},
        {"code": "d", "title": "Rounding", "step": "round_up_to", "amount": "100.00"},
    ]
    found = priced(golden(rows), Ticket(labour=[Hours("journeyman", Fraction(8))]))
    assert [entry for entry in found.build_up if entry[2]] == [
        ("labour", "Labour", 403_68), ("overhead", "Supervision", 16_00),
    ]  # fmt: skip
    assert found.price_minor == 419_68
