"""Laws of the calendar over random jobs and calendars: no day below a limit or fuller than the crew, no hour lost.

The temperature of each working hour is worked out here a second time, by the height of a triangle and not by shares.
"""

from __future__ import annotations

import os
from collections import defaultdict
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest

from estimating.core.estimate import Estimate
from estimating.core.job import cost_request
from estimating.core.scheduling.plan import PlannedPart
from estimating.outputs.calendar_answer import calendar_answer, planned_parts
from tests.climate import climate_of, stations
from tests.core.random_chance import Chance
from tests.core.random_estimates import Document, random_case, random_estimate, sources

SEEDS = range(int(os.environ.get("CALENDARS", "25")))
MONDAY = date(2027, 3, 15)
HOLIDAYS = {date(2027, 5, 31), date(2027, 7, 5), date(2027, 9, 6), date(2027, 12, 31), date(2028, 1, 17)}  # some of US


def invented_months(chance: Chance) -> list[Document]:
    """Some months of any climate."""
    found = []
    for month in chance.some(range(1, 13)):
        low = chance.whole(-10, 80)
        row = {"month": month, "low": str(low), "high": str(low + chance.whole(0, 40))}
        if chance.maybe(0.5):
            row["wet_days"] = str(chance.whole(0, 20))
        if chance.maybe(0.3):
            row["dry_hours"] = str(chance.whole(0, 9))
        found.append(row)
    return found or [{"month": 3, "high": "50", "low": "30"}]


def random_calendar(chance: Chance, places: list[tuple[str, str]]) -> Document:
    """A start, holidays, days off, dates of zones, a climate: each of them at times."""

    def day(most: int) -> date:
        return MONDAY + timedelta(days=chance.whole(0, most))

    found: Document = {"holidays": "US"}
    if chance.maybe(0.5):
        found["start"] = day(400).isoformat()
    if chance.maybe(0.5):
        off = [day(120) for _ in range(chance.whole(1, 3))]
        found["days_off"] = [
            {"first": f"{first}", "last": f"{first + timedelta(days=chance.whole(0, 9))}", "reason": "held"}
            for first in off
        ]
    if chance.maybe(0.6) and places:
        found["zones"] = [
            {"elevation": elevation, "storey": storey, "sheathing_ready": f"{day(90)}", "units_due": f"{day(150)}"}
            for elevation, storey in chance.some(places)
            if elevation and storey
        ]
    if chance.maybe(0.3):
        found["working_days"] = chance.some(["monday", "tuesday", "wednesday", "thursday", "saturday"], least=1)
    if chance.maybe(0.8):
        station = climate_of(chance.pick(sorted(stations())))
        found["climate"] = station | ({"months": invented_months(chance)} if chance.maybe(0.6) else {})
    return found


def random_job(seed: int) -> Estimate:
    """A random job with a random calendar, its materials with temperatures at times."""
    request, editions = random_case(seed)
    chance = Chance(seed + 10_000)
    for edition in editions:
        for row in edition["tables"]["materials"]:
            if chance.maybe(0.4):
                row["lowest_temperature"] = f"{chance.whole(20, 50)} F"
            if chance.maybe(0.2):
                row["highest_temperature"] = f"{chance.whole(75, 110)} F"
    places = list(
        dict.fromkeys((line.get("elevation") or "", line.get("storey") or "") for line in request["openings"])
    )
    return cost_request(request | {"calendar": random_calendar(chance, places)}, sources(editions))


def temperature(hour: Fraction, low: Fraction, high: Fraction) -> Fraction:
    """Of a normal day at an hour: low at 03:00, high at 15:00, straight between."""
    return high - (high - low) * abs(hour - 15) / 12


def stated(estimate: Estimate, planned: PlannedPart, name: str) -> list[Fraction]:
    """The temperatures that the rows of what is put on in a part state."""
    rows = [line.row for line in planned.part.materials if line.row.role in ("liquid", "tape", "primer", "sealant")]
    return [value for value in (getattr(row, f"{name}_temperature_fahrenheit") for row in rows) if value is not None]


def check_temperatures(estimate: Estimate, planned: PlannedPart) -> None:
    """No working hour is below what any material states (40 °F where none does), no more of them than are in limits."""
    site = estimate.request.calendar
    assert site is not None
    lowest = max(stated(estimate, planned, "lowest"), default=Fraction(40))
    highest = min(stated(estimate, planned, "highest"), default=Fraction(1000))
    for stint in planned.stints:
        normal = None if site.climate is None else site.climate.of(stint.day.date.month)
        shift = stint.day.shift
        if normal is None:
            assert shift.hours == planned.part.conditions.production.hours_per_day
            continue
        low, high = normal.low_fahrenheit, normal.high_fahrenheit
        for hour in (shift.first, shift.last):
            assert temperature(hour, low, high) >= lowest
        steps = 400
        length = (shift.last - shift.first) / steps
        warm = sum(temperature(shift.first + length * (k + Fraction(1, 2)), low, high) <= highest for k in range(steps))
        assert abs(warm * length - shift.hours) <= 2 * length


def check_days(estimate: Estimate, planned: PlannedPart) -> None:
    """Each day is one that is worked, and holds no more than the crew gives; zones wait for their sheathing."""
    site = estimate.request.calendar
    assert site is not None
    filled: dict[date, Fraction] = defaultdict(Fraction)
    names = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    per_week = int(planned.part.conditions.production.days_per_week)
    for stint in planned.stints:
        day = stint.day.date
        filled[day] += stint.hours
        assert names[day.weekday()] in (site.working_days or names[:per_week])
        assert day not in HOLIDAYS
        assert not any(days.first <= day <= days.last for days in site.days_off)
        for dates in site.zones:
            if stint.task.lines and (dates.elevation, dates.storey) == (stint.task.elevation, stint.task.storey):
                assert dates.sheathing_ready is None or dates.sheathing_ready <= day
    shares = planned.part.crew.shares
    for stint in planned.stints:
        assert 0 < filled[stint.day.date] <= stint.day.shift.hours * shares


@pytest.mark.parametrize("seed", SEEDS)
def test_no_day_breaks_a_limit_and_every_hour_has_its_day(seed: int) -> None:
    estimate = random_job(seed)
    before = date.min
    for planned in planned_parts(estimate):
        check_temperatures(estimate, planned)
        check_days(estimate, planned)
        hours = planned.part.hours
        waiting = sum((zone.idle_minutes for zone in hours.zones), Fraction(0)) / 60
        assert sum((task.hours for task in planned.tasks), Fraction(0)) == hours.touch + hours.setup + waiting
        done = sum((stint.hours for stint in planned.stints), Fraction(0))
        assert done + planned.left == hours.touch + hours.setup + waiting
        if planned.first is not None:
            assert planned.first > before
            before = planned.stints[-1].day.date


@pytest.mark.parametrize("seed", SEEDS)
def test_the_document_sums_up_and_each_opening_is_finished_once(seed: int) -> None:
    estimate = random_job(seed)
    found = calendar_answer(estimate)
    finished: dict[int, int] = defaultdict(int)
    for row in found["items"]:
        assert row["openings"] >= 0
        finished[row["zone"]] += row["openings"]
    for row in found["zones"]:
        if row["finish"] is not None:
            assert finished[row["zone"]] == row["openings"]
    assert sum(row["openings"] for row in found["zones"]) == estimate.openings
    off = {row["first"] for row in found["days_off"]} & {row["date"] for row in found["items"]}
    assert not off or len(estimate.parts) > 1


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plain_calendar_takes_the_crew_days_of_the_price(seed: int) -> None:
    """Where nobody waits between coats, or waiting is charged; the ceiling is taken once."""
    for planned in planned_parts(random_estimate(seed)):
        hours = planned.part.hours
        if hours.idle or not any(zone.idle_minutes for zone in hours.zones):
            assert planned.working_days == hours.crew_days


def test_the_laws_meet_what_they_are_about() -> None:
    """Among the cases are short days, days off for each reason, late zones and splits."""
    found: Any = [calendar_answer(random_job(seed)) for seed in range(25)]
    reasons = {row["reason"] for answer in found for row in answer["days_off"]}
    assert reasons == {"holiday", "day_off", "climate", "rain", "waiting"}
    assert any(row["late"] for answer in found for row in answer["zones"])
    assert any(len(answer["parts"]) > 1 for answer in found)
