"""What a request says of the site's calendar: when work may start, days off, dates of zones, the climate by month.

A zone is one elevation and storey. Nothing here moves a price.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from estimating.core.schedule import Schedule
from estimating.core.schedule_lines import place_key
from rates.core.fields import Faults, Field, ListOf, Reader, Record, choice, clean_text, date, decimal, text, whole
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Unreadable
from rates.core.temperatures import TO_FAHRENHEIT

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
STARTS = Fraction(7)
CLOCK = re.compile(r"([01][0-9]|2[0-3]):([0-5][0-9])", re.ASCII)
REGION = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,3})?", re.ASCII)


PlaceKey = tuple[str | None, ...]  # elevation and storey as names are compared, None for every one


def keys_over(elevation: str, storey: str) -> tuple[PlaceKey, ...]:
    """What dates of a zone may stand under."""
    own = place_key(elevation), place_key(storey)
    return own, (own[0], None), (None, own[1]), (None, None)


@dataclass(frozen=True)
class DaysOff:
    """Days from the first to the last on which nobody works, both included: a hold, a shut-down."""

    first: datetime.date
    last: datetime.date
    reason: str


@dataclass(frozen=True)
class ZoneDates:
    """Dates of the zones of an elevation and a storey, each None for every one.

    sheathing_ready and hold_until: the first day on which it may be worked; units_due: the day that its windows and
    doors are delivered, before which it is to be sealed and dry.
    """

    elevation: str | None
    storey: str | None
    sheathing_ready: datetime.date | None
    hold_until: datetime.date | None
    hold_reason: str | None
    units_due: datetime.date | None

    @property
    def key(self) -> PlaceKey:
        """The names as they are compared."""
        return tuple(None if name is None else place_key(name) for name in (self.elevation, self.storey))


@dataclass(frozen=True)
class ClimateMonth:
    """What is normal in a month: daily high and low in degrees Fahrenheit, days with rain, hours to dry."""

    month: int
    high_fahrenheit: Fraction
    low_fahrenheit: Fraction
    wet_days: Fraction | None
    dry_hours: Fraction | None


@dataclass(frozen=True)
class Climate:
    """The months of a place; one that is not listed has no limit."""

    title: str
    source: str | None
    months: tuple[ClimateMonth, ...]

    def of(self, month: int) -> ClimateMonth | None:
        """A month by its number."""
        return next((found for found in self.months if found.month == month), None)


@dataclass(frozen=True)
class SiteCalendar:
    """The calendar that a request gives. starts: hours after midnight; working_days: None follows days_per_week."""

    start: datetime.date | None
    holidays: str | None
    days_off: tuple[DaysOff, ...]
    zones: tuple[ZoneDates, ...]
    working_days: tuple[str, ...] | None
    starts: Fraction
    climate: Climate | None

    @cached_property
    def by_place(self) -> Mapping[PlaceKey, Sequence[ZoneDates]]:
        """The dates of zones by their names."""
        found: dict[PlaceKey, list[ZoneDates]] = {}
        for dates in self.zones:
            found.setdefault(dates.key, []).append(dates)
        return found

    def dates_of(self, elevation: str, storey: str) -> list[ZoneDates]:
        """What is said of a zone."""
        return [dates for key in keys_over(elevation, storey) for dates in self.by_place.get(key, ())]


PLAIN = SiteCalendar(None, None, (), (), None, STARTS, None)


def parse_clock(raw: object) -> Fraction:
    """Hours after midnight of a time such as 07:00."""
    found = CLOCK.fullmatch(clean_text(raw, 80))
    if found is None:
        raise Unreadable("not_a_clock_time", "a time of day such as 07:00 is expected")
    return Fraction(int(found[1])) + Fraction(int(found[2]), 60)


def parse_region(raw: object) -> str:
    """A country, or a part of one, by its code of ISO 3166."""
    code = clean_text(raw, 80).upper()
    if REGION.fullmatch(code) is None:
        raise Unreadable("not_a_region", "a code of ISO 3166 is expected, such as US or US-WI")
    return code


def check_days(days: DaysOff, pointer: str, faults: Faults) -> None:
    """Days off end no earlier than they start."""
    if days.last < days.first:
        faults.append(Problem(pointer + "/last", "order", "this is before the first day"))


DAYS_OFF = Record(
    lambda first, last, reason: DaysOff(first, last or first, reason),
    (
        Field("first", date(), "first day on which nobody works", required=True),
        Field("last", date(), "last such day; the first alone if absent"),
        Field("reason", text(200), "why: a hold, a shut-down", required=True),
    ),
    check_days,
    title="DaysOff",
)
ZONE_DATES = Record(
    ZoneDates,
    (
        Field("elevation", text(80, blank=True), "elevation; every one if absent"),
        Field("storey", text(80, blank=True), "storey; every one if absent"),
        Field("sheathing_ready", date(), "first day on which the sheathing is ready to be worked on"),
        Field("hold_until", date(), "first day after a hold point, such as an inspection"),
        Field("hold_reason", text(200), "what the hold is for"),
        Field("units_due", date(), "day on which its windows and doors are delivered; sealed and dry before it"),
    ),
    title="ZoneDates",
)


def climate(title: str, unit: str, source: str | None, months: tuple[Any, ...]) -> Climate:
    """The climate in degrees Fahrenheit."""
    degrees = TO_FAHRENHEIT[unit]
    found = (ClimateMonth(n, degrees(high), degrees(low), wet, dry) for n, high, low, wet, dry in months)
    return Climate(title, source, tuple(sorted(found, key=lambda one: one.month)))


def check_months(found: Climate, pointer: str, faults: Faults) -> None:
    """Each month once, no low above its high."""
    seen: set[int] = set()
    for one in found.months:
        if one.month in seen:
            faults.append(Problem(pointer + "/months", "month_twice", f"month {one.month} is given twice"))
        seen.add(one.month)
        if one.low_fahrenheit > one.high_fahrenheit:
            detail = f"the low of month {one.month} is above its high"
            faults.append(Problem(pointer + "/months", "low_above_high", detail))


MONTH = Record(
    lambda month, high, low, wet_days, dry_hours: (month, high, low, wet_days, dry_hours),
    (
        Field("month", whole(1, 12), "1 for January", required=True),
        Field("high", decimal(-150, 150), "normal daily high", required=True),
        Field("low", decimal(-150, 150), "normal daily low", required=True),
        Field("wet_days", decimal(0, 31), "days with rain that stops work; one of each so many working days is lost"),
        Field("dry_hours", decimal(0, 240), "hours to dry in this month, in place of those of the rates"),
    ),
    title="ClimateMonth",
)


class ClimateReader:
    """Reader of a climate, or of the name of one that the company has loaded, which is put in its place before this."""

    def __init__(self, whole: Record) -> None:
        self.whole = whole
        self.schema = {"oneOf": [text(100).schema, whole.schema]}
        self.fields = whole.fields

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """The climate; a name that is still one is of none that is known."""
        if isinstance(raw, str):
            name = text(100).read(raw, pointer, faults)
            if name is not None:
                detail = f'no climate "{name}" is loaded; give its months here, or load it'
                faults.append(Problem(pointer, "unknown_climate", detail))
            return None
        return self.whole.read(raw, pointer, faults)


CLIMATE = Record(
    climate,
    (
        Field("title", text(100), "the place", required=True),
        Field("unit", choice("f", "c"), "degrees Fahrenheit or Celsius", required=True),
        Field("source", text(300), "where the figures came from"),
        Field("months", ListOf(MONTH, 1, 12), "its months; one that is missing has no limit", required=True),
    ),
    check_months,
    title="Climate",
)


def site_calendar(
    start: datetime.date | None,
    holidays: str | None,
    days_off: tuple[DaysOff, ...] | None,
    zones: tuple[ZoneDates, ...] | None,
    working_days: tuple[str, ...] | None,
    starts: Fraction | None,
    climate: Climate | None,
) -> SiteCalendar:
    """A calendar; what is absent decides no price, so that it stands in no list of assumptions."""
    begins = STARTS if starts is None else starts
    return SiteCalendar(start, holidays, days_off or (), zones or (), working_days, begins, climate)


CALENDAR = Record(
    site_calendar,
    (
        Field("start", date(), "first day that the crew may work; the work date if absent"),
        Field(
            "holidays",
            Reader(parse_region, {"type": "string", "pattern": "^[A-Za-z]{2}(-[A-Za-z0-9]{1,3})?$"}),
            "public holidays of a country or a part of it, by ISO 3166: US, US-WI",
        ),
        Field("days_off", ListOf(DAYS_OFF, 0, 200), "holds and shut-downs of the whole site"),
        Field("zones", ListOf(ZONE_DATES, 0, 1000), "dates of zones"),
        Field("working_days", ListOf(choice(*WEEKDAYS), 1, 7), "days of the week; by days_per_week if absent"),
        Field(
            "starts",
            Reader(parse_clock, {"type": "string", "pattern": "^([01][0-9]|2[0-3]):[0-5][0-9]$"}),
            "when the day's work starts; 07:00 if absent",
        ),
        Field(
            "climate",
            ClimateReader(CLIMATE),
            "what is normal in each month, or the name of a place of the company's table; without it no month is below "
            "a limit",
        ),
    ),
    title="SiteCalendar",
)


def check_zones(calendar: SiteCalendar | None, schedule: Schedule, faults: Faults) -> None:
    """Dates of a zone that the schedule does not have."""
    if calendar is None or not calendar.zones:
        return
    places = dict.fromkeys((line.elevation, line.storey) for line in schedule.lines)
    known = {key for elevation, storey in places for key in keys_over(elevation, storey)}
    for i, dates in enumerate(calendar.zones):
        if dates.key not in known:
            detail = "no opening stands there: elevation and storey are those of the opening lines"
            faults.append(Problem(f"/calendar/zones/{i}", "unknown_zone", detail))
