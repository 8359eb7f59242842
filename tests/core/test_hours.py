"""Hours of the whole job: set-up, learning, idle time between coats, the crew's cost and days.

The arithmetic stands in the tests; rates are invented. Published wages and crew days are in test_published_values.py,
the learning curves themselves in test_learning.py, rental in test_equipment.py.
"""

from __future__ import annotations

from fractions import Fraction
from math import exp
from typing import Any

import pytest

from estimating.core.hours import Hours
from tests.core.invented import (
    Document,
    amounts,
    costed,
    edition,
    opening,
    production,
    refusals,
    request,
    worked,
    worker,
)

SETUP = {"mobilisation": "2", "elevation": "0.5", "storey_change": "0.25"}


def hours(*lines: Document, fields: Document | None = None, **tables: Any) -> Hours:
    """The hours of the one part of a request."""
    return costed(request(*lines, **fields or {}), edition(production=production(**tables))).parts[0].hours


def at(elevation: str, storey: str, mark: str = "A", **fields: Any) -> Document:
    """One opening at a place."""
    return opening(mark, elevation=elevation, storey=storey, **fields)


@pytest.mark.parametrize(
    ("lines", "elevations", "changes"),
    [
        ([at("North", "1")], 1, 0),
        ([at("North", "1"), at("North", "2"), at("North", "3")], 1, 2),
        ([at("North", "1"), at("North", "2"), at("East", "1"), at("East", "2")], 2, 2),
        ([at("North", "1"), at("North", "1", "B"), at("north ", "1", "C")], 1, 0),
        ([at("North", "Level 1"), at("North", " level  1", "B")], 1, 0),
        ([at("", "1"), at("", "2")], 0, 1),
        ([at("North", ""), at("East", "1")], 2, 0),
        ([opening()], 0, 0),
        ([at("North", "1"), at("North", "2", quantity=0), at("East", "1", quantity=0)], 1, 0),
        ([at("North", "1"), at("North", "2", excluded={"reason": "by others"}), at("East", "1", alternate="1")], 1, 0),
    ],
)
def test_set_up_counts_elevations_and_storey_changes_of_priced_lines(
    lines: list[Document], elevations: int, changes: int
) -> None:
    """One mobilisation of 2 h, 0.5 h an elevation, 0.25 h for each storey of an elevation past its first."""
    found = hours(*lines, setup_hours=SETUP)
    assert (found.mobilisations, found.elevations, found.storey_changes) == (1, elevations, changes)
    assert found.setup == 2 + Fraction(elevations, 2) + Fraction(changes, 4)


@pytest.mark.parametrize(("mobilisations", "expected"), [(0, 0), (1, 2), (3, 6)])
def test_set_up_is_added_and_never_multiplied(mobilisations: int, expected: int) -> None:
    """Factors and learning leave it alone, and it is of the whole crew."""
    asked = {
        "mobilisations": mobilisations,
        "temperature": "hot",
        "crew": {"members": [{"labour": "worker", "count": 4}], "experience": "new"},
    }
    found = hours(
        opening(quantity=2),
        fields=asked,
        setup_hours={"mobilisation": "2"},
        temperature={"hot": "1.5"},
        learning={"model": "exponential", "first": "2", "tau": "1"},
    )
    assert found.setup == expected
    assert found.standard == found.touch_minutes / 60 + expected
    assert found.touch_minutes > 2 * 30 * Fraction(3, 2)


def test_nothing_to_do_sets_nothing_up() -> None:
    assert hours(opening(quantity=0), setup_hours=SETUP).standard == 0
    assert hours(setup_hours=SETUP).standard == 0


SLOW = {"model": "exponential", "first": "1.8", "tau": "10"}


def learnt(quantity: int, experience: Any = "new", crews: int = 1, **line: Any) -> Hours:
    """The hours of so many openings by a crew that learns."""
    crew = {"members": [{"labour": "worker", "count": 1}], "experience": experience, "crews": crews}
    return hours(opening(quantity=quantity, **line), fields={"crew": crew}, learning=SLOW)


def slow_total(first: int, last: int) -> float:
    """Σ of 1 + 0.8 e^(−(k − 1)/10), unit by unit."""
    return sum(1 + 0.8 * exp(-(k - 1) / 10) for k in range(first, last + 1))


def test_learning_counts_opening_equivalents_of_base_minutes_over_30() -> None:
    """20 windows of 30 base minutes are 20; of 36.75 they are 24.5: 24 units and half of the 25th."""
    assert learnt(20).opening_equivalents == 20
    assert float(learnt(20).learning_factor) == pytest.approx(slow_total(1, 20) / 20, rel=1e-12)
    wide = learnt(20, width="72 in", height="60 in")
    assert wide.opening_equivalents == Fraction("24.5")
    half = 1 + 0.8 * exp(-24 / 10)
    assert float(wide.learning_factor) == pytest.approx((slow_total(1, 24) + half / 2) / 24.5, rel=1e-12)


def test_access_does_not_make_more_opening_equivalents() -> None:
    crew = {"members": [{"labour": "worker", "count": 1}], "experience": "new"}
    tables = {"learning": SLOW, "access": {"lift": "1.2"}}
    found = hours(opening(quantity=20, access="lift"), fields={"crew": crew}, **tables)
    assert found.opening_equivalents == 20
    assert float(found.touch_minutes) == pytest.approx(30 * 1.2 * slow_total(1, 20), rel=1e-12)


def test_two_new_crews_of_twenty_lose_more_than_one_of_forty() -> None:
    """Each of two crews learns on its own twenty."""
    assert float(learnt(40, crews=2).learning_factor) == pytest.approx(slow_total(1, 20) / 20, rel=1e-12)
    assert float(learnt(40, crews=1).learning_factor) == pytest.approx(slow_total(1, 40) / 40, rel=1e-12)
    assert learnt(40, crews=2).touch_minutes > learnt(40, crews=1).touch_minutes


def test_work_done_before_counts_and_an_experienced_crew_takes_no_longer() -> None:
    assert float(learnt(20, {"done_before": "20"}).learning_factor) == pytest.approx(slow_total(21, 40) / 20, rel=1e-12)
    assert learnt(20, "experienced").learning_factor == 1
    none, new = learnt(20, {"done_before": "0"}), learnt(20, "new")
    assert (none.learning_factor, none.standard) == (new.learning_factor, new.standard)


def test_one_average_factor_is_on_all_marks() -> None:
    """So the order of lines never matters: each window of a mark takes as long as those of any other."""
    crew = {"members": [{"labour": "worker", "count": 1}], "experience": "new"}
    lines = (opening("A", 5), opening("B", 15, width="50 in", height="40 in"))
    estimate = costed(request(*lines, crew=crew), edition(production=production(learning=SLOW)))
    each = {w.touch_minutes for w in estimate.parts[0].works.values()}
    assert each == {30 * estimate.parts[0].hours.learning_factor}


COATS = {"interval_minutes": "90", "first_coat_share": "0.5"}


@pytest.mark.parametrize(
    ("quantity", "idle"),
    [
        (1, 90),  # 15 minutes of first coat; nothing else to do meanwhile
        (3, 60),  # two more openings take 30 of the 90
        (7, 0),  # six more take 90
        (20, 0),
    ],
)
@pytest.mark.parametrize("charged", [True, False])
def test_a_short_zone_waits_between_coats(quantity: int, idle: int, charged: bool) -> None:
    """max(0, interval − (n − 1) c₁) once a zone; charged only where the table says so, else a remark."""
    coats = COATS | {"charge_idle": charged}
    estimate = costed(request(at("North", "1", quantity=quantity)), edition(production=production(coats=coats)))
    found = estimate.parts[0].hours
    assert [zone.idle_minutes for zone in found.zones] == [idle]
    assert found.idle_minutes == (idle if charged else 0)
    assert found.standard == Fraction(30 * quantity + (idle if charged else 0), 60)
    details = [r.detail for r in estimate.remarks if r.code == "idle_between_coats"]
    assert len(details) == (1 if idle else 0)
    if idle:
        assert ("not charged" in details[0]) == (not charged)
        assert details[0].startswith("1 zone waits between coats ")


def test_each_elevation_and_storey_is_a_zone_and_tape_needs_no_second_coat() -> None:
    """North 1 waits 90 − 15, North 2 and East 1 90 each; the taped opening waits for nothing."""
    lines = (
        at("North", "1", "A"),
        at("North", "1", "B", width="40 in", height="40 in"),
        at("North", "2", "A"),
        at("East", "1", "A"),
        at("East", "2", "T", method="tape"),
    )
    found = hours(*lines, coats=COATS | {"charge_idle": True})
    assert sorted(zone.idle_minutes for zone in found.zones) == [75, 90, 90]
    assert found.idle_minutes == 255


def test_charging_idle_time_needs_the_first_coats_share() -> None:
    given = edition(production=production(coats={"interval_minutes": "30", "charge_idle": True}))
    assert refusals(request(opening()), given) == [("/tables/production/coats/first_coat_share", "missing")]
    assert hours(opening(), coats={"interval_minutes": "90"}).zones == ()


def test_a_standard_hour_costs_what_the_crew_costs_over_what_it_gives() -> None:
    """Two at 60 giving 1 each, one at 30 giving half: 150 an hour for 2.5 standard hours, 60.00 each."""
    rows = [worker(), worker("mate", "30", productive_share="0.5")]
    crew = {"members": [{"labour": "worker", "count": 2}, {"labour": "mate", "count": 1}]}
    cost = costed(request(opening(quantity=30), crew=crew), edition(labour=rows)).parts[0].crew
    assert (cost.workers, cost.shares, cost.money) == (3, Fraction(5, 2), 150)
    assert cost.standard_hour_cost == 60
    assert worked(cost, Fraction(15)).paid == 18  # 6 hours of three people
    assert worked(cost, Fraction(20)).crew_days == 1
    assert worked(cost, Fraction(20) + Fraction(1, 10**12)).crew_days == 2


def test_burden_is_on_the_wage_and_the_rate_is_never_rounded() -> None:
    """33.33 + 7.77 + 28.5 % + 6.1 % of 33.33 = 52.63218; a third of an hour of it rounds once, to 17.54."""
    burden = [
        {"title": "taxes", "percent": "28.5", "on": "wage"},
        {"title": "insurance", "percent": "6.1", "on": "straight_wage"},
    ]
    rows = [worker(wage="33.33", fringe="7.77", burden=burden)]
    rule = {"opening_minutes": {"fixed": "20", "per_foot": "0"}}
    estimate = costed(request(opening()), edition(labour=rows, production=rule))
    assert estimate.parts[0].crew.standard_hour_cost == Fraction("52.63218")
    assert amounts(estimate)[0] == ("labour", 1754)


def test_a_labour_row_that_is_not_there_is_refused() -> None:
    crew = {"members": [{"labour": "worker", "count": 1}, {"labour": "mason", "count": 1}]}
    assert refusals(request(opening(), crew=crew)) == [("/crew/members/1/labour", "unknown_row")]


def test_crew_days_are_rounded_up_once() -> None:
    """17 windows of 30 min are 8.5 h: two days of one worker, one of two; longer days need fewer."""
    line = opening(quantity=17)
    assert costed(request(line)).crew_days == 2
    two = {"members": [{"labour": "worker", "count": 2}]}
    assert costed(request(line, crew=two)).crew_days == 1
    assert costed(request(line), edition(production=production(hours_per_day="10"))).crew_days == 1
    assert costed(request(opening(quantity=16))).crew_days == 1
    assert costed(request(opening(quantity=0))).crew_days == 0
