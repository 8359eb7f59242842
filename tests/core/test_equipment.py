"""Rental: days worked from an access, the least-cost mix of periods, units for the crew, deliveries; by hand."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from estimating.core.equipment import EquipmentLine, share_of_crew
from tests.core.invented import Document, costed, edition, lift, opening, request


def rented(
    minutes: int, workers: int = 1, mobilisations: int = 1, fields: Document | None = None, **row: Any
) -> EquipmentLine:
    """The equipment line of a lift worked from for so many minutes in days of 8 h."""
    rule = {"opening_minutes": {"fixed": str(minutes), "per_foot": "0"}} | (fields or {})
    crew = {"members": [{"labour": "worker", "count": workers}]}
    document = request(opening(access="lift"), opening("B"), crew=crew, mobilisations=mobilisations)
    (line,) = costed(document, edition(equipment=[lift(**row)], production=rule)).parts[0].equipment
    return line


WEEKLY = [{"period": "day", "price": "200"}, {"period": "week", "price": "700"}, {"period": "month", "price": "2000"}]


@pytest.mark.parametrize(
    ("days", "mix", "money"),
    [
        (1, {"day": 1}, 200),
        (3, {"day": 3}, 600),
        (4, {"week": 1}, 700),
        (6, {"day": 1, "week": 1}, 900),
        (9, {"week": 2}, 1400),
        (12, {"week": 2, "day": 2}, 1800),
        (13, {"week": 2, "day": 3}, 2000),  # a month costs the same and leaves more over
        (20, {"month": 1}, 2000),
        (24, {"month": 1, "week": 1}, 2700),
    ],
)
def test_rental_is_the_least_cost_mix_of_day_week_and_month(days: int, mix: dict[str, int], money: int) -> None:
    line = rented(days * 480, rental=WEEKLY)
    assert (line.days, line.amount_minor) == (days, money * 100)
    assert {pack.label: count for pack, count in line.mix.counts} == mix
    held = sum({"day": 1, "week": 5, "month": 20}[period] * count for period, count in mix.items())
    assert (line.mix.cost, line.mix.left_over) == (money, held - days)


def test_only_touch_minutes_from_that_access_count_and_days_are_rounded_up_once() -> None:
    assert rented(480).days == 1
    assert rented(481).days == 2
    assert rented(481, workers=2).days == 1
    assert rented(480, fields={"access": {"lift": "1.01"}}).days == 2
    assert rented(480, fields={"setup_hours": {"mobilisation": "5"}}).days == 1


def test_of_the_crews_hours_an_access_has_those_of_its_touch_minutes_and_none_where_nothing_is_touched() -> None:
    """Standard hours × its touch minutes ÷ all touch minutes, as the rule says."""
    assert share_of_crew("crew_days", Fraction(10), Fraction(120), Fraction(480)) == Fraction("2.5")
    assert share_of_crew("crew_days", Fraction(10), Fraction(0), Fraction(0)) == 0


def test_weeks_and_months_have_the_tables_days() -> None:
    assert rented(6 * 480, rental=WEEKLY[1:2], fields={"days_per_week": "6"}).amount_minor == 70000
    assert rented(6 * 480, rental=WEEKLY[1:2]).amount_minor == 140000


@pytest.mark.parametrize(
    ("workers", "per_workers", "units"), [(1, 2, 1), (2, 2, 1), (3, 2, 2), (5, 2, 3), (5, None, 1)]
)
def test_units_serve_so_many_workers_and_each_is_delivered_each_time(
    workers: int, per_workers: int | None, units: int
) -> None:
    own = {} if per_workers is None else {"per_workers": per_workers}
    line = rented(480, workers, mobilisations=3, delivery="35", **own)
    assert (line.units, line.deliveries) == (units, units * 3)
    assert line.amount_minor == 100 * (200 * units + 35 * units * 3)


def test_one_row_may_serve_several_kinds_of_access_and_none_is_rented_for_nothing() -> None:
    """30 minutes from each: an hour, one day."""
    row = lift(for_access=["lift", "swing_stage"])
    lines = (opening("A", access="lift"), opening("B", access="swing_stage"), opening("C"))
    (line,) = costed(request(*lines), edition(equipment=[row])).parts[0].equipment
    assert (line.touch_minutes, line.days) == (60, 1)
    assert costed(request(opening()), edition(equipment=[row])).parts[0].equipment == ()
    assert costed(request(opening(access="lift", quantity=0)), edition(equipment=[row])).parts[0].equipment == ()
