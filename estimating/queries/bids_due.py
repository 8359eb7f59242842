"""Bids by the time that they are due: what each waits for, and who can do it."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import OuterRef, Subquery, UUIDField

from estimating.models import Estimate, Project, Quote, QuoteState, ScheduleRevision
from estimating.queries.quotes import state_of
from estimating.states import ProjectState
from rates.models import Company
from rates.paging import Page, Wanted, page
from rates.roles import Role

SHOWN_AFTER = datetime.timedelta(days=1)  # a bid stays in the list for so long after its time
ENDED = (QuoteState.AWARDED, QuoteState.NOT_AWARDED)


@dataclass(frozen=True)
class DueBid:
    """One project that is due. waits_for: schedule, answers, estimate, quote, issue or nothing; `who` can do it."""

    project: uuid.UUID
    name: str
    number: str
    due_at: datetime.datetime
    due_zone: str
    due_local: str  # as people there read it
    overdue: bool
    schedule: uuid.UUID | None  # the latest
    drawing_issue: str
    blocks_costing: int
    blocks_issue: int
    estimate: uuid.UUID | None  # the latest that is costed
    estimate_is_of_latest: bool  # whether it is of that schedule
    quote: uuid.UUID | None  # the latest
    quote_number: int | None
    quote_state: str | None
    customer: str
    valid_until: datetime.date | None
    waits_for: str
    who: str


WAITS = {
    "schedule": Role.ESTIMATOR,
    "answers": Role.ESTIMATOR,
    "estimate": Role.ESTIMATOR,
    "quote": Role.SALES,
    "issue": Role.SALES,
    "nothing": "",
}


def local_time(moment: datetime.datetime, zone: str) -> str:
    """A time as it is read in a zone, with the zone's short name."""
    there = moment.astimezone(ZoneInfo(zone))
    return f"{there:%Y-%m-%d %H:%M} {there.tzname()}"


def latest(rows: Any, order: str) -> Subquery:
    """The id of the latest of a project's rows."""
    return Subquery(rows.order_by(order).values("pk")[:1], output_field=UUIDField())


def bids_due(*, company: uuid.UUID, wanted: Wanted, now: datetime.datetime) -> Page[DueBid]:
    """The company's projects with a due time, the next first; those whose time is long over are left out."""
    zone = str(Company.objects.values_list("time_zone", flat=True).get(pk=company))
    of_project = {"project": OuterRef("pk")}
    rows = Project.objects.of(company).filter(due_at__gte=now - SHOWN_AFTER, state=ProjectState.OPEN)
    dated = rows.annotate(
        last_revision=latest(ScheduleRevision.objects.of(company).filter(**of_project), "-number"),
        last_costed=latest(Estimate.objects.of(company).filter(**of_project, costed_at__isnull=False), "-number"),
        last_quoted=latest(Quote.objects.of(company).filter(**of_project), "-id"),
    )
    found = page(dated, wanted, orderings={"due_at": "due_at"}, show=lambda row: row)
    known = Around(company, found.items, now)
    return Page(tuple(show_bid(row, known, zone) for row in found.items), found.next)


class Around:
    """The latest schedules, estimates and quotes of some projects."""

    def __init__(self, company: uuid.UUID, rows: tuple[Any, ...], now: datetime.datetime) -> None:
        self.now = now
        self.schedules = read(ScheduleRevision, company, [row.last_revision for row in rows])
        self.estimates = read(Estimate, company, [row.last_costed for row in rows])
        self.quotes = read(Quote, company, [row.last_quoted for row in rows])


BIG = {
    ScheduleRevision: ("source", "openings", "report"),
    Estimate: ("request",),
    Quote: ("prepared", "content"),
}


def read(model: Any, company: uuid.UUID, ids: list[uuid.UUID | None]) -> Mapping[uuid.UUID, Any]:
    """Rows by id, without their big columns."""
    rows = model.objects.of(company).filter(pk__in=[id for id in ids if id is not None])
    return {row.pk: row for row in rows.defer(*BIG[model])}


def show_bid(row: Any, known: Around, company_zone: str) -> DueBid:
    """One project that is due."""
    zone = row.due_zone or company_zone
    today = known.now.astimezone(ZoneInfo(company_zone)).date()
    schedule, estimate = known.schedules.get(row.last_revision), known.estimates.get(row.last_costed)
    quote = known.quotes.get(row.last_quoted)
    current = estimate is not None and (schedule is None or estimate.schedule_id == schedule.pk)
    state = state_of(quote, today) if quote is not None else None
    waits = waits_for(schedule, estimate, current, quote, state)
    return DueBid(
        project=row.pk,
        name=row.name,
        number=row.number,
        due_at=row.due_at,
        due_zone=zone,
        due_local=local_time(row.due_at, zone),
        overdue=row.due_at < known.now,
        schedule=row.last_revision,
        drawing_issue=schedule.drawing_issue if schedule else "",
        blocks_costing=schedule.blocks_costing if schedule else 0,
        blocks_issue=schedule.blocks_issue if schedule else 0,
        estimate=row.last_costed,
        estimate_is_of_latest=current,
        quote=row.last_quoted,
        quote_number=quote.number if quote else None,
        quote_state=state,
        customer=quote.customer_name if quote else "",
        valid_until=quote.valid_until if quote else None,
        waits_for=waits,
        who=WAITS[waits],
    )


def waits_for(schedule: Any, estimate: Any, current: bool, quote: Any, state: str | None) -> str:
    """The next step of a bid."""
    if state in ENDED:
        return "nothing"
    if schedule is None and estimate is None:
        return "schedule"
    if schedule is not None and schedule.blocks_costing:
        return "answers"
    if not current:
        return "estimate"
    if quote is None or quote.estimate_id != estimate.pk:
        return "quote"
    return "issue" if state == QuoteState.DRAFTED else "nothing"
