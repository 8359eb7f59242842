"""The season split: parts with their own dates, each under the edition of its date, learning carried on; by hand.

Openings and joints may be sealed in late autumn and the wall barrier follow in spring: common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction
from math import exp
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from tests.core.invented import (
    Document,
    amounts,
    bought,
    costed,
    edition,
    feet,
    materials,
    opening,
    percent,
    production,
    refusals,
    request,
    work,
    worker,
)


def at(elevation: str, storey: str, mark: str = "A", **fields: Any) -> Document:
    """One opening at a place."""
    return opening(mark, elevation=elevation, storey=storey, **fields)


SLOW = {"model": "exponential", "first": "1.8", "tau": "10"}


SETUP = {"mobilisation": "2", "elevation": "0.5", "storey_change": "0.25"}


def slow_total(first: int, last: int) -> float:
    """Σ of 1 + 0.8 e^(−(k − 1)/10), unit by unit."""
    return sum(1 + 0.8 * exp(-(k - 1) / 10) for k in range(first, last + 1))


LATER = "2027-09-01"
PARTS = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-10-01", "title": "Autumn"}]


def split(**fields: Any) -> Estimate:
    """20 windows before and 10 after the edition of September, in which the worker costs 90."""
    learning = production(learning=SLOW, setup_hours=SETUP)
    editions = (
        edition(production=learning),
        edition(production=learning, labour=[worker(wage="90")], effective_from=LATER),
    )
    lines = (at("North", "1", "A", quantity=20), at("North", "2", "B", quantity=10, width="40 in"))
    lines = (lines[0], lines[1] | {"height": "50 in"})
    return costed(request(*lines, mobilisations=PARTS, **fields), *editions)


def test_each_part_of_a_season_split_is_under_the_edition_of_its_own_date() -> None:
    """10 h + 2.5 h at 60.00, then 5 h + 2.5 h at 90.00."""
    estimate = split()
    assert [p.crew.standard_hour_cost for p in estimate.parts] == [60, 90]
    assert [p.hours.standard for p in estimate.parts] == [Fraction("12.5"), Fraction("7.5")]
    assert [x for x in amounts(estimate) if x[0] == "labour"] == [("labour", 75000), ("labour", 67500)]
    assert estimate.openings == 30


def test_learning_is_carried_on_from_part_to_part() -> None:
    crew = {"members": [{"labour": "worker", "count": 1}], "experience": "new"}
    first, second = (p.hours for p in split(crew=crew).parts)
    assert float(first.learning_factor) == pytest.approx(slow_total(1, 20) / 20, rel=1e-12)
    assert float(second.learning_factor) == pytest.approx(slow_total(21, 30) / 10, rel=1e-12)


def test_two_crews_carry_on_each_from_its_own_half() -> None:
    crew = {"members": [{"labour": "worker", "count": 2}], "experience": "new", "crews": 2}
    second = split(crew=crew).parts[1].hours
    assert float(second.learning_factor) == pytest.approx(slow_total(11, 15) / 5, rel=1e-12)


def test_each_part_buys_its_own_packs_and_pays_its_own_set_up() -> None:
    estimate = split()
    assert [p.hours.mobilisations for p in estimate.parts] == [1, 1]
    assert [bought(estimate, "mesh", part).net > 0 for part in (0, 1)] == [True, True]
    assert work(estimate, 0, 0).quantity == 20 and work(estimate, 1, 1).quantity == 10


@pytest.mark.parametrize(
    ("parts", "fault"),
    [
        ([{"work_date": "2027-03-15", "openings": ["A"]}], ("/openings/1/mark", "mark_in_no_part")),
        ([{"work_date": "2027-03-15", "openings": ["Z", "A", "B"]}], ("/mobilisations/0/openings/0", "unknown_mark")),
        (
            [{"work_date": "2027-03-15", "openings": ["A", "B"]}, {"work_date": "2027-03-15", "openings": ["b"]}],
            ("/mobilisations/1/openings/0", "mark_twice"),
        ),
        ([{"work_date": "2027-03-15"}, {"work_date": "2027-03-16"}], ("/mobilisations/1/openings", "one_of")),
        ([{"work_date": "2026-03-15"}], ("/mobilisations/0/work_date", "no_edition_in_force")),
    ],
)
def test_every_mark_is_done_in_just_one_part_on_a_day_with_rates(parts: list[Document], fault: tuple[str, str]) -> None:
    assert refusals(request(opening("A"), opening("B"), mobilisations=parts)) == [fault]


def test_joints_are_done_in_the_part_that_says_so() -> None:
    rule = production(sheathing_joint={"width": "4 in", "minutes_per_foot": "1"})
    parts = [{"work_date": "2027-03-15", "scope": "openings"}, {"work_date": "2027-04-15", "scope": "joints"}]
    document = request(opening(), mobilisations=parts, sheathing_joints={"corners": "10 ft"})
    estimate = costed(document, edition(production=rule))
    assert [p.joints is None for p in estimate.parts] == [True, False]
    assert [p.hours.touch_minutes for p in estimate.parts] == [30, 10]


def test_stock_on_hand_is_used_once_over_all_parts() -> None:
    """20 windows take 360 ft of mesh, 10 take 180; 450 ft on hand leave 90 ft to buy, in the second part."""
    lines = (opening("A", 20), opening("B", 10))
    estimate = costed(request(*lines, mobilisations=PARTS, stock={"mesh": "450 ft"}))
    assert [feet(bought(estimate, "mesh", part).needed) for part in (0, 1)] == [0, 90]


def test_a_subcontract_is_taxed_once_by_the_first_parts_rate() -> None:
    """10 % of 100.00, and nothing in autumn at 20 %."""
    free = [m | {"taxable": False} for m in materials()]
    rates = [
        edition(materials=free, overheads=[percent("sales_tax", rate, "taxable_materials")], effective_from=start)
        for rate, start in (("10", "2027-01-01"), ("20", LATER))
    ]
    contracts = [{"title": "Mock-up", "amount": "100"}]
    estimate = costed(request(opening("A"), opening("B"), mobilisations=PARTS, subcontracts=contracts), *rates)
    assert [amount for step, amount in amounts(estimate) if step == "sales_tax"] == [1000, 0]


def test_lines_of_a_split_name_their_part_and_those_of_one_part_or_of_the_job_name_none() -> None:
    """A part without a title is called by its date."""
    overheads = [percent("profit", "10", "cost", kind="markup")]
    lines = (opening("A"), opening("B"))
    several = costed(request(*lines, mobilisations=PARTS), edition(overheads=overheads))
    told = {(line.step, line.part): line.part_title for line in several.up.lines}
    assert (told["labour", 0], told["labour", 1], told["profit", None]) == ("2027-03-15", "Autumn", None)
    single = costed(request(*lines), edition(overheads=overheads))
    assert {line.part_title for line in single.up.lines} == {None}
