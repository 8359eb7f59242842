"""Job records as they are shown: one, those of the company or an estimate, and how far a job is by them."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from django.db.models import QuerySet

from estimating.collector import collector_paused
from estimating.core.job_progress import Progress, Record, Targets, progress
from estimating.core.job_targets import targets_of
from estimating.models import JobRecord as Row
from estimating.outputs.documents.scalars import Hours, Number
from estimating.queries.estimates import costed_again, require_costed
from rates.core.exact import print_quantity, print_scaled
from rates.core.fraction import Fraction
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere


@dataclass(frozen=True)
class MarkCount:
    """How many openings of a mark were finished of a step."""

    mark: str
    openings: int


@dataclass(frozen=True)
class JobRecord:
    """A day's work of one step in a zone. hours: paid worker-hours; link: by which it came, null from a member."""

    id: uuid.UUID
    estimate: uuid.UUID
    day: datetime.date
    zone: Annotated[int, "the zone's number in working order, as the progress of the estimate lists them"]
    elevation: str
    storey: str
    step: Annotated[str, "first_coat, second_coat, both_coats, tape, joints or set_up"]
    hours: Hours
    counts: tuple[MarkCount, ...]
    note: str
    link: uuid.UUID | None
    made_by: uuid.UUID
    created_at: datetime.datetime
    withdrawn_at: datetime.datetime | None
    withdrawn_by: uuid.UUID | None
    withdrawn_reason: str

    @property
    def tag(self) -> str:
        """Moves where it is withdrawn."""
        return f"{self.id.hex}-{'withdrawn' if self.withdrawn_at else 'stands'}"


def show_record(row: Row) -> JobRecord:
    """A stored record."""
    return JobRecord(
        id=row.pk,
        estimate=row.estimate_id,
        day=row.day,
        zone=row.zone,
        elevation=row.elevation,
        storey=row.storey,
        step=row.step,
        hours=print_scaled(row.hundredths, 2),
        counts=tuple(MarkCount(mark, openings) for mark, openings in row.counts),
        note=row.note,
        link=row.link_id,
        made_by=row.made_by_id,
        created_at=row.created_at,
        withdrawn_at=row.withdrawn_at,
        withdrawn_by=row.withdrawn_by_id,
        withdrawn_reason=row.withdrawn_reason,
    )


@dataclass(frozen=True)
class Filter:
    """Which records are wanted; None leaves open."""

    estimate: uuid.UUID | None = None
    day_from: datetime.date | None = None
    day_to: datetime.date | None = None


def rows_of(company: uuid.UUID, filter: Filter) -> QuerySet[Row]:
    """The records of a filter."""
    named = {"estimate_id": filter.estimate, "day__gte": filter.day_from, "day__lte": filter.day_to}
    return Row.objects.of(company).filter(**{name: value for name, value in named.items() if value is not None})


def job_records(*, company: uuid.UUID, wanted: Wanted, filter: Filter) -> Page[JobRecord]:
    """The company's records, withdrawn ones included."""
    orderings = {"day": "day", "created_at": "id"}
    return page(rows_of(company, filter), wanted, orderings=orderings, show=show_record)


def job_record(*, company: uuid.UUID, id: uuid.UUID) -> JobRecord:
    """One record; NotThere."""
    row = Row.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_record(row)


@dataclass(frozen=True)
class DayProgress:
    """One day: hours earned and spent on counted work, hours of set-up; the sums so far."""

    day: datetime.date
    earned: Hours
    spent: Hours
    set_up: Hours
    earned_so_far: Hours
    spent_so_far: Hours


@dataclass(frozen=True)
class StepProgress:
    """One step of a zone: openings planned and counted, target hours, hours earned and spent."""

    zone: int
    elevation: str
    storey: str
    step: str
    openings: int
    counted: int
    target: Hours
    earned: Hours
    spent: Hours


@dataclass(frozen=True)
class OverCount:
    """More counted of a mark in a zone's step than the drawing has there; the rest earns nothing."""

    zone: int
    mark: str
    step: str
    openings: int
    counted: int


@dataclass(frozen=True)
class JobProgress:
    """How far a job is, in paid worker-hours. pace: hours spent for each hour earned, null until something is counted.

    target: hours of counted work as estimated; forecast: what the rest takes at the pace so far, set-up to come
    included; forecast_days: the same in whole days of the crew.
    """

    estimate: uuid.UUID
    target: Hours
    earned: Hours
    spent: Hours
    left: Hours
    pace: Number | None
    set_up_target: Hours
    set_up_spent: Hours
    forecast: Hours | None
    forecast_days: int | None
    days: tuple[DayProgress, ...]
    items: tuple[StepProgress, ...]
    over: tuple[OverCount, ...]
    cautions: tuple[str, ...]


def targets(company: uuid.UUID, estimate: uuid.UUID) -> Targets:
    """What the zones of a costed estimate are to take."""
    with collector_paused():
        return targets_of(costed_again(company, estimate))


def records_of(company: uuid.UUID, estimate: uuid.UUID) -> list[Record]:
    """The records that stand, as the core takes them, in the order in which they came."""
    rows = Row.objects.of(company).filter(estimate_id=estimate, withdrawn_at=None).order_by("id")
    return [Record(row.day, row.zone, row.step, Fraction(row.hundredths, 100), dict(row.counts)) for row in rows]


def job_progress(*, company: uuid.UUID, id: uuid.UUID, cautions: Sequence[str]) -> JobProgress:
    """How far an estimate's job is; NotThere, Conflict until costed."""
    require_costed(company, id)
    planned = targets(company, id)
    return show_progress(id, planned, progress(planned, records_of(company, id)), cautions)


def show_progress(id: uuid.UUID, planned: Targets, found: Progress, cautions: Sequence[str]) -> JobProgress:
    """Progress as answers print it."""
    text = print_quantity
    places = {zone.number: (zone.elevation, zone.storey) for zone in planned.zones}
    earned, spent, days = Fraction(0), Fraction(0), list[DayProgress]()
    for day in found.days:
        earned, spent = earned + day.earned, spent + day.spent
        days.append(DayProgress(day.day, *map(text, (day.earned, day.spent, day.setup, earned, spent))))
    steps = (
        StepProgress(
            x.zone, *places[x.zone], x.step, x.planned, x.counted, text(x.target), text(x.earned), text(x.spent)
        )
        for x in found.steps
    )
    return JobProgress(
        estimate=id,
        target=text(found.target),
        earned=text(found.earned),
        spent=text(found.spent),
        left=text(found.left),
        pace=None if found.pace is None else text(found.pace),
        set_up_target=text(found.setup_target),
        set_up_spent=text(found.setup_spent),
        forecast=None if found.forecast is None else text(found.forecast),
        forecast_days=found.forecast_days,
        days=tuple(days),
        items=tuple(steps),
        over=tuple(OverCount(x.zone, x.mark, x.step, x.planned, x.counted) for x in found.over),
        cautions=tuple(cautions),
    )
