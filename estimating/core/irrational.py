"""The irrational functions that arches, slopes and learning curves need, on fractions, without floats.

Every answer is within 10**-40 of the true value and is a multiple of 10**-PLACES, except where the answer is rational
by rule (a perfect square's root, a whole power): that one is exact. Inside, integers scaled by 2**bits carry at least
25 spare bits over 10**-40 after the worst amplification named beside each function. Angles are radians. Standard
series and reductions (Taylor; Machin's formula for pi; atanh for the logarithm).
"""

from __future__ import annotations

from functools import lru_cache
from math import isqrt

from rates.core.fraction import Fraction

PLACES = 40
_UNIT = 10**PLACES
_BITS = 200  # 10**-40 is 2**-133, so 67 bits are spare before any amplification
_LARGEST_EXPONENT = 100


def _nearest(numerator: int, denominator: int) -> int:
    """The quotient rounded to the nearest whole number; denominator > 0."""
    return (2 * numerator + denominator) // (2 * denominator)


def _scaled(x: Fraction, bits: int) -> int:
    return _nearest(x.numerator << bits, x.denominator)


def _settled(value: int, bits: int) -> Fraction:
    return Fraction(_nearest(value * _UNIT, 1 << bits), _UNIT)


def settle(x: Fraction) -> Fraction:
    """x rounded to the nearest multiple of 10**-PLACES, so that long sums keep short denominators."""
    return Fraction(_nearest(x.numerator * _UNIT, x.denominator), _UNIT)


def _require(inside: bool, rule: str) -> None:
    if not inside:
        raise ValueError(rule)


def _odd_series(t: int, bits: int, sign: int) -> int:
    """t + sign·t³/3 + t⁵/5 + …: atanh for sign 1, atan for sign −1; |t| below 0.4, error below 2**-(bits - 8)."""
    square = sign * (t * t >> bits)
    total, term, n = 0, t, 1
    while term not in (0, -1):
        total += term // n
        term = term * square >> bits
        n += 2
    return total


@lru_cache(maxsize=64)
def _pi(bits: int) -> int:
    inner = bits + 16
    one = 1 << inner
    return (16 * _odd_series(one // 5, inner, -1) - 4 * _odd_series(one // 239, inner, -1)) >> 16


@lru_cache(maxsize=512)
def _ln2(bits: int) -> int:
    inner = bits + 16
    return 2 * _odd_series((1 << inner) // 3, inner, 1) >> 16


PI: Fraction = _settled(_pi(_BITS), _BITS)


@lru_cache(maxsize=4096)
def sqrt(x: Fraction) -> Fraction:
    """The square root of x, 0 <= x <= 10**60; exact where x is the square of a fraction. ValueError outside."""
    _require(0 <= x <= 10**60, "the square root takes 0 to 10**60")
    top, bottom = isqrt(x.numerator), isqrt(x.denominator)
    if top * top == x.numerator and bottom * bottom == x.denominator:
        return Fraction(top, bottom)
    return Fraction((isqrt(4 * x.numerator * _UNIT * _UNIT // x.denominator) + 1) // 2, _UNIT)


@lru_cache(maxsize=4096)
def _sin_cos(x: Fraction) -> tuple[int, int]:
    """sin and cos of x scaled by 2**_BITS, error below 2**-180 (up to 640 quarter turns scale the error of pi)."""
    _require(abs(x) <= 1000, "an angle lies within 1000 radians")
    quarter = _pi(_BITS) // 2
    fixed = _scaled(x, _BITS)
    turns = _nearest(fixed, quarter)
    rest = fixed - turns * quarter
    sine = cosine = 0
    term, n = 1 << _BITS, 0
    while term not in (0, -1):
        if n % 2:
            sine += -term if n % 4 == 3 else term
        else:
            cosine += -term if n % 4 == 2 else term
        n += 1
        term = (term * rest >> _BITS) // n
    return ((sine, cosine), (cosine, -sine), (-sine, -cosine), (-cosine, sine))[turns % 4]


def sin(x: Fraction) -> Fraction:
    """The sine of x radians, |x| <= 1000 (ValueError outside); sin 0 is exactly 0."""
    return _settled(_sin_cos(x)[0], _BITS)


def cos(x: Fraction) -> Fraction:
    """The cosine of x radians, |x| <= 1000 (ValueError outside); cos 0 is exactly 1."""
    return _settled(_sin_cos(x)[1], _BITS)


def tan(x: Fraction) -> Fraction:
    """The tangent of x radians, |x| <= 1000 and |cos x| >= 10**-4 (ValueError outside).

    Near a quarter turn the tangent's slope, at most 10**8 here, multiplies the error of the angle: 2**-180 to 2**-153.
    """
    sine, cosine = _sin_cos(x)
    _require(abs(cosine) * 10**4 >= 1 << _BITS, "the tangent has no bound near a quarter turn")
    sign = 1 if cosine > 0 else -1
    return settle(Fraction(sign * sine, sign * cosine))


def _atan_fixed(t: int) -> int:
    """atan of t for 0 <= t <= 1, both scaled by 2**_BITS: halved three times, so that the series is short."""
    one = 1 << _BITS
    for _ in range(3):
        t = (t << _BITS) // (one + isqrt((one << _BITS) + t * t))
    return 8 * _odd_series(t, _BITS, -1)


@lru_cache(maxsize=4096)
def atan(x: Fraction) -> Fraction:
    """The angle in radians, −pi/2 to pi/2, whose tangent is x; any x; atan 0 is exactly 0."""
    if x < 0:
        return -atan(-x)
    if x <= 1:
        return _settled(_atan_fixed(_scaled(x, _BITS)), _BITS)
    return _settled(_pi(_BITS) // 2 - _atan_fixed(_scaled(1 / x, _BITS)), _BITS)


@lru_cache(maxsize=4096)
def asin(x: Fraction) -> Fraction:
    """The angle in radians, −pi/2 to pi/2, whose sine is x, |x| <= 1 (ValueError outside); asin 0 is exactly 0.

    By the half angle, x / (1 + √(1 − x²)), whose divisor never falls below 1.
    """
    _require(abs(x) <= 1, "a sine lies within 1")
    if x < 0:
        return -asin(-x)
    rest = 1 - x * x
    root = isqrt((rest.numerator << 2 * _BITS) // rest.denominator)
    half = (_scaled(x, _BITS) << _BITS) // ((1 << _BITS) + root)
    return _settled(2 * _atan_fixed(half), _BITS)


def _ln_fixed(x: Fraction, bits: int) -> int:
    """ln x scaled by 2**bits for 10**-40 <= x <= 10**40, error below 2**-(bits - 10)."""
    inner = bits + 16
    shift = x.numerator.bit_length() - x.denominator.bit_length()
    mantissa = x / 2**shift if shift >= 0 else x * 2**-shift
    if mantissa > Fraction(4, 3):
        mantissa, shift = mantissa / 2, shift + 1
    t = _scaled((mantissa - 1) / (mantissa + 1), inner)
    return (2 * _odd_series(t, inner, 1) + shift * _ln2(inner)) >> 16


def _exp_fixed(y: int, bits: int) -> int:
    """exp of y, both scaled by 2**bits, error below 2**-(bits - 16) times the answer; bits exceeds the answer's."""
    turns = _nearest(y, _ln2(bits))
    rest = (y - turns * _ln2(bits)) >> 8
    total, term, n = 0, 1 << bits, 0
    while term not in (0, -1):
        total += term
        n += 1
        term = (term * rest >> bits) // n
    for _ in range(8):
        total = total * total >> bits
    return total << turns if turns >= 0 else total >> -turns


@lru_cache(maxsize=4096)
def exp(x: Fraction) -> Fraction:
    """e to the power x, x <= 100 (ValueError above); below −100 it is 0, inside the bound; exp 0 is exactly 1.

    An answer of up to 2**145 multiplies the error, so that many bits are added.
    """
    _require(x <= _LARGEST_EXPONENT, "an exponent is at most 100")
    if x < -_LARGEST_EXPONENT:
        return Fraction(0)
    bits = _BITS + 160
    return _settled(_exp_fixed(_scaled(x, bits), bits), bits)


@lru_cache(maxsize=4096)
def ln(x: Fraction) -> Fraction:
    """The natural logarithm of x, 10**-40 <= x <= 10**40 (ValueError outside); ln 1 is exactly 0."""
    _require(Fraction(1, 10**40) <= x <= 10**40, "the logarithm takes 10**-40 to 10**40")
    return _settled(_ln_fixed(x, _BITS), _BITS)


@lru_cache(maxsize=16384)
def power(base: Fraction, exponent: Fraction) -> Fraction:
    """base to the power exponent, 10**-40 <= base <= 10**40, |exponent| <= 1000, answer <= e**100 (else ValueError).

    Exact for whole exponents up to 64 either way, and for base 1. Answers below e**-100 are 0, inside the bound.
    The exponent's 10 bits and the answer's 145 multiply the error of the logarithm, so they are added beforehand.
    """
    _require(Fraction(1, 10**40) <= base <= 10**40, "a power takes a base of 10**-40 to 10**40")
    _require(abs(exponent) <= 1000, "a power takes an exponent within 1000")
    if exponent.denominator == 1 and abs(exponent) <= 64:
        return Fraction(base) ** exponent.numerator
    # below 1 the answer needs no spare bits for its size: most calls are learning curves, which fall
    falls = (base < 1) != (exponent < 0) or base == 1
    bits = _BITS + (0 if falls else 160)
    inner = bits + 16
    y = (_ln_fixed(base, inner) * exponent.numerator // exponent.denominator) >> 16
    _require(y <= _LARGEST_EXPONENT << bits, "a power is at most e**100")
    if y < -_LARGEST_EXPONENT << bits:
        return Fraction(0)
    return _settled(_exp_fixed(y, bits), bits)
