"""Published payroll rows: overtime by the regular rate, prevailing wages, taxes with limits, loaded wages.

The sources were read as excerpts, not in the original volumes; each check names its own.
"""

from __future__ import annotations

import datetime
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.labour_rows import Determination
from rates.core.money import round_half_up
from tests.core.payroll_law import (
    Week,
    Work,
    hourly_fringe,
    limited_tax,
    loaded_rate,
    mean_premium,
    prevailing_week,
    week_pay,
)

F = Fraction
DAY = datetime.date(2027, 1, 1)
HALF = F(3, 2)


def cents(value: Fraction) -> Fraction:
    """Rounded to two places, half up."""
    return F(round_half_up(value * 100), 100)


def determined(basic: str, fringe: str) -> Determination:
    """An invented determination with these amounts."""
    return Determination("INV-1", "Invented County", "sealer", DAY, None, F(basic), F(fringe))


def test_46_hours_at_12_are_588() -> None:
    """29 CFR 778.110(a)."""
    pay = week_pay([Work(46, 12)])
    assert (pay.regular_rate, pay.total) == (12, 588)


def test_with_a_bonus_of_46_the_rate_is_13_and_the_pay_637() -> None:
    """29 CFR 778.110(b)."""
    pay = week_pay([Work(46, 12)], earnings=46)
    assert (pay.regular_rate, pay.total) == (13, 637)


def test_piece_work_of_491_and_4_hours_at_8_over_50_hours() -> None:
    """29 CFR 778.111(a): 10.46 an hour, 575.30."""
    pay = week_pay([Work(46, 0), Work(4, 8)], earnings=491)
    assert (pay.regular_rate, pay.total) == (F("10.46"), F("575.30"))


def test_two_rates_give_a_weighted_average_of_19_and_95_more() -> None:
    """29 CFR 778.115, its example: 10 hours at 15, 40 at 20."""
    pay = week_pay([Work(10, 15), Work(40, 20)])
    assert (pay.regular_rate, pay.premium) == (19, 95)


@pytest.mark.parametrize(("wage", "fringe", "pay"), [("22", "5", 1232), ("20", "7", 1232), ("24", "3", 1236)])
def test_44_hours_under_a_determination_of_22_and_5(wage: str, fringe: str, pay: int) -> None:
    """DOL Prevailing Wage Resource Book; never 1,242: the fringe is not multiplied."""
    found = prevailing_week(determined("22", "5"), F(wage), F(fringe), Week(F(44)))
    assert found == pay
    assert found != 1242


def test_the_overtime_rate_of_a_basic_rate_of_2_with_a_fringe_of_45_cents() -> None:
    """HUD handbook E-503: 3.00 an hour, the 0.45 beside it."""
    all_overtime = Week(F(1), F(0))
    assert F(2) + mean_premium(F(2), HALF, all_overtime, determined("2.00", "0.45")) == 3
    assert prevailing_week(determined("2.00", "0.45"), F(2), F("0.45"), all_overtime) == F("3.45")


def test_a_plan_of_200_a_month_over_2080_hours() -> None:
    """29 CFR 5.25(c), computed: 1.1538."""
    assert round_half_up(hourly_fringe(200 * 12, 2080) * 10**4) == 11538


def test_48_hours_at_one_and_a_half_are_52_paid() -> None:
    """US Army EI 01D010, example 5-1: 8.33 % more than the hours worked."""
    week = Week(F(48))
    assert week.paid_hours() == 52
    assert cents((week.paid_hours() / week.hours - 1) * 100) == F("8.33")


@pytest.mark.parametrize(
    ("rate", "pay", "limit", "tax"),
    [("0.060", 50000, 7000, "420"), ("0.006", 50000, 7000, "42"), ("0.062", 200000, 147000, "9114")],
)
def test_taxes_stop_at_their_yearly_limit(rate: str, pay: int, limit: int, tax: str) -> None:
    """IRS Topics 751 and 759, the limit of 2022."""
    assert limited_tax(F(rate), pay, limit) == F(tax)
    assert limited_tax(F(rate), limit, None) == F(tax)


@pytest.mark.parametrize(
    ("wage", "each_step", "printed"),
    [
        ("48.31", False, ("20.77", "69.08", "34.54", "103.62")),
        ("31.26", False, ("13.44", "44.70", "22.35", "67.05")),
        ("15.78", False, ("6.79", "22.57", "11.28", "33.85")),
        ("48.31", True, ("20.77", "69.08", "34.54", "103.62")),
        ("31.26", True, ("13.44", "44.70", "22.35", "67.05")),
        ("15.78", True, ("6.79", "22.57", "11.29", "33.86")),
    ],
)
def test_wages_loaded_with_43_and_50_percent_rounded_at_the_end_or_at_each_step(
    wage: str, each_step: bool, printed: tuple[str, ...]
) -> None:
    """US EPA information collection worksheet (OMB 2070)."""
    found = loaded_rate(F(wage), F("0.43"), F("0.50"), cents, each_step=each_step)
    assert (found.benefits, found.with_benefits, found.overhead, found.total) == tuple(F(text) for text in printed)


def test_a_determination_counts_from_its_first_day_to_its_last() -> None:
    last = DAY + datetime.timedelta(days=364)
    found = Determination("INV-1", "a", "c", DAY, last, F(22), F(5))
    days = [DAY - datetime.timedelta(days=1), DAY, last, last + datetime.timedelta(days=1)]
    assert [found.covers(day) for day in days] == [False, True, True, False]
    assert determined("22", "5").covers(datetime.date(2099, 1, 1))


def test_wage_and_fringe_meet_a_determination_together() -> None:
    """The Resource Book's three ways of paying 22 + 5; 26.99 in all does not."""
    rule = determined("22", "5")
    assert all(rule.is_met_by(F(w), F(f)) for w, f in ((22, 5), (20, 7), (24, 3), (27, 0)))
    assert not rule.is_met_by(F(22), F("4.99"))


def test_no_hours_are_no_week() -> None:
    with pytest.raises(ValueError, match="no hours"):
        week_pay([Work(0, 12)])


hours = st.integers(1, 80).map(Fraction)
rates = st.integers(1, 200).map(Fraction)


@given(st.lists(st.tuples(hours, rates), min_size=1, max_size=4))
def test_the_order_and_the_splitting_of_a_week_s_work_never_matter(parts: list[tuple[Fraction, Fraction]]) -> None:
    work = [Work(h, r) for h, r in parts]
    halves = [Work(h / 2, r) for h, r in parts for _ in range(2)]
    assert week_pay(work) == week_pay(work[::-1]) == week_pay(halves)


@given(hours, rates)
def test_at_one_rate_overtime_is_one_and_a_half_of_it(worked: Fraction, rate: Fraction) -> None:
    over = max(Fraction(0), worked - 40)
    assert week_pay([Work(worked, rate)]).total == (worked - over) * rate + over * rate * HALF
    week = Week(worked)
    assert week.hours * (rate + mean_premium(rate, HALF, week, None)) == week_pay([Work(worked, rate)]).total
