"""The calendar against cases worked by hand: days, holidays, holds, the climate, a season split.

An opening takes 30 minutes and the worker gives 8 standard hours a day unless a case says otherwise; 2027-03-15 is a
Monday. Rates are invented; the climate is that of tests/data/weather.
"""

from __future__ import annotations

from typing import Any

import pytest

from estimating.core.scheduling.plan import plan_job
from estimating.core.scheduling.tasks import tasks_of
from estimating.outputs.calendar_answer import calendar_answer, planned_parts
from tests.climate import climate_of
from tests.core.invented import Document, costed, edition, materials, opening, production, request
from tests.core.invented import worker as worker_row
from tests.core.test_season_split import PARTS, SETUP, split

COATS = {"interval_minutes": "30", "dry_hours": "2", "first_coat_share": "0.5"}
MILWAUKEE = climate_of("milwaukee-wi", wet=False)


def answer(document: Document, *editions: Document) -> Document:
    """The calendar of a request."""
    return calendar_answer(costed(document, *editions))


def days(found: Document) -> list[str]:
    """The days on which there is work, each once."""
    return list(dict.fromkeys(row["date"] for row in found["items"]))


def plain(openings: int, crew: Document | None = None, **calendar: Any) -> Document:
    """So many openings, and a calendar."""
    members = [{"labour": "worker", "count": 1}]
    return request(opening(quantity=openings), crew=crew or {"members": members}, calendar=calendar)


def months(**highs: tuple[str, str]) -> Document:
    """A climate of some months: m3=("50", "30") is a March between 30 and 50 °F."""
    listed = [{"month": int(name[1:]), "high": high, "low": low} for name, (high, low) in highs.items()]
    return {"title": "Invented", "unit": "f", "months": listed}


def of_codes(found: Document) -> set[str]:
    """The codes of its remarks."""
    return {row["code"] for row in found["remarks"]}


@pytest.mark.parametrize(
    ("workers", "share", "openings", "working_days", "last"),
    [
        # NAVEDTRA 14045 after NAVFAC P-405: 16,000 SF × 33 h per 1,000 SF ÷ 8 = 66 man-days; here 1056 × 30 minutes
        (1, "1", 1056, 66, "2027-06-14"),
        # duration = MD ÷ (crew × availability): 66 ÷ (5 × 0.8) = 16.5, rounded up once: 17
        (5, "0.8", 1056, 17, "2027-04-06"),
        # exactly 8 days of 10 × 0.7 × 8 = 56 hours, where a float's noise would make nine
        (10, "0.7", 896, 8, "2027-03-24"),
    ],
)
def test_crew_days_of_a_published_example(
    workers: int, share: str, openings: int, working_days: int, last: str
) -> None:
    crew = {"members": [{"labour": "worker", "count": workers}]}
    found = answer(plain(openings, crew), edition(labour=[worker_row(productive_share=share)]))
    assert (found["working_days"], found["finish"]) == (working_days, last)
    assert found["parts"][0]["crew_days"] == str(working_days)


def test_a_public_holiday_is_not_worked() -> None:
    """Memorial Day is the last Monday of May (5 U.S.C. 6103): 31 May 2027. Five days from Thursday the 27th."""
    found = answer(plain(80, start="2027-05-27", holidays="US"))
    assert days(found) == ["2027-05-27", "2027-05-28", "2027-06-01", "2027-06-02", "2027-06-03"]
    (off,) = found["days_off"]
    assert (off["first"], off["reason"], off["words"]) == ("2027-05-31", "holiday", "Memorial Day")
    assert days(answer(plain(80, start="2027-05-27")))[2] == "2027-05-31"


def test_a_holiday_on_a_sunday_is_kept_on_monday() -> None:
    """4 July 2027 is a Sunday; federal offices keep the Monday (Executive Order 11582)."""
    assert days(answer(plain(32, start="2027-07-02", holidays="US-WI"))) == ["2027-07-02", "2027-07-06"]


def test_months_below_the_limit_are_not_worked() -> None:
    """Milwaukee's normal January, February and December never reach 40 °F.

    March reaches it for (44.2 − 40) ÷ (44.2 − 28.7) of the day, 3 h 15 min either side of 15:00, so from 11:45: until
    15:00 less than half a shift. April does from long before 07:00. So two days of work are 1 and 2 April.
    """
    found = answer(plain(32, start="2027-01-04", climate=MILWAUKEE))
    assert days(found) == ["2027-04-01", "2027-04-02"]
    worked = {row["month"]: (row["worked"], row["starts"], row["ends"]) for row in found["parts"][0]["months"]}
    assert [month for month, (is_worked, _, _) in worked.items() if not is_worked] == [1, 2, 3, 12]
    assert worked[4] == (True, "07:00", "15:00")
    assert {row["reason"] for row in found["days_off"]} == {"climate"}
    assert sum(row["days"] for row in found["days_off"]) == 63  # weekdays from 4 January to the end of March


def test_a_cold_month_has_short_days() -> None:
    """Half of a day between 30 and 50 °F is above 40: from 09:00 to 21:00. A shift from 07:00 to 15:00 loses two hours,
    so 20 openings take 6 + 4 of 10 hours; with 14 hours to dry it ends at 07:00, before it starts."""
    cold = months(m3=("50", "30"))
    found = answer(plain(20, climate=cold))
    assert [(row["date"], row["hours"]) for row in found["items"]] == [("2027-03-15", "6"), ("2027-03-16", "4")]
    assert (found["items"][0]["starts"], found["items"][0]["ends"]) == ("09:00", "15:00")
    cold["months"][0]["dry_hours"] = "8"
    found = answer(plain(16, climate=cold))
    assert (found["items"][0]["starts"], found["items"][0]["ends"]) == ("09:00", "13:00")
    cold["months"][0]["dry_hours"] = "14"
    assert days(answer(plain(16, climate=cold))) == ["2027-04-01"]


def test_heat_stops_work_as_the_data_sheet_says() -> None:
    """Between 60 and 100 °F a day is above 90 for a quarter: from 12:00 to 18:00, so 07:00 to 12:00 is worked.
    Above 80 for half of it, from 09:00 on: two hours are less than half a shift."""
    hot = months(m3=("100", "60"))
    for limit, hours in (("90 F", "5"), ("80 F", None), (None, "8")):
        rows = [m | ({"highest_temperature": limit} if limit else {}) for m in materials()]
        found = answer(plain(20, climate=hot), edition(materials=rows))
        assert next((row["hours"] for row in found["items"] if row["date"] == "2027-03-15"), None) == hours


def test_the_highest_of_the_lowest_temperatures_governs() -> None:
    """Of liquid at 50 °F and mesh, which states none and is not put on; by default it is 40 °F, and that is told."""
    rows = [m | ({"lowest_temperature": "10 C"} if m["role"] == "liquid" else {}) for m in materials()]
    found = answer(plain(1), edition(materials=rows))
    part = found["parts"][0]
    assert (part["lowest_temperature"], part["lowest_from"]) == ("50 °F", "rates")
    part = answer(plain(1))["parts"][0]
    assert (part["lowest_temperature"], part["lowest_from"]) == ("40 °F", "default")
    assert {"limit_by_default", "no_climate", "no_holidays"} <= of_codes(answer(plain(1)))


def test_rain_takes_one_of_each_so_many_days() -> None:
    """Ten wet days of the thirty of April: each third day that could be worked is lost. 1 April 2027 is a Thursday."""
    wet = months(m4=("70", "50"))
    wet["months"][0]["wet_days"] = "10"
    found = answer(plain(64, start="2027-04-01", climate=wet))
    assert days(found) == ["2027-04-01", "2027-04-02", "2027-04-06", "2027-04-07"]
    assert [row["first"] for row in found["days_off"]] == ["2027-04-05"]


def test_a_hold_of_the_site_stops_the_work_and_says_why() -> None:
    hold = {"first": "2027-03-16", "last": "2027-03-18", "reason": "air test"}
    found = answer(plain(32, days_off=[hold]))
    assert days(found) == ["2027-03-15", "2027-03-19"]
    (off,) = found["days_off"]
    assert (off["first"], off["last"], off["days"], off["words"]) == ("2027-03-16", "2027-03-18", 3, "air test")


def test_the_next_zone_that_is_ready_is_worked_and_the_crew_waits_where_none_is() -> None:
    """North is held until Wednesday, so South goes first; East has no sheathing before the 22nd."""
    lines = [opening(name, 16, elevation=place) for name, place in (("A", "North"), ("B", "South"), ("C", "East"))]
    zones = [
        {"elevation": "North", "hold_until": "2027-03-17", "hold_reason": "inspection", "units_due": "2027-03-18"},
        {"elevation": "East", "sheathing_ready": "2027-03-22", "units_due": "2027-03-22"},
    ]
    found = answer(request(*lines, calendar={"zones": zones}))
    assert [(row["date"], row["title"]) for row in found["items"]] == [
        ("2027-03-15", "South"),
        ("2027-03-17", "North"),
        ("2027-03-22", "East"),
    ]
    waiting = [(row["first"], row["last"], row["reason"]) for row in found["days_off"]]
    assert waiting == [("2027-03-16", "2027-03-16", "waiting"), ("2027-03-18", "2027-03-19", "waiting")]
    assert [(row["title"], row["late"]) for row in found["zones"]] == [
        ("North", False),
        ("South", None),
        ("East", True),
    ]
    assert "late" in of_codes(found)


def test_a_season_split_has_two_mobilisations_and_its_later_part_later_rates() -> None:
    """20 × 30 minutes + 2 h mobilisation + 0.5 h elevation = 12.5 h: Monday and Tuesday. 10 × 30 + 2.5 h = 7.5 h from
    Friday 1 October, at 90.00 instead of 60.00 an hour: 12.5 × 60 + 7.5 × 90 = 1,425.00."""
    document = request(opening("A", 20, elevation="North"), opening("B", 10, elevation="North"), mobilisations=PARTS)
    editions = (
        edition(production=production(setup_hours=SETUP)),
        edition(production=production(setup_hours=SETUP), labour=[worker_row(wage="90")], effective_from="2027-09-01"),
    )
    estimate = costed(document, *editions)
    found = calendar_answer(estimate)
    assert [(row["start"], row["finish"], row["edition"]["number"]) for row in found["parts"]] == [
        ("2027-03-15", "2027-03-16", 1),
        ("2027-10-01", "2027-10-01", 2),
    ]
    assert [(row["setup_hours"], row["work_hours"]) for row in found["zones"]] == [("2.5", "10"), ("2.5", "5")]
    assert sum(line.amount_minor for line in estimate.up.lines if line.step == "labour") == 142_500
    assert not {"priced_on_another_day", "more_days_than_priced"} & of_codes(found)


def test_the_second_part_waits_for_the_crew_and_says_that_its_price_is_of_another_day() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-03-16", "title": "Later"}]
    found = answer(request(opening("A", 48), opening("B", 16), mobilisations=parts))
    assert [(row["start"], row["finish"]) for row in found["parts"]] == [
        ("2027-03-15", "2027-03-17"),
        ("2027-03-18", "2027-03-18"),
    ]
    assert "priced_on_another_day" in of_codes(found)


def test_a_new_crew_is_slower_at_first_and_takes_no_more_hours_than_the_price() -> None:
    """The split of test_season_split: the second zone continues where the first left off, factor by factor."""
    estimate = split()
    for part in estimate.parts:
        assert sum(task.work for task in tasks_of(part)) == part.hours.touch
    learning = {"model": "exponential", "first": "1.8", "tau": "10"}
    lines = (opening("A", 20, elevation="North"), opening("B", 20, elevation="South"))
    new = {"members": [{"labour": "worker", "count": 1}], "experience": "new"}
    estimate = costed(request(*lines, crew=new), edition(production=production(learning=learning)))
    first, second = tasks_of(estimate.parts[0])
    assert first.work > second.work and first.work + second.work == estimate.parts[0].hours.touch
    # Σ over k = 1..20 of 1 + 0.8 e^(−(k − 1)/10), times half an hour
    assert float(first.work) == pytest.approx(sum(1 + 0.8 * 2.718281828459045 ** (-k / 10) for k in range(20)) / 2)


def test_waiting_between_coats_and_set_up_at_each_place_take_their_time() -> None:
    """One opening: 15 minutes of a first coat, then 30 of waiting; mobilisation two hours, elevation half an hour."""
    found = answer(request(opening(elevation="North")), edition(production=production(coats=COATS, setup_hours=SETUP)))
    (zone,) = found["zones"]
    assert [zone[name] for name in ("setup_hours", "work_hours", "waiting_hours", "hours")] == [
        "2.5",
        "0.5",
        "0.5",
        "3.5",
    ]


def test_storeys_go_from_the_ground_up_within_an_elevation() -> None:
    places = [("North", "L2"), ("South", "1"), ("North", "L10"), ("North", "L1"), ("North", "")]
    lines = [opening(f"W{i}", 1, elevation=e, storey=s) for i, (e, s) in enumerate(places)]
    assert [row["title"] for row in answer(request(*lines))["zones"]] == [
        "North",
        "North, L1",
        "North, L2",
        "North, L10",
        "South, storey 1",
    ]


def test_the_days_of_the_week_and_the_start_of_the_day() -> None:
    """Four days a week from 06:30; 2027-03-18 is a Thursday."""
    found = answer(plain(80, starts="06:30"), edition(production=production(days_per_week="4", hours_per_day="10")))
    assert days(found) == ["2027-03-15", "2027-03-16", "2027-03-17", "2027-03-18"]
    assert (found["items"][0]["starts"], found["items"][0]["ends"]) == ("06:30", "16:30")
    assert days(answer(plain(32, working_days=["saturday", "tuesday"]))) == ["2027-03-16", "2027-03-20"]


def test_what_never_finds_a_day_is_told() -> None:
    found = answer(plain(32, climate=months(**{f"m{i}": ("30", "10") for i in range(1, 13)})))
    assert (found["start"], found["finish"], found["parts"][0]["hours_unplanned"]) == (None, None, "16")
    assert "not_planned" in of_codes(found) and not found["items"]


def test_joints_come_last_and_nothing_to_do_takes_no_day() -> None:
    joints = {"corners": "320 ft", "walls": []}
    made = production(sheathing_joint={"width": "4 in", "minutes_per_foot": "0.25"}, setup_hours=SETUP)
    found = answer(request(opening(quantity=2), sheathing_joints=joints), edition(production=made))
    assert [(row["title"], row["openings"]) for row in found["zones"]] == [("all openings", 2), ("sheathing joints", 0)]
    assert found["zones"][1]["work_hours"] == "1.333333"
    nothing = answer(request())
    assert (nothing["start"], nothing["items"], nothing["zones"], nothing["working_days"]) == (None, [], [], 0)


def test_the_crew_of_the_price_takes_its_crew_days() -> None:
    """Without a climate the plan has no holes: as many days as the price pays, if nobody waits between coats."""
    estimate = split()
    for planned, part in zip(plan_job(estimate, lambda day: None), estimate.parts, strict=True):
        assert planned.working_days == part.hours.crew_days and planned.left == 0
    assert [part.first.isoformat() for part in planned_parts(estimate) if part.first] == ["2027-03-15", "2027-10-01"]
