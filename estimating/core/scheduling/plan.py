"""The tasks of a job on its working days: the next zone that is ready, no day fuller than the crew.

Capacity of a day = hours worked × Σ productive shares. Parts of a season split follow each other by their dates, one
crew doing both. A zone once begun is finished before another; where none is ready the crew waits.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from estimating.core.estimate import Estimate
from estimating.core.part import Part
from estimating.core.request_calendar import SiteCalendar
from estimating.core.scheduling.days import WAITING, Day, Days, Holidays, site_of
from estimating.core.scheduling.limits import Limits, limits_of
from estimating.core.scheduling.tasks import Task, tasks_of
from rates.core.fraction import Fraction

LAST_DAY = datetime.date(9000, 1, 1)  # so that a day after any that is planned is one too
LONGEST_DAYS = 3660  # that are looked through for a part; what is left then is said to be unplanned
ONE_DAY = datetime.timedelta(days=1)
ZERO = Fraction(0)


@dataclass(frozen=True)
class Stint:
    """What is done of a task on a day, in standard worker-hours; openings: how many are finished by its end."""

    day: Day
    task: Task
    setup: Fraction
    work: Fraction
    idle: Fraction
    openings: int

    @property
    def hours(self) -> Fraction:
        """All of it."""
        return self.setup + self.work + self.idle


@dataclass(frozen=True)
class PlannedPart:
    """A part on its days. off: days between its first and last on which nobody works, and why; weekly ones apart.

    left: hours that found no day; before: how many tasks the parts before it have.
    """

    part: Part
    limits: Limits
    days: Days
    stints: tuple[Stint, ...]
    off: tuple[Day, ...]
    tasks: tuple[Task, ...]
    left: Fraction
    before: int = 0

    @property
    def first(self) -> datetime.date | None:
        """The first day of work."""
        return self.stints[0].day.date if self.stints else None

    @property
    def last(self) -> datetime.date | None:
        """The last day of work, None while hours are left."""
        return self.stints[-1].day.date if self.stints and not self.left else None

    @cached_property
    def by_task(self) -> Mapping[int, Sequence[Stint]]:
        """The stints of each task by its number."""
        found: dict[int, list[Stint]] = {}
        for stint in self.stints:
            found.setdefault(stint.task.number, []).append(stint)
        return found

    @property
    def working_days(self) -> int:
        """Days on which there is work."""
        return len({stint.day.date for stint in self.stints})


def ready_on(site: SiteCalendar, task: Task) -> datetime.date:
    """The first day that a zone may be worked."""
    told = [] if task.is_joints else site.dates_of(task.elevation, task.storey)
    days = [day for dates in told for day in (dates.sheathing_ready, dates.hold_until) if day is not None]
    return max(days, default=datetime.date.min)


def due_on(site: SiteCalendar, task: Task) -> datetime.date | None:
    """The day that a zone's windows and doors are delivered, the first of those told."""
    told = [] if task.is_joints else site.dates_of(task.elevation, task.storey)
    return min((dates.units_due for dates in told if dates.units_due is not None), default=None)


class Underway:
    """A task of which some is done; what comes first is set-up, then the work, then waiting."""

    def __init__(self, task: Task) -> None:
        self.task, self.done = task, ZERO

    @property
    def left(self) -> Fraction:
        """Hours still to do."""
        return self.task.hours - self.done

    def do(self, hours: Fraction, day: Day) -> Stint:
        """Hours of it on a day."""
        task, before = self.task, self.done
        self.done += hours
        setup, worked = task.setup, task.setup + task.work
        parts = (self.within(before, ZERO, setup), self.within(before, setup, worked))
        share = min(Fraction(1), max(ZERO, self.done - task.setup) / task.work) if task.work else Fraction(1)
        finished = task.openings if not self.left else int(task.openings * share)
        return Stint(day, task, *parts, hours - sum(parts), finished)

    def within(self, before: Fraction, low: Fraction, high: Fraction) -> Fraction:
        """How much of what was done since `before` lies between two marks of the task's hours."""
        return max(ZERO, min(self.done, high) - max(before, low))


def plan_part(part: Part, site: SiteCalendar, holidays: Holidays, start: datetime.date) -> PlannedPart:
    """A part's tasks on the days from `start` on."""
    limits, tasks = limits_of(part), tasks_of(part)
    days = Days(site, part.conditions.production, limits, holidays)
    waiting = [(ready_on(site, task), Underway(task)) for task in tasks if task.hours]
    stints, off, date = list[Stint](), list[Day](), start
    shares, next_ready = Fraction(part.crew.shares), datetime.date.min
    for _ in range(LONGEST_DAYS):
        if not waiting or date >= LAST_DAY:
            break
        day = days.of(date)
        done = work_day(day, waiting, day.shift.hours * shares) if date >= next_ready else []
        stints.extend(done)
        if day.reason is None and not done:
            next_ready = min(ready for ready, _ in waiting) if date >= next_ready else next_ready
            day = replace(day, reason=WAITING, words=f"no zone is ready before {next_ready}")
        if day.reason is not None:
            off.append(day)
        date += ONE_DAY
    left = sum((underway.left for _, underway in waiting), ZERO)
    return PlannedPart(part, limits, days, tuple(stints), tuple(off), tuple(tasks), left)


def work_day(day: Day, waiting: list[tuple[datetime.date, Underway]], capacity: Fraction) -> list[Stint]:
    """What is done on a day; what is finished leaves `waiting`."""
    done = []
    while capacity > 0:
        found = next((entry for entry in waiting if entry[0] <= day.date), None)
        if found is None:
            break
        hours = min(capacity, found[1].left)
        done.append(found[1].do(hours, day))
        capacity -= hours
        if not found[1].left:
            waiting.remove(found)
        else:
            waiting.insert(0, waiting.pop(waiting.index(found)))
    return done


def in_date_order(estimate: Estimate) -> Sequence[Part]:
    """The parts by their work dates."""
    day = estimate.request.work_date
    return sorted(estimate.parts, key=lambda part: part.plan.work_date or day)


def plan_job(estimate: Estimate, holidays: Holidays) -> Iterator[PlannedPart]:
    """Every part, each after the one before; the request's start counts for the first of them."""
    site, last, before = site_of(estimate.request.calendar), datetime.date.min, 0
    for place, part in enumerate(in_date_order(estimate)):
        start = part.plan.work_date or estimate.request.work_date
        if place == 0 and site.start is not None:
            start = site.start
        after = last + ONE_DAY if last != datetime.date.min else start
        planned = replace(plan_part(part, site, holidays, max(start, after)), before=before)
        before += len(planned.tasks)
        if planned.stints:
            last = planned.stints[-1].day.date
        yield planned
