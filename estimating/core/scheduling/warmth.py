"""How many hours of a day's shift are warm enough and not too hot, by what is normal in its month.

The day is taken to rise evenly from its low at 03:00 to its high at 15:00 and to fall evenly back: a simplification of
ours, on the careful side for the morning. The last coat dries before it gets too cold again.
"""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.request_calendar import ClimateMonth
from estimating.core.scheduling.limits import Limits
from rates.core.fraction import Fraction

WARMEST = Fraction(15)  # hours after midnight
HALF_DAY = Fraction(12)
ZERO, ONE = Fraction(0), Fraction(1)


@dataclass(frozen=True)
class Shift:
    """The part of a day that is worked, in hours after midnight; hours: how many of it, the heat of noon left out."""

    first: Fraction
    last: Fraction
    hours: Fraction


def share_above(limit: Fraction, month: ClimateMonth) -> Fraction:
    """The share of a normal day that is at a temperature or above it."""
    high, low = month.high_fahrenheit, month.low_fahrenheit
    if high < limit:
        return ZERO
    return ONE if low >= limit else (high - limit) / (high - low)


def dry_hours_of(month: ClimateMonth | None, limits: Limits) -> Fraction:
    """How long the last coat dries in a month; its own hours go before those of the rates, where anything dries."""
    own = None if month is None else month.dry_hours
    return own if own is not None and limits.dry_hours else limits.dry_hours


def shift_of(month: ClimateMonth | None, limits: Limits, starts: Fraction, hours: Fraction) -> Shift:
    """What is worked of `hours` from `starts` on; all of it where nothing is known of the month."""
    first, last = starts, starts + hours
    if month is None:
        return Shift(first, last, hours)
    warm = share_above(limits.lowest_fahrenheit, month)
    if warm == 0:
        return Shift(first, first, ZERO)
    if warm < 1:
        first = max(first, WARMEST - HALF_DAY * warm)
        last = min(last, WARMEST + HALF_DAY * warm - dry_hours_of(month, limits))
    if last <= first:
        return Shift(first, first, ZERO)
    return Shift(first, last, last - first - too_hot(month, limits, first, last))


def too_hot(month: ClimateMonth, limits: Limits, first: Fraction, last: Fraction) -> Fraction:
    """Hours from first to last that are above the highest temperature."""
    highest = limits.highest_fahrenheit
    if highest is None or month.high_fahrenheit <= highest:
        return ZERO
    hot = HALF_DAY * share_above(highest, month)
    return max(ZERO, min(last, WARMEST + hot) - max(first, WARMEST - hot))
