"""Exact numbers of the two cores: the standard library's Fraction, quicker where numbers are whole, closed to floats.

Lengths are whole nanometres nearly always, and the library's Fraction looks for common divisors, asks abstract classes
and builds its results by a general constructor all the same. Values, order, hash and text are those of the library's
own; an operation with a float raises TypeError, where the library would give a float.
"""

from __future__ import annotations

import fractions
from collections.abc import Iterable
from math import gcd
from typing import TYPE_CHECKING, Any

_RATIONAL = (int, fractions.Fraction)
_new = object.__new__


class Fraction(fractions.Fraction):
    """A rational number in lowest terms, made as the library's own is made."""

    __slots__ = ()
    if TYPE_CHECKING:
        _numerator: int
        _denominator: int

    def __new__(cls, numerator: Any = 0, denominator: Any = None) -> Fraction:
        if type(numerator) is int:
            if denominator is None:
                return _lowest(numerator, 1)
            if type(denominator) is int and denominator > 0:
                return _lower(numerator, denominator)
        if isinstance(numerator, float):
            raise TypeError("a float is no exact number")
        made = fractions.Fraction(numerator, denominator)
        return _lowest(made.numerator, made.denominator)

    def __add__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        a, b = self._numerator, self._denominator
        if type(other) is Fraction:
            c, d = other._numerator, other._denominator
            if b == d:
                return _lowest(a + c, 1) if b == 1 else _lower(a + c, b)
            return _lower(a * d + c * b, b * d)
        if type(other) is int:
            return _lowest(a + other * b, b)
        if isinstance(other, _RATIONAL):
            return _lower(a * other.denominator + other.numerator * b, b * other.denominator)
        return NotImplemented

    __radd__ = __add__  # type: ignore[assignment]

    def __sub__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        a, b = self._numerator, self._denominator
        if type(other) is Fraction:
            c, d = other._numerator, other._denominator
            if b == d:
                return _lowest(a - c, 1) if b == 1 else _lower(a - c, b)
            return _lower(a * d - c * b, b * d)
        if isinstance(other, _RATIONAL):
            return _lower(a * other.denominator - other.numerator * b, b * other.denominator)
        return NotImplemented

    def __rsub__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        return -self + other

    def __mul__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        a, b = self._numerator, self._denominator
        if type(other) is Fraction:
            c, d = other._numerator, other._denominator
            return _lowest(a * c, 1) if b == d == 1 else _lower(a * c, b * d)
        if type(other) is int:
            return _lowest(a * other, 1) if b == 1 else _lower(a * other, b)
        if isinstance(other, _RATIONAL):
            return _lower(a * other.numerator, b * other.denominator)
        return NotImplemented

    __rmul__ = __mul__  # type: ignore[assignment]

    def __truediv__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        if type(other) is Fraction:
            return _quotient(self._numerator * other._denominator, self._denominator * other._numerator)
        if type(other) is int:
            return _quotient(self._numerator, self._denominator * other)
        if isinstance(other, _RATIONAL):
            return _quotient(self._numerator * other.denominator, self._denominator * other.numerator)
        return NotImplemented

    def __rtruediv__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        if isinstance(other, _RATIONAL):
            return _quotient(other.numerator * self._denominator, other.denominator * self._numerator)
        return NotImplemented

    def __floordiv__(self, other: int | fractions.Fraction) -> int:  # type: ignore[override]
        if isinstance(other, _RATIONAL):
            return (self._numerator * other.denominator) // (self._denominator * other.numerator)
        return NotImplemented

    def __rfloordiv__(self, other: int | fractions.Fraction) -> int:  # type: ignore[override]
        return Fraction(other) // self

    def __mod__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        return self - self // other * other

    def __rmod__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        return Fraction(other) % self

    def __divmod__(self, other: int | fractions.Fraction) -> tuple[int, Fraction]:  # type: ignore[override]
        return self // other, self % other

    def __rdivmod__(self, other: int | fractions.Fraction) -> tuple[int, Fraction]:  # type: ignore[override]
        return divmod(Fraction(other), self)

    def __pow__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override]
        """A whole power; TypeError for any other, whose value may not be rational."""
        if not isinstance(other, _RATIONAL) or other.denominator != 1:
            raise TypeError("only whole powers are exact")
        power = other.numerator
        if power < 0:
            return 1 / self**-power
        return _lowest(self._numerator**power, self._denominator**power)

    def __rpow__(self, other: int | fractions.Fraction) -> Fraction:  # type: ignore[override, misc]
        return Fraction(other) ** self

    def __pos__(self) -> Fraction:
        return self

    def __round__(self, ndigits: int | None = None) -> Any:
        rounded = fractions.Fraction.__round__(self, ndigits)
        return rounded if ndigits is None else Fraction(rounded)

    def __neg__(self) -> Fraction:
        return _lowest(-self._numerator, self._denominator)

    def __abs__(self) -> Fraction:
        return _lowest(abs(self._numerator), self._denominator)

    def __eq__(self, other: object) -> bool:
        if type(other) is Fraction:
            return self._numerator == other._numerator and self._denominator == other._denominator
        if type(other) is int:
            return self._denominator == 1 and self._numerator == other
        return fractions.Fraction.__eq__(self, other)

    def __hash__(self) -> int:  # type: ignore[override]
        return hash(self._numerator) if self._denominator == 1 else fractions.Fraction.__hash__(self)

    def __lt__(self, other: int | fractions.Fraction) -> bool:  # type: ignore[override]
        if type(other) is Fraction:
            return self._numerator * other._denominator < other._numerator * self._denominator
        if type(other) is int:
            return self._numerator < other * self._denominator
        return fractions.Fraction.__lt__(self, other)

    def __le__(self, other: int | fractions.Fraction) -> bool:  # type: ignore[override]
        if type(other) is Fraction:
            return self._numerator * other._denominator <= other._numerator * self._denominator
        return fractions.Fraction.__le__(self, other)

    def __gt__(self, other: int | fractions.Fraction) -> bool:  # type: ignore[override]
        if type(other) is Fraction:
            return self._numerator * other._denominator > other._numerator * self._denominator
        if type(other) is int:
            return self._numerator > other * self._denominator
        return fractions.Fraction.__gt__(self, other)

    def __ge__(self, other: int | fractions.Fraction) -> bool:  # type: ignore[override]
        if type(other) is Fraction:
            return self._numerator * other._denominator >= other._numerator * self._denominator
        return fractions.Fraction.__ge__(self, other)


def sum_of_products(terms: Iterable[Iterable[int | fractions.Fraction]]) -> Fraction:
    """Σ Π term, put into lowest terms once; TypeError for a float."""
    above, below = 0, 1
    for term in terms:
        top, under = 1, 1
        for value in term:
            if type(value) is Fraction:
                top *= value._numerator
                under *= value._denominator
            elif isinstance(value, _RATIONAL):
                top *= value.numerator
                under *= value.denominator
            else:
                raise TypeError(f"{type(value).__name__} is no exact number")
        if under == below:
            above += top
        else:
            common = gcd(under, below)
            above = above * (under // common) + top * (below // common)
            below *= under // common
    return _lowest(above, 1) if below == 1 else _lower(above, below)


def _lowest(numerator: int, denominator: int) -> Fraction:
    """The fraction of two numbers without a common divisor, the lower one above 0."""
    made = _new(Fraction)
    made._numerator = numerator
    made._denominator = denominator
    return made


def _lower(numerator: int, denominator: int) -> Fraction:
    """The fraction of two numbers, the lower one above 0."""
    made = _new(Fraction)
    common = gcd(numerator, denominator)
    made._numerator = numerator // common
    made._denominator = denominator // common
    return made


def _quotient(numerator: int, denominator: int) -> Fraction:
    """The fraction of any two numbers; ZeroDivisionError."""
    if denominator < 0:
        return _lower(-numerator, -denominator)
    if not denominator:
        raise ZeroDivisionError(f"{numerator} divided by 0")
    return _lower(numerator, denominator)
