"""Overtime and prevailing wages in an estimate: stated by the request, a labour row or the production table.

The published weeks are those of tests/core/test_payroll.py, here through the hour rate that an estimate uses; all
other rates are invented and worked by hand beside the check.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from estimating.core.derivation import derive, figures
from estimating.core.estimate import Estimate
from rates.core.problems import Refused
from tests.core.derivation_walk import Walk
from tests.core.invented import Document, costed, edition, opening, production, refusals, request, worker
from tests.core.plain_job import of_step

F = Fraction
RULE = {
    "number": "INV-1",
    "area": "Invented County",
    "classification": "sealer",
    "effective_from": "2027-01-01",
    "basic_rate": "22",
    "fringe": "5",
}


def rate(labour: Document, crew: Document | None = None, table: Document | None = None) -> Fraction:
    """The hour rate of a labour row as an estimate works it."""
    made = estimate(labour, crew, table)
    return made.parts[0].crew.rates[0].rate


def documents(
    labour: Document, crew: Document | None = None, table: Document | None = None
) -> tuple[Document, Document]:
    """(request, edition) for one worker of this row."""
    members: Document = {"members": [{"labour": "worker", "count": 1}]}
    return request(opening(), crew=members | (crew or {})), edition(
        labour=[labour], production=production(**table or {})
    )


def estimate(labour: Document, crew: Document | None = None, table: Document | None = None) -> Estimate:
    """The estimate of those documents."""
    return costed(*documents(labour, crew, table))


@pytest.mark.parametrize(("wage", "fringe", "pay"), [("22", "5", 1232), ("20", "7", 1232), ("24", "3", 1236)])
def test_44_hours_under_a_determination_cost_what_the_resource_book_says(wage: str, fringe: str, pay: int) -> None:
    """DOL Prevailing Wage Resource Book: 22 + 5 determined, 44 hours."""
    row = worker(wage=wage, fringe=fringe, hours_per_week="44", determination=RULE)
    assert rate(row) * 44 == pay


def test_46_hours_at_12_are_588() -> None:
    """29 CFR 778.110(a)."""
    assert rate(worker(wage="12", hours_per_week="46")) * 46 == 588


def test_without_a_stated_week_no_overtime_is_counted() -> None:
    """As rules.md has it: ten hours a day are no reason by themselves."""
    assert rate(worker(wage="12"), table={"hours_per_day": "10", "days_per_week": "6"}) == 12
    assert rate(worker(wage="12", determination=RULE, fringe="15")) == 27


@pytest.mark.parametrize(
    ("crew", "row", "table", "hours"),
    [
        ({"hours_per_week": "50"}, {"hours_per_week": "46"}, {"overtime": {"hours_per_week": "48"}}, 50),
        ({}, {"hours_per_week": "46"}, {"overtime": {"hours_per_week": "48"}}, 46),
        ({}, {}, {"overtime": {"hours_per_week": "48"}}, 48),
    ],
)
def test_the_request_goes_before_the_row_and_the_row_before_the_production_table(
    crew: Document, row: Document, table: Document, hours: int
) -> None:
    assert rate(worker(wage="12", **row), crew, table) * hours == 12 * hours + 6 * (hours - 40)


def test_overtime_after_fewer_hours() -> None:
    """48 hours, past 35 at one and a half: (48 + 6.5) × 12 ÷ 48."""
    table = {"overtime": {"hours_per_week": "48", "after": "35"}}
    assert rate(worker(wage="12"), table=table) == F("54.5") * 12 / 48
    assert rate(worker(wage="12", hours_per_week="30"), table=table) == 12


def test_each_burden_has_its_own_base() -> None:
    """48 hours at 30 are 35 a mean hour more by 2.50; fringe 9 in cash: 10 % of 32.50, of 30, and of 41.50."""
    burdens = [{"title": on, "percent": "10", "on": on} for on in ("wage", "straight_wage", "cash_wage")]
    row = worker(wage="30", fringe="9", hours_per_week="48", burden=burdens)
    assert rate(row) == F("32.5") + 9 + F("3.25") + 3 + F("3.25")
    assert rate(row | {"fringe_paid": "cash"}) == F("32.5") + 9 + F("3.25") + 3 + F("4.15")


@pytest.mark.parametrize(
    ("row", "based"),
    [
        ({}, []),
        ({"fringe_paid": "cash"}, [2]),
        ({"hours_per_week": "48"}, [0, 2]),
        ({"hours_per_week": "48", "fringe_paid": "cash"}, [0, 2]),
    ],
)
def test_a_base_is_told_only_where_it_is_not_the_straight_wage(row: Document, based: list[int]) -> None:
    """Overtime counts for the burdens on all pay; fringe in cash only for that on the cash wage."""
    burdens = [{"title": on, "percent": "10", "on": on} for on in ("wage", "straight_wage", "cash_wage")]
    told = set(figures(estimate(worker(wage="30", fringe="9", burden=burdens, **row))))
    assert [k for k in range(3) if f"labour.worker.burden.{k}.base" in told] == based


def test_a_burden_stops_at_its_yearly_limit() -> None:
    """IRS Topic 759: 6.0 % of 7,000 a year is 420; over 2,000 hours 0.21 an hour."""
    limited = {"title": "t", "percent": "6", "on": "wage", "yearly_limit": "7000", "yearly_hours": "2000"}
    assert rate(worker(wage="30", burden=[limited])) == 30 + F("0.21")
    assert rate(worker(wage="3", burden=[limited])) == 3 + F("0.18")


def test_labour_is_priced_at_the_mean_hour() -> None:
    """Half an hour at 60 and a sixth of an hour's premium: 50 hours are 60 × 55 ÷ 50 = 66.00 each."""
    assert of_step(estimate(worker(), {"hours_per_week": "50"}), "labour") == [3300]
    assert of_step(estimate(worker()), "labour") == [3000]


@pytest.mark.parametrize(
    ("row", "crew", "table"),
    [
        ({"hours_per_week": "44"}, {}, {}),
        ({}, {"hours_per_week": "52"}, {}),
        ({}, {}, {"overtime": {"hours_per_week": "48", "after": "35"}}),
        ({}, {}, {}),
        ({"hours_per_week": "30", "overtime_multiplier": "2"}, {}, {}),
    ],
)
def test_every_figure_of_the_rate_evaluates_again_from_its_leaves(
    row: Document, crew: Document, table: Document
) -> None:
    burdens: list[Document] = [
        {"title": on, "percent": "10", "on": on} for on in ("wage", "straight_wage", "cash_wage")
    ]
    burdens.append({"title": "t", "percent": "6", "on": "wage", "yearly_limit": "7000", "yearly_hours": "2080"})
    burdens.append({"title": "u", "percent": "6", "on": "straight_wage", "yearly_limit": "1", "yearly_hours": "2080"})
    labour = worker(wage="20", fringe="7", fringe_paid="cash", burden=burdens, determination=RULE) | row
    asked, whole = documents(labour, crew, table)
    made = costed(asked, whole)
    walk = Walk(asked, [whole])
    names = [name for name in figures(made) if name.startswith("labour") or name in ("hour_cost", "labour_cost")]
    for name in names:
        walk.add(derive(made, name, depth=1000))
        assert walk.value(name) == Fraction(walk.steps[name]["value"]), name
    assert ("labour.worker.overtime" in names) == bool(row or crew or table)


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"determination": RULE, "wage": "21.99", "fringe": "5"}, [("wage", "below_determination")]),
        ({"determination": RULE | {"effective_to": "2026-01-01"}}, [("determination/effective_to", "before_start")]),
        ({"determination": {"number": "x"}}, [(f"determination/{n}", "missing") for n in RULE if n != "number"]),
        ({"hours_per_week": "169"}, [("hours_per_week", "too_large")]),
        ({"hours_per_week": "0"}, [("hours_per_week", "too_small")]),
        ({"fringe_paid": "later"}, [("fringe_paid", "unknown_choice")]),
        (
            {"burden": [{"title": "t", "percent": "6", "on": "wage", "yearly_limit": "7000"}]},
            [("burden/0/yearly_hours", "missing")],
        ),
    ],
)
def test_faults_of_a_labour_row_are_told(fields: Document, expected: Any) -> None:
    with pytest.raises(Refused) as refused:
        estimate(worker(**fields))
    found = [(p.pointer.removeprefix("/tables/labour/0/"), p.code) for p in refused.value.problems]
    assert sorted(found) == sorted(expected)


@pytest.mark.parametrize(
    ("starts", "ends", "refused"),
    [
        ("2027-03-16", None, True),
        ("2027-03-15", None, False),
        ("2027-01-01", "2027-03-15", False),
        ("2027-01-01", "2027-03-14", True),
    ],
)
def test_a_determination_must_be_in_force_on_the_work_date(starts: str, ends: str | None, refused: bool) -> None:
    """The work date is 2027-03-15."""
    rule = RULE | {"effective_from": starts} | ({"effective_to": ends} if ends else {})
    asked, whole = documents(worker(determination=rule))
    if refused:
        assert refusals(asked, whole) == [("/crew/members/0/labour", "determination_not_in_force")]
    else:
        assert costed(asked, whole).up.price_minor > 0
