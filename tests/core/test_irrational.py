"""The irrational functions against mpmath (an independent arbitrary-precision library) at 120 digits."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimating.core.irrational import PI, PLACES, asin, atan, cos, exp, ln, power, settle, sin, sqrt, tan

BOUND = mpmath.mpf(10) ** -PLACES


@pytest.fixture(autouse=True)
def _many_digits() -> object:
    with mpmath.workdps(120):
        yield


def real(x: Fraction) -> mpmath.mpf:
    return mpmath.mpf(x.numerator) / x.denominator


def assert_close(answer: Fraction, true: mpmath.mpf) -> None:
    assert (10**PLACES) % answer.denominator == 0
    assert abs(real(answer) - true) <= BOUND


def fractions(low: str, high: str) -> st.SearchStrategy[Fraction]:
    return st.fractions(Fraction(low), Fraction(high), max_denominator=10**15)


angles = fractions("-1000", "1000")


def test_pi_is_right_to_forty_places() -> None:
    assert_close(PI, mpmath.pi)


@given(angles)
def test_sine_and_cosine(x: Fraction) -> None:
    assert_close(sin(x), mpmath.sin(real(x)))
    assert_close(cos(x), mpmath.cos(real(x)))


@given(fractions("-1.5706", "1.5706"))
def test_tangent_up_to_a_hair_from_the_quarter_turn(x: Fraction) -> None:
    assert_close(tan(x), mpmath.tan(real(x)))


@given(fractions("-1", "1"))
def test_arc_sine(x: Fraction) -> None:
    assert_close(asin(x), mpmath.asin(real(x)))


@pytest.mark.parametrize("x", [Fraction(1), Fraction(-1), 1 - Fraction(1, 10**30), Fraction(1, 10**30)])
def test_arc_sine_at_its_ends(x: Fraction) -> None:
    assert_close(asin(x), mpmath.asin(real(x)))


@given(fractions("-1000000", "1000000"))
def test_arc_tangent(x: Fraction) -> None:
    assert_close(atan(x), mpmath.atan(real(x)))


@given(fractions("-99", "100"))
def test_exponential(x: Fraction) -> None:
    assert_close(exp(x), mpmath.exp(real(x)))


@given(fractions("0.000001", "1000000"), st.sampled_from([1, 3, 6]))
def test_logarithm(x: Fraction, magnify: int) -> None:
    assert_close(ln(x**magnify), mpmath.log(real(x**magnify)))


@given(fractions("0.0001", "10000"), fractions("-10", "10"))
def test_power(base: Fraction, exponent: Fraction) -> None:
    if exponent.denominator > 1:
        assert_close(power(base, exponent), mpmath.power(real(base), real(exponent)))


@given(fractions("0", "1000000"))
def test_square_root(x: Fraction) -> None:
    assert abs(real(sqrt(x)) - mpmath.sqrt(real(x))) <= BOUND
    assert sqrt(x * x) == x


def test_rational_answers_are_exact() -> None:
    assert (sin(Fraction(0)), cos(Fraction(0)), tan(Fraction(0))) == (0, 1, 0)
    assert (asin(Fraction(0)), atan(Fraction(0)), exp(Fraction(0)), ln(Fraction(1))) == (0, 0, 1, 0)
    assert sqrt(Fraction(9, 49)) == Fraction(3, 7)
    assert power(Fraction(2, 3), Fraction(-5)) == Fraction(243, 32)
    assert power(Fraction(1), Fraction(1, 3)) == 1


@given(angles)
def test_pythagoras_and_oddness(x: Fraction) -> None:
    assert abs(sin(x) ** 2 + cos(x) ** 2 - 1) < Fraction(4, 10**PLACES)
    assert abs(sin(x) + sin(-x)) <= Fraction(1, 10**PLACES)


def test_far_below_the_bound_is_nought() -> None:
    assert exp(Fraction(-(10**12))) == 0
    assert power(Fraction(10**12), Fraction(-101, 2)) == 0
    assert power(Fraction(1, 10**12), Fraction(101, 2)) == 0


@pytest.mark.parametrize(
    ("function", "arguments"),
    [
        (sin, [1001]),
        (tan, [PI / 2]),
        (asin, [Fraction(11, 10)]),
        (exp, [101]),
        (ln, [0]),
        (ln, [-1]),
        (sqrt, [-1]),
        (power, [0, Fraction(1, 2)]),
        (power, [10**30, Fraction(5, 2)]),
        (power, [2, 1001]),
    ],
)
def test_arguments_outside_are_refused(function: Callable[..., Fraction], arguments: list[Fraction]) -> None:
    with pytest.raises(ValueError):
        function(*(Fraction(x) for x in arguments))


def test_settling_rounds_to_the_nearest() -> None:
    tiny = Fraction(1, 10**PLACES)
    assert settle(Fraction(2, 3)) == Fraction(6 * (10**PLACES - 1) // 9 + 1, 10**PLACES)
    assert settle(tiny * Fraction(-7, 10)) == -tiny
