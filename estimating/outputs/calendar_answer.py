"""The calendar of an estimate: which zone is worked on which day, why other days are not, what a person should know."""

from __future__ import annotations

import datetime
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import Any

from estimating.core.estimate import Estimate
from estimating.core.request_calendar import WEEKDAYS, SiteCalendar
from estimating.core.scheduling.days import CLIMATE, RAIN, WEEKLY, Day, Holidays, site_of
from estimating.core.scheduling.plan import PlannedPart, Stint, due_on, plan_job, ready_on
from estimating.core.scheduling.tasks import Task
from estimating.core.scheduling.warmth import dry_hours_of
from estimating.outputs.answer import part_name
from estimating.outputs.public_holidays import public_holidays
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.temperatures import print_temperature
from rates.core.texts import counted

Row = dict[str, Any]
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
LONG_STOP = 28  # days without work because of the climate that may take the crew away
JOINTS = "sheathing joints"
GOVERNS = "The data sheet governs; a normal month is no forecast: look at the sky and the thermometer on the day."


def clock(hours: Fraction) -> str:
    """Hours after midnight as a time, to the minute."""
    minutes = int(hours * 60)
    return f"{minutes // 60 % 24:02}:{minutes % 60:02}"


def title_of(task: Task) -> str:
    """A zone in words."""
    if task.is_joints:
        return JOINTS
    storey = f"storey {task.storey}" if task.storey.isdigit() else task.storey
    return ", ".join(name for name in (task.elevation, storey) if name) or "all openings"


def names_of(planned: PlannedPart, task: Task, estimate: Estimate) -> Row:
    """What a row of a task starts with."""
    where = {"elevation": task.elevation or None, "storey": task.storey or None, "title": title_of(task)}
    return {"zone": planned.before + task.number} | where | part_name(planned.part, estimate)


def stint_rows(planned: PlannedPart, estimate: Estimate) -> Iterator[Row]:
    """Each day with each zone that is worked on it."""
    finished: dict[int, int] = {}
    for stint in planned.stints:
        task, shift = stint.task, stint.day.shift
        before = finished.get(task.number, 0)
        finished[task.number] = stint.openings
        yield (
            {"date": stint.day.date.isoformat(), "weekday": WEEKDAYS[stint.day.date.weekday()]}
            | names_of(planned, task, estimate)
            | {
                "starts": clock(shift.first),
                "ends": clock(shift.last),
                "setup_hours": print_quantity(stint.setup),
                "work_hours": print_quantity(stint.work),
                "waiting_hours": print_quantity(stint.idle),
                "hours": print_quantity(stint.hours),
                "openings": stint.openings - before,
            }
        )


def zone_rows(planned: PlannedPart, site: SiteCalendar, estimate: Estimate) -> Iterator[Row]:
    """Each zone with its first and last day, and the dates that it has to keep."""
    for task in planned.tasks:
        stints = planned.by_task.get(task.number, ())
        whole = bool(stints) and sum((s.hours for s in stints), Fraction(0)) == task.hours
        ready, due = ready_on(site, task), due_on(site, task)
        dry = dry_on(stints[-1], planned, site) if whole else None
        yield names_of(planned, task, estimate) | {
            "openings": task.openings,
            "setup_hours": print_quantity(task.setup),
            "work_hours": print_quantity(task.work),
            "waiting_hours": print_quantity(task.idle),
            "hours": print_quantity(task.hours),
            "ready": None if ready == datetime.date.min else ready.isoformat(),
            "start": stints[0].day.date.isoformat() if stints else None,
            "finish": stints[-1].day.date.isoformat() if whole else None,
            "dry": dry and dry.isoformat(),
            "working_days": len({stint.day.date for stint in stints}),
            "units_due": due and due.isoformat(),
            "late": None if due is None else dry is None or dry >= due,
        }


def dry_on(stint: Stint, planned: PlannedPart, site: SiteCalendar) -> datetime.date:
    """The day on which what was put on last is dry."""
    day = stint.day
    hours = day.shift.last + dry_hours_of(planned.days.month(day.date.month), planned.limits)
    return day.date + datetime.timedelta(days=int(hours / 24))


def month_rows(planned: PlannedPart, estimate: Estimate) -> list[Row]:
    """Each month that the climate has: what is normal, and what of a day is worked."""
    units, climate = estimate.request.units, planned.days.site.climate
    found = []
    for month in climate.months if climate is not None else ():
        shift = planned.days.shift(month.month)
        found.append(
            {
                "month": month.month,
                "high": print_temperature(month.high_fahrenheit, units),
                "low": print_temperature(month.low_fahrenheit, units),
                "worked": bool(shift.hours),
                "starts": clock(shift.first) if shift.hours else None,
                "ends": clock(shift.last) if shift.hours else None,
                "hours": print_quantity(shift.hours),
                "wet_days": None if month.wet_days is None else print_quantity(month.wet_days),
                "dry_hours": print_quantity(dry_hours_of(month, planned.limits)),
            }
        )
    return found


def part_row(planned: PlannedPart, estimate: Estimate) -> Row:
    """A part with the day that prices it and the days that it takes."""
    part, limits, units = planned.part, planned.limits, estimate.request.units
    supply, day = part.plan.card.supply["overheads"], part.plan.work_date or estimate.request.work_date
    highest = limits.highest_fahrenheit
    return part_name(part, estimate) | {
        "work_date": day.isoformat(),
        "edition": {"id": supply.edition, "number": supply.number, "effective_from": supply.effective_from},
        "mobilisations": int(part.hours.mobilisations),
        "start": planned.first and planned.first.isoformat(),
        "finish": planned.last and planned.last.isoformat(),
        "working_days": planned.working_days,
        "crew_days": str(int(part.hours.crew_days)),
        "hours": print_quantity(sum((task.hours for task in planned.tasks), Fraction(0))),
        "hours_unplanned": print_quantity(planned.left),
        "hours_a_day": print_quantity(Fraction(part.crew.daily_hours)),
        "lowest_temperature": print_temperature(limits.lowest_fahrenheit, units),
        "lowest_from": "rates" if limits.lowest_stated else "default",
        "highest_temperature": None if highest is None else print_temperature(highest, units),
        "dry_hours": print_quantity(limits.dry_hours),
        "dry_from": "rates" if limits.dry_stated else "default",
        "months": month_rows(planned, estimate),
    }


def why_off(day: Day, planned: PlannedPart, units: str) -> str:
    """Why a day is not worked, in words."""
    month = planned.days.month(day.date.month)
    if day.reason == CLIMATE and month is not None:
        span = f"{print_temperature(month.low_fahrenheit, units)} to {print_temperature(month.high_fahrenheit, units)}"
        return f"{MONTHS[month.month - 1]} is normally {span}: less than half a day within the limits"
    if day.reason == RAIN and month is not None and month.wet_days is not None:
        wet = print_quantity(month.wet_days, 1)
        return f"allowance for rain: {wet} wet days in a normal {MONTHS[month.month - 1]}"
    return day.words


def off_rows(planned: PlannedPart, estimate: Estimate) -> Iterator[Row]:
    """Stretches of days that are not worked for one reason; days of the week that never are end none."""
    told = [(day, why_off(day, planned, estimate.request.units)) for day in planned.off if day.reason != WEEKLY]
    worked = sorted({stint.day.date for stint in planned.stints})

    def stretch(entry: tuple[Day, str]) -> tuple[Any, ...]:
        return entry[0].reason, entry[1], bisect_left(worked, entry[0].date)

    for (reason, words, _), group in groupby(told, stretch):
        days = [day for day, _ in group]
        first, last = days[0].date.isoformat(), days[-1].date.isoformat()
        yield {"first": first, "last": last, "days": len(days), "reason": reason, "words": words} | part_name(
            planned.part, estimate
        )


def remark(code: str, detail: str) -> Row:
    """What a person should know."""
    return {"code": code, "detail": detail}


def part_remarks(planned: PlannedPart, estimate: Estimate) -> Iterator[Row]:
    """What a person should know of a part."""
    part, limits, units = planned.part, planned.limits, estimate.request.units
    name = f"{part.plan.title}: " if len(estimate.parts) > 1 else ""
    priced, first = part.plan.work_date or estimate.request.work_date, planned.first
    if first is not None and first != priced:
        detail = f"{name}the work starts on {first}, and is priced by the rates of its work date {priced}"
        yield remark("priced_on_another_day", detail)
    if not limits.lowest_stated:
        lowest = print_temperature(limits.lowest_fahrenheit, units)
        detail = f"{name}not every material's row states its lowest temperature: {lowest} and rising (from memory)"
        yield remark("limit_by_default", detail)
    if not limits.dry_stated:
        yield remark("drying_by_default", f"{name}the rates state no drying time: 2 hours (common practice, no source)")
    paid, taken = int(part.hours.crew_days), planned.working_days
    if planned.stints and taken > paid:
        detail = f"{name}the calendar takes {counted(taken, 'day')}, the price pays {counted(paid, 'crew-day')}"
        yield remark("more_days_than_priced", f"{detail}: short days, waiting between coats or for zones")
    cold = max((stop for stop in stops(planned)), default=0)
    if cold > LONG_STOP and planned.first:
        detail = f"{name}the climate stops the work for {cold} days: a later part with its own date prices the return"
        yield remark("long_stop", detail)
    if planned.left:
        hours = print_quantity(planned.left, 2)
        yield remark("not_planned", f"{name}{hours} hours found no working day in ten years")


def stops(planned: PlannedPart) -> Iterator[int]:
    """Days between two days of work, where the climate is a reason."""
    worked = sorted({stint.day.date for stint in planned.stints})
    cold = [day.date for day in planned.off if day.reason == CLIMATE]
    for before, after in zip(worked, worked[1:], strict=False):
        if (after - before).days > LONG_STOP and any(before < day < after for day in cold):
            yield (after - before).days - 1


def remarks(planned: Sequence[PlannedPart], zones: Iterable[Row], estimate: Estimate) -> Iterator[Row]:
    """All of them."""
    site = site_of(estimate.request.calendar)
    if site.climate is None:
        yield remark("no_climate", "no climate is given, so that no month is looked at for temperature or rain")
    if site.holidays is None:
        yield remark("no_holidays", "no region is given, so that public holidays are worked")
    for part in planned:
        yield from part_remarks(part, estimate)
    for row in zones:
        if row["late"]:
            done = f"dry on {row['dry']}" if row["dry"] else "not finished"
            yield remark("late", f"{row['title']} is {done}, and its units are due on {row['units_due']}")


def planned_parts(estimate: Estimate) -> list[PlannedPart]:
    """The parts of an estimate on their days."""
    return list(plan_job(estimate, holidays_of(estimate)))


def holidays_of(estimate: Estimate) -> Holidays:
    """Those of the region that the request names."""
    return public_holidays(site_of(estimate.request.calendar).holidays)


def calendar_answer(estimate: Estimate) -> Row:
    """The whole calendar."""
    site, planned = site_of(estimate.request.calendar), planned_parts(estimate)
    zones = [row for part in planned for row in zone_rows(part, site, estimate)]
    first = min((part.first for part in planned if part.first), default=None)
    ends = [part.last for part in planned if part.stints]
    last = max((day for day in ends if day is not None), default=None) if None not in ends else None
    return {
        "start": first and first.isoformat(),
        "finish": last and last.isoformat(),
        "working_days": sum(part.working_days for part in planned),
        "holidays": site.holidays,
        "climate": site.climate and {"title": site.climate.title, "source": site.climate.source},
        "parts": [part_row(part, estimate) for part in planned],
        "zones": zones,
        "items": [row for part in planned for row in stint_rows(part, estimate)],
        "days_off": [row for part in planned for row in off_rows(part, estimate)],
        "remarks": list(remarks(planned, zones, estimate)),
    }
