"""Laws of learning curves, and sums against the zeta function and the rule as it is worded."""

from __future__ import annotations

from fractions import Fraction
from math import floor

import mpmath
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from estimating.core.curves import cumulative_total, power_sum, unit_factor
from estimating.core.learning import (
    CumulativeAverage,
    Exponential,
    Model,
    NoLearning,
    UnitCurve,
    average_factor,
    block_units,
)
from tests.steps import steps


def f(text: str) -> Fraction:
    return Fraction(text)


@pytest.mark.parametrize("slope", ["0.001", "0.10", "0.5", "0.5000001", "0.500002", "0.85", "0.99", "0.999999"])
@pytest.mark.parametrize("last", [1, 255, 256, 257, 1000, 10**6, 10**9])
def test_power_sum_against_the_zeta_function(slope: str, last: int) -> None:
    """Σ k^b = ζ(−b) − ζ(−b, last + 1) by mpmath; the harmonic number where b = −1."""
    with mpmath.workdps(60):
        b = mpmath.log(mpmath.mpf(slope)) / mpmath.log(2)
        true = mpmath.harmonic(last) if slope == "0.5" else mpmath.zeta(-b) - mpmath.zeta(-b, last + 1)
        answer = power_sum(1, last, f(slope))
        assert abs(mpmath.mpf(answer.numerator) / answer.denominator / true - 1) < mpmath.mpf(10) ** -30


def test_a_million_units_are_not_summed_one_by_one() -> None:
    model = UnitCurve(f("2.125"), f("0.87"))
    assert steps(lambda: average_factor(model, Fraction(10**6), 3, f("7.5"))) < 10**6


slopes = st.integers(500, 1000).map(lambda per_mille: Fraction(per_mille, 1000))
firsts = st.integers(50, 400).map(lambda percent: Fraction(percent, 100))
amounts = st.fractions(0, 3000, max_denominator=60)
models = st.one_of(
    st.just(NoLearning()),
    st.builds(Exponential, firsts, st.integers(1, 200).map(Fraction)),
    st.builds(UnitCurve, firsts, slopes),
    st.builds(CumulativeAverage, firsts, slopes),
)


@given(models, amounts, amounts, amounts)
def test_splitting_a_block_changes_nothing(model: Model, start: Fraction, one: Fraction, other: Fraction) -> None:
    parts = block_units(model, start, one) + block_units(model, start + one, other)
    assert parts == block_units(model, start, one + other)


def _plain_sum(model: Model, upto: Fraction) -> Fraction:
    """The rule as it is worded: m(k) one by one, then the fraction of the next, in floating point."""
    whole = floor(upto)
    return Fraction(sum(_plain(model, k) for k in range(1, whole + 1))) + (upto - whole) * Fraction(
        _plain(model, whole + 1)
    )


def _plain(model: Model, k: int) -> float:
    match model:
        case Exponential(first, tau):
            return 1 + (float(first) - 1) * float(mpmath.exp(-(k - 1) / float(tau)))
        case UnitCurve(first, slope):
            return max(1.0, float(first) * float(k ** float(mpmath.log(float(slope), 2))))
        case CumulativeAverage(first, slope):
            rise = 1 + float(mpmath.log(float(slope), 2))
            return max(1.0, float(first) * (k**rise - (k - 1) ** rise if k > 1 else 1.0))
        case NoLearning():
            return 1.0


@given(models, st.fractions(0, 300, max_denominator=12))
def test_totals_against_the_rule_as_worded(model: Model, upto: Fraction) -> None:
    assert abs(float(block_units(model, Fraction(0), upto) - _plain_sum(model, upto))) < 1e-8


@given(slopes, st.integers(1, 10**5))
def test_doubling_multiplies_by_the_slope(slope: Fraction, units: int) -> None:
    tiny = f("1e-30")
    assert abs(unit_factor(2 * units, slope) / unit_factor(units, slope) - slope) < tiny
    assert abs(cumulative_total(2 * units, slope) / cumulative_total(units, slope) - 2 * slope) < tiny
    assert unit_factor(1, slope) == cumulative_total(1, slope) == 1


@given(models, amounts, st.integers(1, 5), amounts)
def test_more_crews_or_less_practice_never_take_less(model: Model, work: Fraction, crews: int, done: Fraction) -> None:
    """Two new crews of 20 lose more than one of 40, as long as the first unit is the slowest."""
    assume(isinstance(model, NoLearning) or model.first >= 1)
    factor, tiny = average_factor(model, work, crews, done), f("1e-20")
    assert factor >= 1 - tiny
    assert average_factor(model, work, crews + 1, done) >= factor - tiny
    assert average_factor(model, work, crews, done + 1) <= factor + tiny


def test_nothing_to_do_has_factor_one() -> None:
    assert average_factor(UnitCurve(f("2"), f("0.8")), Fraction(0), 1, Fraction(0)) == 1


@pytest.mark.parametrize(
    "build",
    [
        lambda: Exponential(f("1.8"), Fraction(0)),
        lambda: Exponential(f("1.8"), 10**12 + f("0.01")),
        lambda: Exponential(Fraction(0), f("10")),
        lambda: UnitCurve(f("1.8"), f("1.01")),
        lambda: CumulativeAverage(f("1.8"), Fraction(0)),
        lambda: UnitCurve(Fraction(0), f("0.8")),
        lambda: UnitCurve(f("1.8"), f("0.00099")),
        lambda: block_units(NoLearning(), Fraction(1), Fraction(-1)),
        lambda: block_units(NoLearning(), f("1e12") - 2, Fraction(2)),
        lambda: block_units(NoLearning(), Fraction(-1), Fraction(1)),
        lambda: block_units(NoLearning(), Fraction(0), f("1e12")),
        lambda: average_factor(NoLearning(), Fraction(1), 0, Fraction(0)),
        lambda: power_sum(0, 5, f("0.8")),
        lambda: cumulative_total(-1, f("0.8")),
    ],
)
def test_impossible_learning_is_refused(build: object) -> None:
    assert callable(build)
    with pytest.raises(ValueError):
        build()


def test_the_outermost_values_that_are_allowed_count() -> None:
    """tau up to 10^12, a slope from 0.1 % to 100 %, a first factor just above 0, opening-equivalents below 10^12."""
    tiny = f("0.000001")
    assert block_units(Exponential(Fraction(1), f("1e12")), Fraction(0), Fraction(7)) == 7
    assert (
        block_units(UnitCurve(tiny, f("0.001")), Fraction(0), Fraction(7)) == 7
    )  # every unit is an experienced crew's
    assert block_units(CumulativeAverage(tiny, Fraction(1)), Fraction(0), Fraction(7)) == 7
    assert block_units(NoLearning(), f("1e12") - 2, Fraction(1)) == 1
