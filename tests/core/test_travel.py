"""Travel, board and lodging, return trips: rows of their own among direct costs, paid for each of what they count.

The plain job: 20 windows × 30 minutes from a lift, 10 h by one worker in two days; 600 + 150 + 400.
"""

from __future__ import annotations

from estimating.core.derivation import derive
from estimating.core.estimate import Estimate
from tests.core.derivation_cases import walk_all, walk_price
from tests.core.invented import Document, costed, edition, opening, overhead, percent, request, worker
from tests.core.plain_job import job, of_step

ROWS = (
    overhead("travel", amount="150", on="mobilisations"),
    overhead("per_diem", amount="60", on="worker_days"),
    overhead("return_trips", amount="85", on="return_trips"),
)


def steps(estimate: Estimate) -> list[int]:
    """The amounts of the three steps."""
    return [amount for step in ("travel", "per_diem", "return_trips") for amount in of_step(estimate, step)]


def test_each_is_paid_for_what_it_counts() -> None:
    """Two mobilisations × 150; 10 h are two days × one worker × 60; three trips × 85; 10 % on direct cost has them."""
    asked: Document = {"mobilisations": 2, "return_trips": 3}
    estimate = job(*ROWS, percent("overhead", "10", "direct_cost"), fields=asked)
    assert steps(estimate) == [300_00, 120_00, 255_00]
    assert estimate.up.direct_minor == 1150_00 + 675_00
    assert of_step(estimate, "overhead") == [182_50]


def test_two_workers_are_there_for_one_day() -> None:
    """10 h ÷ 16 is one day × two workers."""
    crew = {"members": [{"labour": "worker", "count": 2}]}
    assert steps(job(*ROWS, fields={"crew": crew})) == [150_00, 120_00, 0]


def test_nothing_worked_is_no_trip_and_an_amount_may_stand_alone() -> None:
    nothing = costed(request(return_trips=3), edition(overheads=list(ROWS)))
    assert steps(nothing) == [0, 0, 0]
    assert derive(nothing, "return_trips")["formula"] == "0: nothing is worked"
    assert steps(job(overhead("travel", amount="150"), overhead("per_diem", amount="45"))) == [150_00, 45_00]


def split() -> tuple[Document, list[Document]]:
    """Two parts of a season split and two return trips, under one edition."""
    parts = [{"work_date": "2027-03-15", "openings": ["A"]}, {"work_date": "2027-09-15"}]
    document = request(opening("A", 4), opening("B", 20), mobilisations=parts, return_trips=2)
    return document, [edition(overheads=list(ROWS), labour=[worker()])]


def test_the_parts_of_a_season_split_travel_each_and_return_once() -> None:
    """2 h and 10 h: one day and two; the trips of the job stand in its first part."""
    document, rates = split()
    estimate = costed(document, *rates)
    assert steps(estimate) == [150_00, 150_00, 60_00, 120_00, 170_00, 0]
    assert derive(estimate, "part.1.return_trips")["formula"] == "0: counted in the first part"
    walk_all(walk_price((document, rates), estimate), estimate)
