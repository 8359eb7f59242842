"""Published figures of labour and money against what an estimate prices: 40 rows, 6 wrong figures that must not come.

Labour goes through wages.LabourRate and CrewCost, the rest through whole estimates. Rows: wages and overtime 6, payroll
taxes 3, loaded wages 12, man-days 1, margins 6, cascades 2, sales tax 2, rounding 5, shares by largest remainder 2, a
bond by tiers 1. Wrong: 1,242 (fringe multiplied), 17.64, 33.32 and 55.55 (truncated), 0.03 (tax by item), 9 days (float
noise). Sources were read as excerpts, not in the original volumes. Not here: bonus, piece and weighted rates (29 CFR
778.110(b), 778.111, 778.115) and a worker paid 20 + 7 under a determination of 22 + 5, which no rate table states.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from estimating.core.crew import CrewCost
from estimating.core.estimate import Estimate
from estimating.core.wages import LabourRate
from estimating.outputs.answer import answer
from rates.core.card import read_edition
from rates.core.money import round_half_up
from rates.core.rows import LabourRow
from tests.core.invented import (
    amounts,
    costed,
    edition,
    mark_prices,
    materials,
    opening,
    overhead,
    percent,
    production,
    request,
    sources,
    worked,
    worker,
)

CFR = "29 CFR 778.110(a)"
DOL = "US DOL Prevailing Wage Resource Book: determination 22 + 5, 44 hours"
HUD = "HUD handbook, example E-503: basic rate 2.00 + 0.45 fringe"
ARMY = "US Army EI 01D010, example 5-1"
IRS = "IRS Topics 751 and 759; the wage base of 2022"
EPA = "US EPA information collection worksheet (OMB 2070): benefits 43 %, overhead 50 %"
NAVY = "US Navy NAVEDTRA 14045 after NAVFAC P-405"
MARGINS = "published markup tables, computed: g / (1 − g)"
EXERCISE = "an estimating exercise: 10 % and 5 % overhead, 5 % contingency, 8 % profit on 500,000 + 300,000 + 100,000"
SSUTA = "Streamlined Sales and Use Tax Agreement, section 324"
ROUND_DOLLARS = "IRS instructions: drop under 50 cents, raise 50 and more"
SCHOOL = "school rule: a half goes up"
APPORTIONMENT = "study sites on apportionment by largest remainder, reproduced"
JOURNAL = "Insurance Journal blog, 27 October 2021: 25, 15 and 10 per thousand on 100k, 400k and 500k"


def row(wage: str, fringe: str = "0", **fields: Any) -> LabourRow:
    """A labour row as an edition gives it."""
    given = edition(labour=[worker(wage=wage, fringe=fringe, **fields)])
    return read_edition(sources(given)[0]).labour[0]


def pay(labour: LabourRow, hours: int) -> Fraction:
    """Forty hours straight, the rest at overtime."""
    return 40 * hour_rate(labour) + (hours - 40) * hour_rate(labour, overtime=True)


def hour_rate(labour: LabourRow, *, overtime: bool = False) -> Fraction:
    """An hour paid straight, or one of overtime: that of a week of one hour of which none is paid straight."""
    week = {"overtime": {"hours_per_week": "1", "after": "0"}} if overtime else {}
    cost = costed(request(opening()), edition(production=production(**week))).parts[0].crew
    return LabourRate(cost.conditions, labour).rate


@pytest.mark.parametrize(
    ("source", "wage", "fringe", "hours", "published"),
    [(CFR, "12", "0", 46, 588), (DOL, "22", "5", 44, 1232), (DOL, "24", "3", 44, 1236)],
)
def test_a_week_with_overtime(source: str, wage: str, fringe: str, hours: int, published: int) -> None:
    assert pay(row(wage, fringe), hours) == published, source


def test_fringe_is_never_multiplied() -> None:
    """40 × 27 + 4 × 1.5 × 27 = 1,242 is the mistake."""
    assert pay(row("22", "5"), 44) != 1242, DOL
    overtime = hour_rate(row("2.00", "0.45"), overtime=True)
    assert overtime - Fraction("0.45") == 3, HUD
    assert overtime != Fraction("2.45") * Fraction(3, 2)


def test_eight_hours_of_overtime_are_twelve_paid() -> None:
    """40 h and 8 h at 1.5: 52 hours paid, 8.33 % more than the 48 worked."""
    paid = pay(row("1"), 48)
    assert paid == 52, ARMY
    assert round((paid / 48 - 1) * 100, 2) == Fraction("8.33"), ARMY


@pytest.mark.parametrize(
    ("rate", "on", "published"), [("6.2", "147000", "9114"), ("6.0", "7000", "420"), ("0.6", "7000", "42")]
)
def test_a_payroll_tax_is_a_percentage_of_the_taxable_wage(rate: str, on: str, published: str) -> None:
    labour = row(on, burden=[{"title": "payroll tax", "percent": rate, "on": "wage"}])
    assert hour_rate(labour) - labour.wage == Fraction(published), IRS


@pytest.mark.parametrize(
    ("wage", "published"),
    [
        ("48.31", ("20.77", "69.08", "34.54", "103.62")),
        ("31.26", ("13.44", "44.70", "22.35", "67.05")),
        ("15.78", ("6.79", "22.57", "11.28", "33.85")),
    ],
)
def test_a_loaded_wage_is_rounded_only_at_the_end(wage: str, published: tuple[str, ...]) -> None:
    """Overhead is 50 % of wage and benefits together: 71.5 % of the wage."""
    benefits = {"title": "benefits", "percent": "43", "on": "wage"}
    overhead_too = {"title": "overhead", "percent": "71.5", "on": "wage"}
    loaded, full = hour_rate(row(wage, burden=[benefits])), hour_rate(row(wage, burden=[benefits, overhead_too]))
    exact = (loaded - Fraction(wage), loaded, full - loaded, full)
    assert tuple(Fraction(round_half_up(x * 100), 100) for x in exact) == tuple(map(Fraction, published)), EPA


def test_a_build_up_rounds_each_line_and_says_so() -> None:
    """An hour of the same wages as labour and overhead lines: the third is a cent dearer, by rounding step by step."""
    prices = []
    for wage in ("48.31", "31.26", "15.78"):
        labour = [worker(wage=wage, burden=[{"title": "benefits", "percent": "43", "on": "wage"}])]
        given = edition(labour=labour, materials=free(), overheads=[percent("overhead", "50", "labour")])
        prices.append(costed(request(opening(quantity=2)), given).up.price_minor)
    assert prices == [10362, 6705, 3386], EPA


def free() -> list[dict[str, Any]]:
    """The plain materials at no price."""
    return [m | {"packs": [p | {"price": "0"} for p in m["packs"]]} for m in materials()]


def crew(count: int, share: str = "1") -> CrewCost:
    """So many workers who give a share of 8 hours a day."""
    members = {"members": [{"labour": "worker", "count": count}]}
    given = edition(labour=[worker(wage="30", productive_share=share)], production=production(hours_per_day="8"))
    return costed(request(opening(), crew=members), given).parts[0].crew


def test_man_days_and_duration() -> None:
    """16,000 SF × 33 h per 1,000 SF ÷ 8 = 66 man-days; by five at 0.8 they take 16.5, so 17 days."""
    hours = Fraction(16_000, 1000) * 33
    assert worked(crew(1), hours).exact_days == worked(crew(1), hours).crew_days == 66, NAVY
    assert worked(crew(5, "0.8"), hours).exact_days == Fraction("16.5"), NAVY
    assert worked(crew(5, "0.8"), hours).crew_days == 17, NAVY


def test_noise_of_floats_makes_no_day() -> None:
    """Three at 0.7 for 8 days are 134.4 h: as floats 8.000000000000002 days, which would be rounded up to 9."""
    as_floats = 134.4 / (8.0 * (0.7 + 0.7 + 0.7))
    assert as_floats > 8, "the noise that is meant"
    assert worked(crew(3, "0.7"), Fraction("134.4")).crew_days == 8
    assert worked(crew(3, "0.7"), Fraction("134.4") + Fraction(1, 10**9)).crew_days == 9


def priced(*amounts_: str, overheads: list[dict[str, Any]] | None = None, **head: Any) -> Estimate:
    """Subcontracts alone, under these overhead rows."""
    contracts = [{"title": f"Invented {i}", "amount": amount} for i, amount in enumerate(amounts_)]
    return costed(request(subcontracts=contracts), edition(overheads=overheads or [], **head))


@pytest.mark.parametrize(
    ("margin", "markup"),
    [("5", "5.2632"), ("10", "11.1111"), ("15", "17.6471"), ("20", "25"), ("25", "33.3333"), ("30", "42.8571")],
)
def test_a_margin_is_a_larger_markup(margin: str, markup: str) -> None:
    estimate = priced("1000000", overheads=[percent("profit", margin, "cost", kind="margin")])
    assert round(Fraction(estimate.up.profit_minor, 1_000_000), 4) == Fraction(markup), MARGINS
    printed = answer(estimate)["totals"]["markup_percent"]
    assert Fraction(printed) == Fraction(round_half_up(Fraction(markup) * 100), 100)


def test_truncated_margins_are_not_given() -> None:
    """A help page prints 17.64, 33.32 and 55.55 (for 50 at 10 %), cut off instead of rounded."""
    printed = []
    for margin in ("15", "25"):
        estimate = priced("1000000", overheads=[percent("profit", margin, "cost", kind="margin")])
        printed.append(answer(estimate)["totals"]["markup_percent"])
    assert printed == ["17.65", "33.33"]
    assert priced("50", overheads=[percent("profit", "10", "cost", kind="margin")]).up.price_minor == 5556


@pytest.mark.parametrize(("on", "published"), [("running", 117_879_300), ("direct_cost", 117_369_000)])
def test_the_base_of_each_layer_is_a_setting(on: str, published: int) -> None:
    """All compounding, or both overheads on direct cost."""
    layers = [
        percent("overhead", "10", "direct_cost", "project"),
        percent("overhead", "5", on, "home office"),
        percent("contingency", "5", "running"),
        percent("profit", "8", "cost", kind="markup"),
    ]
    assert priced("500000", "300000", "100000", overheads=layers).up.price_minor == published, EXERCISE


@pytest.mark.parametrize(("rate", "tax"), [("5", 2), ("4.96", 1)])
def test_sales_tax_is_by_invoice_to_the_third_decimal(rate: str, tax: int) -> None:
    """Three of 0.10 at 5 % are 0.015, up to 0.02; by item they would be 0.03. 0.01488 goes down."""
    estimate = priced("0.10", "0.10", "0.10", overheads=[percent("sales_tax", rate, "taxable_materials")])
    assert dict(amounts(estimate))["sales_tax"] == tax, SSUTA
    assert dict(amounts(estimate))["sales_tax"] != 3


@pytest.mark.parametrize(
    ("source", "amount", "currency", "minor"),
    [
        (ROUND_DOLLARS, "1.39", "JPY", 1),
        (ROUND_DOLLARS, "2.50", "JPY", 3),
        (SCHOOL, "0.125", "USD", 13),
        (SCHOOL, "0.135", "USD", 14),
        (SCHOOL, "0.175", "USD", 18),
    ],
)
def test_amounts_round_half_up(source: str, amount: str, currency: str, minor: int) -> None:
    assert priced(amount, currency=currency).up.price_minor == minor, source


@pytest.mark.parametrize(
    ("seats", "votes", "published"),
    [
        ("42", (247000, 185000, 459000, 400000, 413000), [6, 5, 11, 10, 10]),
        ("40", (153000, 411000, 81000, 92000, 163000), [7, 18, 4, 4, 7]),
    ],
)
def test_marks_share_a_price_as_parties_share_seats(seats: str, votes: tuple[int, ...], published: list[int]) -> None:
    """Seats as a minimum charge in whole yen, votes as equal windows of five marks."""
    lines = [opening(f"P{i}", quantity=count) for i, count in enumerate(votes)]
    given = edition(
        labour=[worker(wage="0")],
        materials=free(),
        currency="JPY",
        overheads=[overhead("minimum_charge", amount=seats)],
    )
    estimate = costed(request(*lines, allocate_by="touch_minutes"), given)
    assert list(mark_prices(estimate).values()) == published, APPORTIONMENT


def test_a_bond_by_tiers_is_on_the_price_that_contains_it() -> None:
    """13,500 on 1,000,000; with the premium inside, 986,500 of everything else is exactly 1,000,000."""
    tiers = [
        {"up_to": "100000", "percent": "2.5"},
        {"up_to": "500000", "percent": "1.5"},
        {"up_to": None, "percent": "1"},
    ]
    estimate = priced("986500", overheads=[overhead("bond", tiers=tiers, on="price")])
    assert dict(amounts(estimate))["bond"] == 1_350_000, JOURNAL
    assert estimate.up.price_minor == 100_000_000
