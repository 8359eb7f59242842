"""What an office has on its desk: each project with its last schedule, estimate and quote, and what is next."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import F, OuterRef, QuerySet

from estimating.models import Estimate, Project, Quote, QuoteState, ScheduleRevision
from estimating.queries.bids_due import latest
from estimating.queries.estimate_lists import EstimateLine, show_line
from estimating.queries.projects import ORDERINGS, Schedule, show_project, show_schedule, with_words
from estimating.queries.projects import Project as ProjectShown
from estimating.queries.quotes import BIG, QuoteLine, today_of
from estimating.queries.quotes import show_line as show_quote
from estimating.states import UNFINISHED, ProjectState
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere

SCHEDULE, ANSWER, COST, WAIT, AGAIN, ANSWER_BEFORE_ISSUE, PRICED = (
    "schedule", "answer", "cost", "wait", "again", "answer_before_issue", "priced",
)  # fmt: skip
ISSUE, WITH_CUSTOMER, REQUOTE, AWARDED, NOT_AWARDED = "issue", "with_customer", "requote", "awarded", "not_awarded"

OUT = (QuoteState.ISSUED, QuoteState.EXPIRED)  # a customer has it, or had it until it lapsed
ENDS: Mapping[str, str] = {
    QuoteState.ISSUED: WITH_CUSTOMER,
    QuoteState.EXPIRED: REQUOTE,
    QuoteState.NOT_AWARDED: NOT_AWARDED,
}


@dataclass(frozen=True)
class AtWork:
    """One project with what came last. `step`: what is next; `is_behind`: a newer schedule than the costed one."""

    project: ProjectShown
    schedule: Schedule | None
    estimate: EstimateLine | None
    quote: QuoteLine | None
    estimate_revision: int | None
    is_behind: bool
    step: str


def projects_at_work(*, company: uuid.UUID, wanted: Wanted, now: datetime.datetime, words: str = "") -> Page[AtWork]:
    """A page of the open projects, by name or number where words are given; as many queries whatever it holds."""
    rows = with_words(Project.objects.of(company).filter(state=ProjectState.OPEN), words)
    found: Page[Project] = page(quoted_last(company, rows), wanted, orderings=ORDERINGS, show=lambda row: row)
    return Page(tuple(at_work(company, found.items, now)), found.next)


def project_at_work(*, company: uuid.UUID, id: uuid.UUID, now: datetime.datetime) -> AtWork:
    """One project, open or not; NotThere."""
    rows = quoted_last(company, Project.objects.of(company).filter(pk=id))
    for found in at_work(company, list(rows), now):
        return found
    raise NotThere


def quoted_last(company: uuid.UUID, rows: QuerySet[Project]) -> QuerySet[Project]:
    """Projects with the id of the last quote of each."""
    return rows.annotate(last_quote=latest(Quote.objects.of(company).filter(project=OuterRef("pk")), "-id"))


def at_work(company: uuid.UUID, rows: Sequence[Any], now: datetime.datetime) -> list[AtWork]:
    """Projects with their last schedule, estimate and quote."""
    ids = [row.pk for row in rows]
    last_revisions = ScheduleRevision.objects.of(company).filter(project__in=ids, number=F("project__last_schedule"))
    schedules = {row.project_id: row for row in last_revisions.defer("source", "openings", "report")}
    last_estimates = Estimate.objects.of(company).filter(project__in=ids, number=F("project__last_estimate"))
    related = last_estimates.select_related("run", "schedule", "project")
    deferred = related.defer("request", "schedule__source", "schedule__openings", "schedule__report")
    estimates = {row.project_id: row for row in deferred}
    last_quotes = Quote.objects.of(company).filter(pk__in=[row.last_quote for row in rows if row.last_quote])
    today = today_of(company, now)
    quotes = {row.project_id: show_quote(row, today) for row in last_quotes.defer(*BIG)}
    return [tell(row, schedules.get(row.pk), estimates.get(row.pk), quotes.get(row.pk)) for row in rows]


def tell(row: Project, schedule: ScheduleRevision | None, estimate: Estimate | None, quote: QuoteLine | None) -> AtWork:
    """One project with its next step."""
    costed = estimate.schedule.number if estimate is not None and estimate.schedule is not None else None
    behind = estimate is not None and schedule is not None and costed is not None and costed < schedule.number
    return AtWork(
        show_project(row),
        show_schedule(schedule) if schedule is not None else None,
        show_line(estimate) if estimate is not None else None,
        quote,
        costed,
        behind,
        next_step(schedule, estimate, behind, quote),
    )


def next_step(
    schedule: ScheduleRevision | None, estimate: Estimate | None, behind: bool, quote: QuoteLine | None
) -> str:
    """What is to be done next."""
    if quote is not None and quote.state == QuoteState.AWARDED:
        return AWARDED
    if schedule is None and estimate is None:
        return SCHEDULE
    if schedule is not None and schedule.blocks_costing and (estimate is None or behind):
        return ANSWER
    if estimate is None or behind:
        return REQUOTE if quote is not None and quote.state in OUT else COST
    if estimate.run.state in UNFINISHED:
        return WAIT
    if estimate.run.state != "costed":
        return AGAIN
    return after_price(schedule, estimate, quote)


def after_price(schedule: ScheduleRevision | None, estimate: Estimate, quote: QuoteLine | None) -> str:
    """What is next once the newest drawing has its price."""
    quoted = quote is not None and quote.estimate == estimate.pk
    if quote is not None and quoted and quote.state in ENDS:
        return ENDS[quote.state]
    if schedule is not None and schedule.blocks_issue:
        return ANSWER_BEFORE_ISSUE
    if quote is not None and quote.state == QuoteState.DRAFTED:
        return ISSUE if quoted else PRICED
    return REQUOTE if quote is not None and not quoted and quote.state in OUT else PRICED
