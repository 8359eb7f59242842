"""Set-up by zone and access, and rental for the crew's days: worked by hand, and laws.

A zone is one elevation and storey, told apart as set-up compares places; a blank is a name like any other.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.core.estimate import Estimate
from tests.core.invented import Document, amounts, built, costed, edition, lift, opening, production, request

HOURS = {"lift": "1.5", "ground": "0.25"}


def hours(*lines: Document, zone: Document | None, **fields: Any) -> list[Fraction]:
    """Set-up hours of each part."""
    setup: Document = {"mobilisation": "2"} | ({} if zone is None else {"zone": zone})
    joint = {"width": "4 in", "minutes_per_foot": "0.25"}
    rates = edition(production=production(setup_hours=setup, sheathing_joint=joint))
    return [part.hours.setup for part in costed(request(*lines, **fields), rates).parts]


LINES = (
    opening("A", 3, access="lift", elevation="North", storey="1"),
    opening("B", 3, access="lift", elevation=" north", storey="1"),
    opening("B", 1, access="lift", elevation="North"),
    opening("C", 2, elevation="East", storey="2"),
    opening("D", 0, access="lift", elevation="South", storey="1"),
    opening("E", 4, access="lift", elevation="West", storey="1", excluded={"reason": "by others"}),
    opening("F", 4, access="swing_stage", elevation="West", storey="3"),
)


def test_each_zone_is_set_up_once_for_each_access() -> None:
    """2 + 2 lift zones (North 1, North blank) × 1.5 + 1 ground zone × 0.25; joints, 0 and excluded lines none."""
    joints = {"corners": "10 ft", "access": "lift"}
    assert hours(*LINES, zone=HOURS, sheathing_joints=joints) == [Fraction("5.25")]
    assert hours(*LINES, zone=None) == [Fraction(2)]


def test_each_part_of_a_season_split_sets_up_its_own_zones() -> None:
    """Both parts work North 1 from the lift: 2 + 1.5 each, and the second East 2 from the ground."""
    parts = [{"work_date": "2027-03-15", "openings": ["A", "D", "E", "F"]}, {"work_date": "2027-09-15"}]
    assert hours(*LINES, zone=HOURS, mobilisations=parts) == [Fraction("3.5"), Fraction("5.25")]


def rented(quantity: int, days_from: str | None, setup: str) -> Estimate:
    """So many windows from a lift at 200.00 a day beside 20 from the ground; 30 minutes each."""
    row = lift() if days_from is None else lift(days_from=days_from)
    rates = edition(equipment=[row], production=production(setup_hours={"mobilisation": setup}))
    return costed(request(opening("A", quantity, access="lift"), opening("B", 20)), rates)


def days(estimate: Estimate) -> list[Fraction]:
    """Days of each rental."""
    return [line.days for part in estimate.parts for line in part.equipment]


def test_rental_by_crew_days_has_its_share_of_set_up() -> None:
    """10 h of 20 h are touched from the lift: 10 ÷ 8 is two days; with 14 h of set-up (34 × 1/2) ÷ 8 = 2.125, three."""
    assert days(rented(20, None, "14")) == days(rented(20, "touch", "14")) == [2]
    estimate = rented(20, "crew_days", "14")
    assert days(estimate) == [3]
    assert ("equipment", 60000) in amounts(estimate)
    assert days(rented(0, "crew_days", "14")) == []  # nothing is touched from it


def test_charged_idle_time_is_among_the_crews_days() -> None:
    """One window, its first coat half of 30 min: it waits 45 min. 30 + 45 min and 2 h are 3.25 h of 3 h days: two."""
    coats = {"interval_minutes": "45", "first_coat_share": "0.5", "charge_idle": True}
    table = production(setup_hours={"mobilisation": "2"}, coats=coats, hours_per_day="3")
    estimate = costed(
        request(opening(access="lift")), edition(equipment=[lift(days_from="crew_days")], production=table)
    )
    assert days(estimate) == [2]


def tower(*, zoned: bool) -> Estimate:
    """900 windows of 4 × 4 ft on two elevations of 30 storeys, 15 in each zone, by swing stage, two workers."""
    setup: Document = {"mobilisation": "3", "elevation": "0.75", "storey_change": "0.5"}
    stage: Document = {
        "code": "stage",
        "title": "Invented swing stage",
        "for_access": ["swing_stage"],
        "rental": [{"period": "week", "price": "780"}, {"period": "month", "price": "2150"}],
        "delivery": "450",
        "per_workers": 2,
    }
    if zoned:
        setup, stage = setup | {"zone": {"swing_stage": "2"}}, stage | {"days_from": "crew_days"}
    lines = [
        opening(f"W{storey}", 15, access="swing_stage", elevation=elevation, storey=str(storey))
        for elevation in ("North", "South")
        for storey in range(1, 31)
    ]
    crew = {"members": [{"labour": "worker", "count": 2}]}
    table = production(setup_hours=setup, access={"swing_stage": "1.4"})
    return costed(request(*lines, crew=crew), edition(equipment=[stage], production=table))


def test_a_tower_of_900_openings_with_and_without_set_up_by_zone_and_crew_days() -> None:
    """900 × 30 × 1.4 = 630 h touched; set-up 3 + 2 × 0.75 + 2 × 29 × 0.5 = 33.5 h; 60 zones × 2 = 120 h more.

    Labour 663.5 × 60.00, then 783.5 × 60.00. Rental 630 ÷ 16 = 39.4, 40 days: two months, 4300; then 783.5 ÷ 16 =
    48.97, 49 days: two months and two weeks, 5860; 450 for delivery in both. Materials are the same.
    """
    without, with_zones = (dict(amounts(tower(zoned=zoned))) for zoned in (False, True))
    assert without["labour"] == 39_810_00 and with_zones["labour"] == 47_010_00
    assert without["equipment"] == 4_750_00 and with_zones["equipment"] == 6_310_00
    assert without["materials"] == with_zones["materials"]
    assert [days(tower(zoned=zoned)) for zoned in (False, True)] == [[40], [49]]


@settings(max_examples=25, deadline=None)
@given(first=st.integers(0, 40), more=st.integers(0, 40), storeys=st.integers(1, 6))
def test_set_up_by_zone_adds_up_and_never_falls(first: int, more: int, storeys: int) -> None:
    lines = [opening("A", 2, access="lift", storey=str(s)) for s in range(storeys)]
    less, both = (hours(*lines, zone={"lift": f"{h}"})[0] for h in (first, first + more))
    assert both - less == more * storeys and less == 2 + first * storeys


@settings(max_examples=25, deadline=None)
@given(quantity=st.integers(1, 60), setup=st.integers(0, 60))
def test_rental_by_crew_days_is_never_shorter(quantity: int, setup: int) -> None:
    touch, crew = (days(rented(quantity, way, str(setup)))[0] for way in ("touch", "crew_days"))
    assert touch <= crew and (setup or touch == crew)


def test_absent_is_as_before() -> None:
    """The way of old written out, and hours for an access that nothing is worked from, move nothing."""
    assert built(rented(20, None, "3")) == built(rented(20, "touch", "3"))
    assert hours(*LINES, zone={"frame_scaffold": "9"}) == hours(*LINES, zone={}) == hours(*LINES, zone=None)
