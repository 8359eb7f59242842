"""The two learning curves of the literature, as multiples of the first unit's time and without a floor.

Crawford's unit curve: unit k takes k^b, a block the sum. Wright's cumulative average curve (Wright 1936): n units take
n^(1+b) together. b = log2(slope); the same slope gives different totals, so a slope is kept with its model.
"""

from __future__ import annotations

from functools import lru_cache

from estimating.core.irrational import ln, power, settle
from rates.core.fraction import Fraction

MOST_UNITS = 10**12
SMALLEST_SLOPE = Fraction(1, 1000)
_EXACT_TERMS = 256
_NEAR_LOGARITHM = Fraction(1, 10**6)
# B(2j)/(2j)! for j = 1..10 (Bernoulli numbers: Abramowitz & Stegun 23.2, table 23.2)
_EULER_MACLAURIN = (
    Fraction(1, 12),
    Fraction(-1, 720),
    Fraction(1, 30240),
    Fraction(-1, 1209600),
    Fraction(1, 47900160),
    Fraction(-691, 1307674368000),
    Fraction(1, 74724249600),
    Fraction(-3617, 10670622842880000),
    Fraction(43867, 5109094217170944000),
    Fraction(-174611, 802857662698291200000),
)


@lru_cache(maxsize=256)
def curve_exponent(slope: Fraction) -> Fraction:
    """b = log2(slope), 0.001 <= slope <= 1 (ValueError outside), within 10**-38; exactly 0 for slope 1."""
    if not SMALLEST_SLOPE <= slope <= 1:
        raise ValueError("a slope lies between 0.1 % and 100 %")
    return settle(ln(slope) / ln(Fraction(2)))


@lru_cache(maxsize=16384)
def unit_factor(unit: int, slope: Fraction) -> Fraction:
    """Time of a unit as a share of the first unit's on a Crawford curve, k^b, without a floor; within 10**-37.

    Exact for units that are powers of two, where it is a power of the slope.
    """
    _require_units(unit, least=1)
    doublings = (unit & -unit).bit_length() - 1
    odd = unit >> doublings
    return settle(slope**doublings * power(Fraction(odd), curve_exponent(slope)))


def _require_units(units: int, least: int = 0) -> None:
    if not least <= units <= MOST_UNITS:
        raise ValueError(f"a number of units lies between {least} and {MOST_UNITS}")


@lru_cache(maxsize=64)
def _first_sums(slope: Fraction) -> tuple[Fraction, ...]:
    sums = [Fraction(0)]
    for unit in range(1, _EXACT_TERMS + 1):
        sums.append(sums[-1] + unit_factor(unit, slope))
    return tuple(sums)


def _edge_terms(x: int, b: Fraction) -> Fraction:
    """f(x)/2 + Σ B(2j)/(2j)!·f^(2j−1)(x) for f(x) = x^b: the correction of the integral at one end."""
    value = power(Fraction(x), b)
    total, falling = value / 2, b
    for order, coefficient in enumerate(_EULER_MACLAURIN, start=1):
        odd = 2 * order - 1
        total += coefficient * falling * value / x**odd
        falling *= (b - odd) * (b - odd - 1)
    return total


def _integral(start: int, last: int, b: Fraction) -> Fraction:
    """∫ x^b from start to last. Near b = −1 the closed form cancels, so there a series in (1 + b)·ln(last/start)."""
    c = 1 + b
    if abs(c) >= _NEAR_LOGARITHM:
        return (power(Fraction(last), c) - power(Fraction(start), c)) / c
    length = ln(Fraction(last, start))
    total, term = Fraction(0), length
    for n in range(2, 12):
        total += term
        term = settle(term * c * length / n)
    return total * power(Fraction(start), c)


@lru_cache(maxsize=4096)
def _sum_to(last: int, slope: Fraction) -> Fraction:
    sums = _first_sums(slope)
    if last <= _EXACT_TERMS:
        return sums[last]
    b = curve_exponent(slope)
    corrections = _edge_terms(last, b) - _edge_terms(_EXACT_TERMS, b)
    return settle(sums[_EXACT_TERMS] + _integral(_EXACT_TERMS, last, b) + corrections)


def power_sum(first_unit: int, last_unit: int, slope: Fraction) -> Fraction:
    """Σ k^b for k = first_unit … last_unit, b = log2(slope): a block's total on a Crawford curve, without a floor.

    The first 256 terms one by one, then Euler–Maclaurin with ten derivative terms: within 10**-30 of the curve's
    total up to last_unit. An empty block is 0; slope 1 gives exactly the number of units. ValueError outside
    0.001 <= slope <= 1 and MOST_UNITS.
    """
    _require_units(first_unit, least=1)
    if last_unit < first_unit:
        return Fraction(0)
    _require_units(last_unit)
    if slope == 1:
        return Fraction(last_unit - first_unit + 1)
    return _sum_to(last_unit, slope) - _sum_to(first_unit - 1, slope)


@lru_cache(maxsize=4096)
def cumulative_total(units: int, slope: Fraction) -> Fraction:
    """n^(1+b), b = log2(slope): the total of n units on a Wright curve as a multiple of the first, without a floor.

    Within 10**-25 (relative 10**-37). Slope 1 gives exactly n.
    """
    _require_units(units)
    if units == 0:
        return Fraction(0)
    return units * unit_factor(units, slope)
