"""Earned hours, pace and forecast: worked by hand, and laws of random records."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.job_progress import (
    BOTH_COATS,
    FIRST_COAT,
    SECOND_COAT,
    SET_UP,
    TAPE,
    MarkTarget,
    Record,
    Targets,
    ZoneTarget,
    progress,
    steps_of,
)
from estimating.core.job_targets import targets_of
from rates.core.fraction import Fraction
from tests.core.invented import costed, edition, opening, production, request, worker
from tests.core.random_estimates import random_estimate

MONDAY, TUESDAY = datetime.date(2027, 3, 15), datetime.date(2027, 3, 16)
COATS = ((FIRST_COAT, Fraction(2, 5)), (SECOND_COAT, Fraction(3, 5)))
# ten openings A of half an hour each, four B of an hour: 9 h; two hours of set-up; a crew of two works 16 h a day
ZONE = ZoneTarget(1, "North", "1", (MarkTarget("A", 10, Fraction(1, 2), COATS), MarkTarget("B", 4, Fraction(1), COATS)))
JOB = Targets((ZONE,), Fraction(2), Fraction(16))


def test_counts_earn_their_target_hours_and_the_pace_tells_what_the_rest_takes() -> None:
    # by hand: 5 A and 2 B with the first coat earn 5 × 0.5 × 0.4 + 2 × 1 × 0.4 = 1.8 h and took 2.7 h: pace 1.5;
    # 9 − 1.8 = 7.2 h are left and take 10.8 h; of two hours of set-up half an hour is still to come: 11.3 h, a crew-day
    records = [
        Record(MONDAY, 1, FIRST_COAT, Fraction("2.7"), {"A": 5, "B": 2}),
        Record(MONDAY, 1, SET_UP, Fraction("1.5")),
    ]
    found = progress(JOB, records)
    assert (found.target, found.earned, found.spent) == (9, Fraction("1.8"), Fraction("2.7"))
    assert (found.pace, found.left, found.forecast) == (Fraction(3, 2), Fraction("7.2"), Fraction("11.3"))
    assert found.forecast_days == 1
    assert [(x.day, x.earned, x.spent, x.setup) for x in found.days] == [
        (MONDAY, Fraction("1.8"), Fraction("2.7"), Fraction("1.5"))
    ]
    assert [(x.step, x.planned, x.counted, x.target, x.earned) for x in found.steps] == [
        (FIRST_COAT, 14, 7, Fraction("3.6"), Fraction("1.8")),
        (SECOND_COAT, 14, 0, Fraction("5.4"), 0),
    ]


def test_nothing_counted_forecasts_nothing() -> None:
    found = progress(JOB, [Record(MONDAY, 1, SET_UP, Fraction(3))])
    assert found.pace is None and found.forecast is None and found.forecast_days is None
    assert found.setup_spent == 3 and found.earned == 0


def test_openings_counted_past_the_drawing_earn_nothing_and_are_told() -> None:
    # by hand: 3 + 3 of four B; the second record earns one opening's second coat, 0.6 h
    records = [
        Record(TUESDAY, 1, SECOND_COAT, Fraction(2), {"B": 3}),
        Record(MONDAY, 1, SECOND_COAT, Fraction(2), {"B": 3}),
    ]
    found = progress(JOB, records)
    assert [(day.day, day.earned) for day in found.days] == [(MONDAY, Fraction("1.8")), (TUESDAY, Fraction("0.6"))]
    assert [(x.mark, x.planned, x.counted) for x in found.over] == [("B", 4, 6)]


@pytest.mark.parametrize(
    ("method", "share", "steps"),
    [
        ("fluid", Fraction(2, 5), COATS),
        ("fluid", None, ((BOTH_COATS, 1),)),
        ("fluid", Fraction(1), ((BOTH_COATS, 1),)),
        ("tape", Fraction(2, 5), ((TAPE, 1),)),
    ],
)
def test_coats_are_told_apart_where_the_edition_says_how_they_share(
    method: str, share: Fraction, steps: object
) -> None:
    assert steps_of(method, share) == steps


def test_targets_are_paid_hours_of_the_crew() -> None:
    # by hand: 4 × 4 ft from the ground are 30 minutes of a fully productive worker (the invented table); of one whose
    # productive share is 0.8 they are paid 37.5 minutes, ten openings 6.25 h
    job = costed(
        request(opening("A", 10, width="4 ft", height="4 ft", access="ground")),
        edition(labour=[worker(productive_share="0.8")], production=production()),
    )
    minutes = job.parts[0].hours.touch_minutes
    found = targets_of(job)
    assert found.zones[0].marks[0].hours * 10 == Fraction(minutes) / 60 / Fraction("0.8")
    assert progress(found, []).target == Fraction(job.totals.hours.touch) / Fraction("0.8")


@pytest.mark.parametrize("seed", range(12))
def test_targets_sum_to_the_paid_hours_of_the_estimate(seed: int) -> None:
    job = random_estimate(seed)
    found = targets_of(job)
    idle = sum((part.hours.idle * part.crew.workers / part.crew.shares for part in job.parts), Fraction(0))
    assert progress(found, []).target + found.setup_hours + idle == sum((p.hours.paid for p in job.parts), Fraction(0))


COUNTS = st.lists(
    st.tuples(st.sampled_from([MONDAY, TUESDAY]), st.sampled_from([FIRST_COAT, SECOND_COAT]),
              st.integers(0, 12), st.integers(0, 6), st.integers(0, 40)),
    max_size=12,
)  # fmt: skip


@given(COUNTS)
def test_days_and_steps_sum_to_the_job_and_never_pass_it(drawn: list[tuple[datetime.date, str, int, int, int]]) -> None:
    records = [Record(day, 1, step, Fraction(hours, 4), {"A": a, "B": b}) for day, step, a, b, hours in drawn]
    found = progress(JOB, records)
    for name in ("earned", "spent"):
        total = getattr(found, name)
        assert sum(getattr(x, name) for x in found.days) == total == sum(getattr(x, name) for x in found.steps)
    assert 0 <= found.earned <= found.target and found.left >= 0
    assert found.spent == sum(record.hours for record in records)
    doubled = progress(JOB, [*records, *(Record(r.day, 1, r.step, r.hours, {"A": 0, "B": 0}) for r in records)])
    assert doubled.earned == found.earned and doubled.spent == 2 * found.spent
    if found.pace:
        assert doubled.pace == 2 * found.pace
