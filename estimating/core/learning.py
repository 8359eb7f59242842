"""How a crew new to the work slows down: three models of the time of each opening-equivalent, as factors.

    model > curve total up to a point > block = difference of two totals > one average factor for all marks

The total up to a point x is that of the whole units below x plus the same fraction of the next unit. A block is a
difference of totals, so splitting it anywhere gives exactly the same sum. Unit curve: Crawford, m(k) = a·k^b.
Cumulative average: Wright 1936, T(n) = a·n^(1+b). b = log2(slope). Both stop at 1, the experienced crew.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from estimating.core.curves import MOST_UNITS, SMALLEST_SLOPE, cumulative_total, power_sum, unit_factor
from estimating.core.figures.rules import rule
from estimating.core.irrational import exp, settle
from rates.core.fraction import Fraction

MOST_TAU = 10**12


@dataclass(frozen=True, slots=True)
class NoLearning:
    """An experienced crew: every factor is 1."""


@dataclass(frozen=True, slots=True)
class Exponential:
    """m(k) = 1 + (first − 1)·e^(−(k−1)/tau): the extra time dies away with constant tau, in opening-equivalents."""

    first: Fraction
    tau: Fraction

    def __post_init__(self) -> None:
        if self.first <= 0 or not 0 < self.tau <= MOST_TAU:
            raise ValueError(f"the first factor is above 0 and tau lies between 0 and {MOST_TAU}")


@dataclass(frozen=True, slots=True)
class UnitCurve:
    """m(k) = max(1, first·k^b), b = log2(slope): each doubling of the unit number multiplies its time by slope."""

    first: Fraction
    slope: Fraction

    def __post_init__(self) -> None:
        _require_curve(self.first, self.slope)


@dataclass(frozen=True, slots=True)
class CumulativeAverage:
    """T(n) = first·n^(1+b), m(k) = max(1, T(k) − T(k−1)): each doubling multiplies the average time by slope."""

    first: Fraction
    slope: Fraction

    def __post_init__(self) -> None:
        _require_curve(self.first, self.slope)


Model = NoLearning | Exponential | UnitCurve | CumulativeAverage


def _require_curve(first: Fraction, slope: Fraction) -> None:
    if first <= 0 or not SMALLEST_SLOPE <= slope <= 1:
        raise ValueError("the first factor is above 0 and the slope lies between 0.1 % and 100 %")


@lru_cache(maxsize=4096)
def _exponential_total(model: Exponential, units: int) -> Fraction:
    """The geometric series in closed form: n + (first − 1)·(1 − q^n)/(1 − q), q = e^(−1/tau)."""
    q = exp(-1 / model.tau)
    return units + settle((model.first - 1) * (1 - exp(-units / model.tau)) / (1 - q))


def _unfloored_total(model: UnitCurve | CumulativeAverage, units: int) -> Fraction:
    if isinstance(model, UnitCurve):
        return model.first * power_sum(1, units, model.slope)
    return model.first * cumulative_total(units, model.slope)


def _unfloored_unit(model: UnitCurve | CumulativeAverage, unit: int) -> Fraction:
    if isinstance(model, UnitCurve):
        return model.first * unit_factor(unit, model.slope)
    return _unfloored_total(model, unit) - _unfloored_total(model, unit - 1)


@lru_cache(maxsize=4096)
def _curve_total(model: UnitCurve | CumulativeAverage, units: int) -> Fraction:
    """The curve up to the last unit above 1, and 1 for each unit after it: both curves fall until they reach 1."""
    if units == 0 or _unfloored_unit(model, units) > 1:
        return _unfloored_total(model, units)
    above, beyond = 0, units
    while beyond - above > 1:
        middle = (above + beyond) // 2
        if _unfloored_unit(model, middle) > 1:
            above = middle
        else:
            beyond = middle
    return _unfloored_total(model, above) + (units - above)


def _whole_total(model: Model, units: int) -> Fraction:
    if isinstance(model, NoLearning):
        return Fraction(units)
    if isinstance(model, Exponential):
        return _exponential_total(model, units)
    return _curve_total(model, units)


def _total(model: Model, upto: Fraction) -> Fraction:
    whole = upto.numerator // upto.denominator
    total, part = _whole_total(model, whole), upto - whole
    return total + part * (_whole_total(model, whole + 1) - total) if part else total


def block_units(model: Model, start: Fraction, count: Fraction) -> Fraction:
    """Σ m(k) over the opening-equivalents (start, start + count] of one crew, in experienced opening-equivalents.

    Whole units plus the fraction of a begun one; the error is below 10**-25 of the total up to the block's end.
    ValueError below 0 and beyond MOST_UNITS. Splitting the block anywhere gives exactly the same sum.
    """
    if start < 0 or count < 0 or start + count >= MOST_UNITS:
        raise ValueError(f"opening-equivalents lie between 0 and {MOST_UNITS}")
    return _total(model, start + count) - _total(model, start)


def average_factor(model: Model, equivalents: Fraction, crews: int, done_before: Fraction) -> Fraction:
    """The factor on all touch minutes of `equivalents` opening-equivalents shared equally by `crews` crews.

    Each crew has `done_before` opening-equivalents behind it. 1 where there is nothing to do. ValueError for fewer
    crews than one or negative amounts.
    """
    if crews < 1:
        raise ValueError("at least one crew does the work")
    if equivalents == 0:
        return Fraction(1)
    each = equivalents / crews
    return block_units(model, done_before, each) / each


def curve(model: str, first: Fraction, second: Fraction) -> Model:
    """The model of a name with its parameters as the table states them: first and tau, or first and slope percent."""
    if model == "exponential":
        return Exponential(first, second)
    return (UnitCurve if model == "unit_curve" else CumulativeAverage)(first, second / 100)


@rule("no learning model: 1")
def learning_none(model: str, *inputs: Fraction) -> Fraction:
    """1."""
    return Fraction(1)


def mean(model: str, first: Fraction, second: Fraction, equivalents: Fraction, crews: int, start: Fraction) -> Fraction:
    """The average factor of a named model; start: opening-equivalents that each crew has behind it."""
    return average_factor(curve(model, first, second), equivalents, int(crews), start)


LEARNING = {
    "none": learning_none,
    "exponential": rule("mean over the openings k of one crew of 1 + (first − 1) e^(−(k−1)/τ)", "learning_exponential")(
        mean
    ),
    "unit_curve": rule(
        "mean over the openings k of one crew of the larger of 1 and first × k^b, b = log₂ slope", "learning_unit_curve"
    )(mean),
    "cumulative_average": rule(
        "mean over the openings k of one crew of the larger of 1 and T(k) − T(k−1), "
        "T(n) = first × n^(1+b), b = log₂ slope",
        "learning_cumulative_average",
    )(mean),
}
