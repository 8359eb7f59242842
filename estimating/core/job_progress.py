"""What a crew's daily counts are worth in hours, against the hours it took, and what the rest will take.

    target    openings × touch minutes of one × workers ÷ standard hours in a crew hour, over the steps of the work
    earned    counted openings × the target hours of one, at most what is planned of each mark, zone and step
    pace      hours spent on counted work ÷ hours earned: 1 as estimated, above it slower
    forecast  (target − earned) × pace

All hours are paid worker-hours, as a foreman writes them down; an estimate's standard hours are of one fully
productive worker. Set-up is hours alone, it earns nothing; it is told beside the work.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import ceil

from rates.core.fraction import Fraction

ZERO = Fraction(0)
SET_UP = "set_up"
FIRST_COAT, SECOND_COAT, BOTH_COATS, TAPE, JOINTS = "first_coat", "second_coat", "both_coats", "tape", "joints"
STEPS = (FIRST_COAT, SECOND_COAT, BOTH_COATS, TAPE, JOINTS)  # those that are counted
Key = tuple[int, str, str]  # zone, mark, step


def steps_of(method: str, first_coat_share: Fraction | None) -> tuple[tuple[str, Fraction], ...]:
    """(step, its share of touch minutes) of a method; coats are told apart where the edition says how they share."""
    if method != "fluid":
        return ((TAPE, Fraction(1)),)
    if first_coat_share is None or not 0 < first_coat_share < 1:
        return ((BOTH_COATS, Fraction(1)),)
    return ((FIRST_COAT, first_coat_share), (SECOND_COAT, 1 - first_coat_share))


@dataclass(frozen=True)
class MarkTarget:
    """The openings of one mark in a zone; hours: paid worker-hours of one, all steps; steps: (step, share)."""

    mark: str
    openings: int
    hours: Fraction
    steps: tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True)
class ZoneTarget:
    """A zone in working order: number from 1, place, its marks."""

    number: int
    elevation: str
    storey: str
    marks: tuple[MarkTarget, ...]

    @property
    def steps(self) -> tuple[str, ...]:
        """The steps that any of its marks takes, in order."""
        taken = {step for mark in self.marks for step, _ in mark.steps}
        return tuple(step for step in STEPS if step in taken)


@dataclass(frozen=True)
class Targets:
    """What a job is to take: zones, paid hours of set-up, workers and paid hours of one working day of the crew."""

    zones: tuple[ZoneTarget, ...]
    setup_hours: Fraction
    day_hours: Fraction

    @property
    def planned(self) -> Mapping[Key, tuple[int, Fraction]]:
        """(openings, hours of one) by zone, mark and step."""
        return {
            (zone.number, mark.mark, step): (mark.openings, mark.hours * share)
            for zone in self.zones
            for mark in zone.marks
            for step, share in mark.steps
        }


@dataclass(frozen=True)
class Record:
    """A day's work of one step in a zone. hours: paid worker-hours; counts: openings finished of that step by mark."""

    day: datetime.date
    zone: int
    step: str
    hours: Fraction
    counts: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class DayOf:
    """One day: hours earned and spent on counted work, hours of set-up."""

    day: datetime.date
    earned: Fraction
    spent: Fraction
    setup: Fraction


@dataclass(frozen=True)
class StepOf:
    """One step of a zone: openings planned and counted, hours planned, earned and spent."""

    zone: int
    step: str
    planned: int
    counted: int
    target: Fraction
    earned: Fraction
    spent: Fraction


@dataclass(frozen=True)
class Over:
    """More counted of a mark in a zone's step than there are."""

    zone: int
    mark: str
    step: str
    planned: int
    counted: int


@dataclass(frozen=True)
class Progress:
    """How far a job is; pace and forecast are None until something was counted."""

    target: Fraction
    earned: Fraction
    spent: Fraction
    setup_target: Fraction
    setup_spent: Fraction
    days: tuple[DayOf, ...]
    steps: tuple[StepOf, ...]
    over: tuple[Over, ...]
    day_hours: Fraction

    @property
    def left(self) -> Fraction:
        """Target hours that are not yet earned."""
        return self.target - self.earned

    @property
    def pace(self) -> Fraction | None:
        """Hours spent for each hour earned."""
        return self.spent / self.earned if self.earned else None

    @property
    def forecast(self) -> Fraction | None:
        """Hours that the rest takes at the pace so far, set-up still to come included."""
        if self.pace is None:
            return None
        return self.left * self.pace + max(ZERO, self.setup_target - self.setup_spent)

    @property
    def forecast_days(self) -> int | None:
        """Whole crew-days of the forecast."""
        return None if self.forecast is None or not self.day_hours else ceil(self.forecast / self.day_hours)


def progress(targets: Targets, records: Sequence[Record]) -> Progress:
    """The records held against the targets; of one day in the order in which they are given."""
    planned, counted = targets.planned, dict[Key, int]()
    days: dict[datetime.date, list[Fraction]] = {}
    of_steps: dict[tuple[int, str], list[Fraction]] = {}
    for record in sorted(records, key=lambda one: one.day):
        day = days.setdefault(record.day, [ZERO, ZERO, ZERO])
        if record.step == SET_UP:
            day[2] += record.hours
            continue
        worth = sum(earn(record, planned, counted), ZERO)
        for sums in (day, of_steps.setdefault((record.zone, record.step), [ZERO, ZERO])):
            sums[0] += worth
            sums[1] += record.hours
    return Progress(
        target=sum((count * hours for count, hours in planned.values()), ZERO),
        earned=sum((day[0] for day in days.values()), ZERO),
        spent=sum((day[1] for day in days.values()), ZERO),
        setup_target=targets.setup_hours,
        setup_spent=sum((day[2] for day in days.values()), ZERO),
        days=tuple(DayOf(day, *sums) for day, sums in sorted(days.items())),
        steps=tuple(steps_so_far(targets, counted, of_steps)),
        over=tuple(Over(*key, planned[key][0], n) for key, n in sorted(counted.items()) if n > planned[key][0]),
        day_hours=targets.day_hours,
    )


def earn(record: Record, planned: Mapping[Key, tuple[int, Fraction]], counted: dict[Key, int]) -> Iterator[Fraction]:
    """The hours that each count of a record earns, those past what is planned nothing; `counted` goes on."""
    for mark, count in record.counts.items():
        key = (record.zone, mark, record.step)
        openings, hours = planned[key]
        before = counted.get(key, 0)
        counted[key] = before + count
        yield (min(before + count, openings) - min(before, openings)) * hours


def steps_so_far(
    targets: Targets, counted: Mapping[Key, int], sums: Mapping[tuple[int, str], Sequence[Fraction]]
) -> Iterator[StepOf]:
    """Every step of every zone, in working order."""
    planned = targets.planned
    for zone in targets.zones:
        for step in zone.steps:
            keys = [(zone.number, mark.mark, step) for mark in zone.marks if step in dict(mark.steps)]
            target = sum((planned[key][0] * planned[key][1] for key in keys), ZERO)
            openings, done = sum(planned[key][0] for key in keys), sum(counted.get(key, 0) for key in keys)
            earned, spent = sums.get((zone.number, step), (ZERO, ZERO))
            yield StepOf(zone.number, step, openings, done, target, earned, spent)
