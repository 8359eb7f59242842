"""Learning curves against published figures and independent sums.

Where every unit takes longer than an experienced crew's, the floor is out of play and a published curve in hours can be
read through the model that an estimate uses, with the first unit's hours as `first`.
"""

from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from estimating.core.curves import cumulative_total, curve_exponent, power_sum, unit_factor
from estimating.core.irrational import ln, power
from estimating.core.learning import (
    CumulativeAverage,
    Exponential,
    Model,
    NoLearning,
    UnitCurve,
    average_factor,
    block_units,
)
from rates.core.exact import print_quantity

BOEHMKE = "Boehmke & Freels, learningCurve 1.1.2 (2018), AFIT: documentation and tests"
CPRG = "US DoD Contract Pricing Reference Guide vol. 2 ch. 7 (excerpt)"
ACCOUNTING = "accounting text (excerpt): a = 100, cumulative average at 80 %"
MANAGEMENT = "management accounting set (excerpt)"
MEMORY = "80 % unit-curve factors, from memory"
CASES = Path(__file__).parents[1] / "data" / "cases"


def f(text: str) -> Fraction:
    return Fraction(text)


def printed(value: Fraction, published: str) -> str:
    """The value rounded half away from zero to as many places as the publication prints."""
    return str(Decimal(print_quantity(value, -min(0, _exponent(published)))).quantize(Decimal(published)))


def _exponent(text: str) -> int:
    exponent = Decimal(text).as_tuple().exponent
    assert isinstance(exponent, int)
    return exponent


def unit(model: Model, number: int) -> Fraction:
    return block_units(model, Fraction(number - 1), Fraction(1))


def total(model: Model, units: int) -> Fraction:
    return block_units(model, Fraction(0), Fraction(units))


@pytest.mark.parametrize(
    ("source", "first", "slope", "number", "published"),
    [
        (BOEHMKE, "100", "0.85", 125, "32.23647"),
        (BOEHMKE, "100", "0.80", 125, "21.13225"),
        (BOEHMKE, "100", "0.90", 125, "48.00243"),
        (BOEHMKE, "100", "0.95", 125, "69.95640"),
        (CPRG, "3000", "0.80", 1, "3000"),
        (CPRG, "3000", "0.80", 2, "2400"),
        (CPRG, "3000", "0.80", 4, "1920"),
        (CPRG, "3000", "0.80", 8, "1536"),
        (CPRG, "3000", "0.80", 100, "681"),
        (MEMORY, "1000", "0.80", 3, "702"),
        (MEMORY, "1000", "0.80", 5, "596"),
        (MEMORY, "1000", "0.80", 6, "562"),
        (MEMORY, "1000", "0.80", 7, "534"),
        (MEMORY, "1000", "0.80", 8, "512"),
    ],
)
def test_unit_of_a_unit_curve(source: str, first: str, slope: str, number: int, published: str) -> None:
    assert printed(unit(UnitCurve(f(first), f(slope)), number), published) == published, source


@pytest.mark.parametrize(
    ("source", "first", "slope", "units", "published"),
    [
        (BOEHMKE, "100", "0.85", 125, "5201.085"),
        (BOEHMKE, "100", "0.85", 1_000_000, "5119612"),
        (MEMORY, "1000", "0.80", 5, "3738"),
        (MEMORY, "1000", "0.80", 10, "6315"),
        (MEMORY, "1000", "0.80", 100, "32651"),
    ],
)
def test_total_of_a_unit_curve(source: str, first: str, slope: str, units: int, published: str) -> None:
    assert printed(total(UnitCurve(f(first), f(slope)), units), published) == published, source


def test_a_curve_from_a_unit_known_later() -> None:
    crawford = 100 * unit_factor(125, f("0.85")) / unit_factor(100, f("0.85"))
    assert printed(crawford, "94.90257") == "94.90257", BOEHMKE
    wright = CumulativeAverage(Fraction(225), f("0.75"))
    assert printed(225 * unit(wright, 350) / unit(wright, 5), "36.909") == "36.909", BOEHMKE


def _half_unit_integral(first_unit: int, last_unit: int, slope: Fraction) -> Fraction:
    rise = 1 + curve_exponent(slope)
    low, high = first_unit - Fraction(1, 2), last_unit + Fraction(1, 2)
    return (power(high, rise) - power(low, rise)) / rise


def test_the_half_unit_integral_is_an_approximation_that_the_sum_is_not() -> None:
    slope = f("0.85")
    integral = 100 * _half_unit_integral(1, 125, slope)
    assert printed(integral, "5202.988") == "5202.988", BOEHMKE
    assert printed(integral, "5202.998") != "5202.998", f"MISPRINT in the manual page of {BOEHMKE}"
    assert printed(total(UnitCurve(Fraction(100), slope), 125), "5202.988") != "5202.988"


def test_a_steep_slope_needs_the_exact_sum() -> None:
    steep = f("0.10")
    assert printed(100 * power_sum(1, 125, steep), "114.890") == "114.890", BOEHMKE
    assert printed(100 * _half_unit_integral(1, 125, steep), "215.338") == "215.338", BOEHMKE


def test_midpoint_of_a_block() -> None:
    slope = f("0.75")
    average = _half_unit_integral(201, 500, slope) / 300
    assert printed(power(average, 1 / curve_exponent(slope)), "334.6103") == "334.6103", BOEHMKE
    exact = power(power_sum(201, 500, slope) / 300, 1 / curve_exponent(slope))
    assert abs(exact - f("334.6103")) < f("0.0003")


def test_unit_of_a_cumulative_average_curve() -> None:
    assert printed(unit(CumulativeAverage(Fraction(110), f("0.885")), 2200), "23.34001") == "23.34001", BOEHMKE


@pytest.mark.parametrize(("number", "published"), [(1, "0.00"), (2, "5.75"), (3, "6.10"), (4, "6.11"), (5, "6.04")])
def test_the_same_slope_means_more_on_a_unit_curve(number: int, published: str) -> None:
    crawford, wright = UnitCurve(Fraction(50), f("0.885")), CumulativeAverage(Fraction(50), f("0.885"))
    assert printed(unit(crawford, number) - unit(wright, number), published) == published, BOEHMKE


def test_the_two_totals_differ() -> None:
    crawford, wright = UnitCurve(Fraction(50), f("0.885")), CumulativeAverage(Fraction(50), f("0.885"))
    assert printed(total(crawford, 25) - total(wright, 25), "130.82581") == "130.82581", BOEHMKE
    ratio = total(UnitCurve(Fraction(100), f("0.85")), 125) / total(CumulativeAverage(Fraction(100), f("0.85")), 125)
    assert printed(ratio, "1.29") == "1.29", "computed: 29 % apart at 125 units"


def test_slope_from_a_total() -> None:
    b = ln(Fraction(8250, 80 * 250)) / ln(Fraction(250))
    slope = power(Fraction(2), b)
    assert printed(b, "-0.1603777") == "-0.1603777", BOEHMKE
    assert printed(slope, "0.8947908") == "0.8947908", BOEHMKE
    assert abs(total(CumulativeAverage(Fraction(80), slope), 250) - 8250) < f("1e-30")


def test_cost_of_a_wrong_slope() -> None:
    excess = unit_factor(250, f("0.87")) / unit_factor(250, f("0.85")) - 1
    assert printed(100 * excess, "20.353") == "20.353", BOEHMKE


@pytest.mark.parametrize(("units", "published"), [(1, "100"), (2, "160"), (4, "256"), (8, "409.6"), (16, "655.36")])
def test_totals_of_a_cumulative_average_curve(units: int, published: str) -> None:
    assert total(CumulativeAverage(Fraction(100), f("0.80")), units) == f(published), ACCOUNTING


def test_increment_of_a_cumulative_average_curve() -> None:
    increment = block_units(CumulativeAverage(Fraction(100), f("0.80")), Fraction(8), Fraction(8))
    assert increment == f("245.76"), ACCOUNTING
    assert increment != f("254.76"), f"MISPRINT: {ACCOUNTING}"


def test_management_accounting_exercises() -> None:
    lot = block_units(CumulativeAverage(Fraction(4000), f("0.90")), Fraction(4), Fraction(4))
    assert lot == 10368, MANAGEMENT
    b = ln(Fraction(81, 15 * 12)) / ln(Fraction(12))
    assert printed(power(Fraction(2), b), "0.80") == "0.80", MANAGEMENT
    assert printed(total(CumulativeAverage(Fraction(15), f("0.80")), 12), "81") == "81", MANAGEMENT


def test_an_experienced_crew_learns_nothing() -> None:
    """Jarkas 2016, IJPPM 65(8) 1075-1090 (abstract): an experienced crew's slope is 1.00."""
    for model in (
        NoLearning(),
        UnitCurve(f("1"), f("1")),
        CumulativeAverage(f("1"), f("1")),
        Exponential(f("1"), f("9")),
    ):
        assert average_factor(model, f("137.25"), 2, f("3.5")) == 1


def test_slope_of_one_is_exactly_so_many_first_units() -> None:
    assert power_sum(1, 125, Fraction(1)) == cumulative_total(125, Fraction(1)) == 125
    assert total(UnitCurve(f("1.8"), Fraction(1)), 125) == f("225")
    assert total(CumulativeAverage(f("1.8"), Fraction(1)), 125) == f("225")


def test_case_of_a_new_crew() -> None:
    """24.9 opening-equivalents, first 1.8, tau 10: the worked case, whose answer an independent program computed."""
    expected = json.loads((CASES / "06-new-crew-exponential" / "expected.json").read_text())["hours"]
    factor = average_factor(Exponential(f("1.8"), f("10")), f(expected["opening_equivalents"]), 1, Fraction(0))
    assert print_quantity(factor) == expected["learning_factor"] == "1.309612"
