"""The cores' Fraction against the standard library's: same values, order, hash and text, and no way in for a float."""

from __future__ import annotations

import copy
import fractions
import operator
import pickle
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rates.core.fraction import Fraction

WHOLE = st.one_of(st.integers(-50, 50), st.integers(-(10**40), 10**40))
LIBRARY = st.builds(fractions.Fraction, WHOLE, WHOLE.filter(bool))
BINARY = [operator.add, operator.sub, operator.mul, operator.truediv, operator.floordiv, operator.mod]
ORDER = [operator.lt, operator.le, operator.gt, operator.ge, operator.eq, operator.ne]


def same(mine: object, theirs: object) -> None:
    """Equal in every way that can be seen, and in lowest terms."""
    assert mine == theirs and hash(mine) == hash(theirs) and str(mine) == str(theirs)
    if isinstance(theirs, fractions.Fraction):
        assert isinstance(mine, fractions.Fraction)
        assert (mine.numerator, mine.denominator) == (theirs.numerator, theirs.denominator)


@given(LIBRARY, LIBRARY, WHOLE)
def test_every_operation_gives_what_the_library_gives(a: fractions.Fraction, b: fractions.Fraction, n: int) -> None:
    mine_a, mine_b = Fraction(a), Fraction(b)
    for operation in (*BINARY, *ORDER):
        for mine, theirs in (((mine_a, mine_b), (a, b)), ((mine_a, n), (a, n)), ((n, mine_b), (n, b))):
            if theirs[1] or operation in ORDER or operation in BINARY[:3]:
                same(operation(*mine), operation(*theirs))
        if b or operation in ORDER or operation in BINARY[:3]:
            same(operation(a, mine_b), operation(a, b))
            same(operation(mine_a, b), operation(a, b))
    for alone in (operator.neg, operator.pos, operator.abs, bool, round):
        same(alone(mine_a), alone(a))
    same(sum([mine_a, mine_b, mine_a], Fraction(0)), a + b + a)
    same(max(mine_a, mine_b), max(a, b))


@given(LIBRARY, st.integers(-6, 6))
def test_whole_powers(a: fractions.Fraction, n: int) -> None:
    if a or n >= 0:
        same(Fraction(a) ** n, a**n)
        same(Fraction(a) ** fractions.Fraction(n), a**n)
    if n >= 0:
        same(n ** Fraction(3), fractions.Fraction(n**3))


@given(LIBRARY, LIBRARY, WHOLE, st.integers(-5, 5))
def test_division_with_a_rest_and_rounding(a: fractions.Fraction, b: fractions.Fraction, n: int, places: int) -> None:
    for mine, theirs in ((b, b), (Fraction(b), b), (n, n)):
        if theirs:
            found, expected = divmod(Fraction(a), mine), divmod(a, theirs)
            same(found[0], expected[0])
            same(found[1], expected[1])
    if a:
        found, expected = divmod(n, Fraction(a)), divmod(n, a)
        same(found[0], expected[0])
        same(found[1], expected[1])
    same(round(Fraction(a), places), round(a, places))


@given(LIBRARY)
def test_it_is_made_as_the_library_makes_its_own(a: fractions.Fraction) -> None:
    same(Fraction(a), a)
    same(Fraction(a.numerator * 6, a.denominator * 6), a)
    same(Fraction(-a.numerator, -a.denominator), a)
    same(Fraction(str(a)), a)
    for again in (copy.deepcopy(Fraction(a)), pickle.loads(pickle.dumps(Fraction(a)))):
        same(again, a)
        assert type(again) is Fraction


@pytest.mark.parametrize("operation", [*BINARY, divmod, operator.pow])
@pytest.mark.parametrize("values", [(Fraction(1, 2), 0.5), (0.5, Fraction(1, 2))])
def test_no_operation_takes_a_float(operation: Callable[..., object], values: tuple[object, object]) -> None:
    with pytest.raises(TypeError):
        operation(*values)


@pytest.mark.parametrize(
    "make", [lambda: Fraction(1.5), lambda: 2 ** Fraction(1, 2), lambda: Fraction(2) ** Fraction(1, 2)]
)
def test_nothing_inexact_is_made(make: Callable[[], object]) -> None:
    with pytest.raises(TypeError):
        make()


@pytest.mark.parametrize("operation", [*BINARY[:4], operator.mod, operator.neg, operator.pos, operator.abs])
def test_results_stay_of_this_kind(operation: Callable[..., object]) -> None:
    third, half = Fraction(1, 3), fractions.Fraction(1, 2)
    if operation in BINARY:
        for pair in ((third, third), (third, 2), (2, third), (third, half), (half, third), (third, True)):
            assert type(operation(*pair)) is Fraction
    else:
        assert type(operation(third)) is Fraction
    with pytest.raises(ZeroDivisionError):
        Fraction(1, 2) / 0
    with pytest.raises(ZeroDivisionError):
        Fraction(1, 0)
