"""Which days are worked and how many hours of each, and why a day is not: one answer for every day.

A month in which less than half a day can be worked is left out whole: a crew is not sent for less (common practice, no
source). Days with rain are an allowance, no forecast: of each so many days that could be worked one is lost, evenly.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import dataclass, field

from estimating.core.request_calendar import PLAIN, WEEKDAYS, ClimateMonth, SiteCalendar
from estimating.core.scheduling.limits import Limits
from estimating.core.scheduling.warmth import Shift, shift_of
from rates.core.fraction import Fraction
from rates.core.production_rows import Production

Holidays = Callable[[datetime.date], str | None]  # the name of a public holiday
CLIMATE, RAIN = "climate", "rain"
HOLIDAY, DAY_OFF, WEEKLY, WAITING = "holiday", "day_off", "weekly", "waiting"
REASONS = (HOLIDAY, DAY_OFF, CLIMATE, RAIN, WAITING)  # those that are told; weekly days off are not


@dataclass(frozen=True)
class Day:
    """A day: hours of the clock that are worked; reason, words: why it is not, None where it is."""

    date: datetime.date
    shift: Shift
    reason: str | None = None
    words: str = ""


def weekdays(site: SiteCalendar, production: Production) -> frozenset[int]:
    """The days of the week that are worked, Monday 0: as told, else so many of the table from Monday on."""
    if site.working_days is not None:
        return frozenset(WEEKDAYS.index(day) for day in site.working_days)
    return frozenset(range(max(1, min(7, int(production.days_per_week)))))


@dataclass
class Days:
    """The days of one part, asked in their order: the allowance for rain is carried from each to the next."""

    site: SiteCalendar
    production: Production
    limits: Limits
    holidays: Holidays
    lost: Fraction = Fraction(0)
    worked: frozenset[int] = field(init=False)

    def __post_init__(self) -> None:
        self.worked = weekdays(self.site, self.production)

    def of(self, date: datetime.date) -> Day:
        """What a day is."""
        nothing = Shift(self.site.starts, self.site.starts, Fraction(0))
        if date.weekday() not in self.worked:
            return Day(date, nothing, WEEKLY)
        name = self.holidays(date)
        if name:
            return Day(date, nothing, HOLIDAY, name)
        for days in self.site.days_off:
            if days.first <= date <= days.last:
                return Day(date, nothing, DAY_OFF, days.reason)
        shift = self.shift(date.month)
        if not shift.hours:
            return Day(date, shift, CLIMATE)
        return Day(date, nothing, RAIN) if self.rains(date) else Day(date, shift)

    def month(self, number: int) -> ClimateMonth | None:
        """What is normal in a month, where it is known."""
        return None if self.site.climate is None else self.site.climate.of(number)

    def shift(self, month: int) -> Shift:
        """What is worked of a normal day of a month: nothing, where it is less than half of it."""
        hours = self.production.hours_per_day
        found = shift_of(self.month(month), self.limits, self.site.starts, hours)
        return found if found.hours * 2 >= hours else Shift(found.first, found.first, Fraction(0))

    def rains(self, date: datetime.date) -> bool:
        """Whether the allowance for rain falls on this day."""
        month = self.month(date.month)
        if month is None or month.wet_days is None:
            return False
        self.lost += month.wet_days / days_in(date)
        if self.lost < 1:
            return False
        self.lost -= 1
        return True


def days_in(date: datetime.date) -> int:
    """How many days its month has."""
    later = date.replace(day=28) + datetime.timedelta(days=4)
    return 28 + 4 - later.day


def site_of(calendar: SiteCalendar | None) -> SiteCalendar:
    """The calendar of a request that gives none: every weekday from the work date on."""
    return calendar or PLAIN
