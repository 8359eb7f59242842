"""The calendar of an estimate: when the crew seals which zone."""

from __future__ import annotations

from typing import Annotated, NotRequired, TypedDict

from estimating.core.request_calendar import WEEKDAYS
from estimating.core.scheduling.days import REASONS
from estimating.outputs.documents.estimate import EstimateEdition
from estimating.outputs.documents.scalars import Day, Hours, Named, Number

Clock = Annotated[str, Named("ClockTime", "a time of day on the site", pattern="^[0-2][0-9]:[0-5][0-9]$")]
Degrees = Annotated[str, Named("PrintedTemperature", "degrees with their unit: °F, or °C where the units are metric")]
Weekday = Annotated[str, Named("Weekday", words=WEEKDAYS)]
NoWork = Annotated[str, Named("NoWork", "why nobody works on a day", words=REASONS)]
LimitFrom = Annotated[
    str, Named("LimitFrom", "the edition's rates, or what stands by default", words=("rates", "default"))
]


class MonthOfSite(TypedDict):
    """What is normal in a month, and what of a working day is within the limits."""

    month: Annotated[int, "1 for January"]
    high: Annotated[Degrees, "normal daily high"]
    low: Annotated[Degrees, "normal daily low"]
    worked: Annotated[bool, "false: less than half a day is within the limits"]
    starts: Annotated[Clock | None, "from when a day is worked"]
    ends: Annotated[Clock | None, "until when something is put on"]
    hours: Annotated[Hours, "of a day that are worked"]
    wet_days: Annotated[Number | None, "days with rain that stops work"]
    dry_hours: Annotated[Hours, "that the last coat takes to dry"]


class PartOnDays(TypedDict):
    """A part of the job with the day that prices it, and the days that it takes."""

    part: NotRequired[Annotated[str, "of a season split"]]
    work_date: Annotated[Day, "the day whose rates price it"]
    edition: Annotated[EstimateEdition, "the company's rates of that day"]
    mobilisations: Annotated[int, "that are priced"]
    start: Annotated[Day | None, "first day of work; null: no day was found"]
    finish: Annotated[Day | None, "last day of work; null: hours are left without a day"]
    working_days: Annotated[int, "days on which there is work"]
    crew_days: Annotated[str, "whole crew-days that the price pays"]
    hours: Annotated[Hours, "standard worker-hours, waiting between coats among them"]
    hours_unplanned: Annotated[Hours, "that found no working day in ten years"]
    hours_a_day: Annotated[Hours, "standard worker-hours that the crew gives in a whole day"]
    lowest_temperature: Annotated[Degrees, "below which its materials are not put on"]
    lowest_from: LimitFrom
    highest_temperature: Annotated[Degrees | None, "above which they are not"]
    dry_hours: Annotated[Hours, "that the last coat takes to dry, unless the month has its own"]
    dry_from: LimitFrom
    months: Annotated[list[MonthOfSite], "those of the climate"]


class ZoneOnDays(TypedDict):
    """An elevation and storey with its first and last day; hours are standard worker-hours."""

    zone: Annotated[int, "its number in the calendar"]
    elevation: str | None
    storey: str | None
    title: Annotated[str, "in words"]
    part: NotRequired[Annotated[str, "of a season split"]]
    openings: Annotated[int, "0: the sheathing joints"]
    setup_hours: Hours
    work_hours: Hours
    waiting_hours: Annotated[Hours, "between coats"]
    hours: Hours
    ready: Annotated[Day | None, "first day on which it may be worked"]
    start: Day | None
    finish: Annotated[Day | None, "last day of work; null: some of it has no day"]
    dry: Annotated[Day | None, "the day on which the last coat is dry"]
    working_days: int
    units_due: Annotated[Day | None, "when its windows and doors are delivered"]
    late: Annotated[bool | None, "whether it is not dry before that day; null: none is given"]


class DayInZone(TypedDict):
    """What is done in a zone on a day, in standard worker-hours."""

    date: Day
    weekday: Weekday
    zone: Annotated[int, "its number in the calendar"]
    elevation: str | None
    storey: str | None
    title: Annotated[str, "the zone in words"]
    part: NotRequired[Annotated[str, "of a season split"]]
    starts: Annotated[Clock, "when the day's work starts"]
    ends: Annotated[Clock, "when it ends"]
    setup_hours: Hours
    work_hours: Hours
    waiting_hours: Annotated[Hours, "between coats"]
    hours: Hours
    openings: Annotated[int, "that are finished on this day"]


class DaysWithoutWork(TypedDict):
    """Days one after the other on which nobody works for one reason; days of the week that never are stay out."""

    first: Day
    last: Day
    days: Annotated[int, "that would be worked"]
    reason: NoWork
    words: str
    part: NotRequired[Annotated[str, "of a season split"]]


class CalendarRemark(TypedDict):
    """What a person should know of a calendar."""

    code: str
    detail: str


class CalendarClimate(TypedDict):
    """Where the months are from."""

    title: str
    source: str | None


class Calendar(TypedDict):
    """When the crew seals which zone: working days, days off, what is late."""

    start: Day | None
    finish: Annotated[Day | None, "null: hours are left without a day"]
    working_days: int
    holidays: Annotated[str | None, "whose public holidays, by ISO 3166"]
    climate: CalendarClimate | None
    parts: list[PartOnDays]
    zones: Annotated[list[ZoneOnDays], "in working order"]
    items: Annotated[list[DayInZone], "day by day"]
    days_off: list[DaysWithoutWork]
    remarks: list[CalendarRemark]
    cautions: Annotated[list[str], "those of the estimate"]


class ClimateOfMonth(TypedDict):
    """What is normal in a month of a place; numbers are as they were loaded."""

    place: str
    month: Annotated[int, "1 for January"]
    high: Annotated[Number, "normal daily high in `unit`"]
    low: Annotated[Number, "normal daily low in `unit`"]
    unit: Annotated[str, Named("DegreesIn", "Fahrenheit or Celsius", words=("f", "c"))]
    wet_days: Annotated[Number | None, "days with rain that stops work"]
    dry_hours: Annotated[Hours | None, "to dry in this month"]
    source: Annotated[str | None, "where the figures came from"]


class Climates(TypedDict):
    """The climates that a company has loaded."""

    items: list[ClimateOfMonth]
