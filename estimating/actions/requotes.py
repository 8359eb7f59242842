"""A quote made anew on a later drawing: the schedule costed today, beside held rates and their blend; a new draft."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.conf import settings
from django.db import transaction

from estimating.actions import estimates as estimate_actions
from estimating.actions.preparation import Prepared as PreparedRequest
from estimating.actions.preparation import prepare as prepare_request
from estimating.actions.quotes import Changes, draft
from estimating.actions.quotes import Ready as ReadyDraft
from estimating.collector import collector_paused
from estimating.core.estimate import Estimate
from estimating.core.job import Job, cost, read_request
from estimating.intake.report import question_of
from estimating.jobs import Stored, for_core, schedule_openings, schedule_questions, stored
from estimating.models import Estimate as EstimateRow
from estimating.models import Quote, QuoteState, ScheduleRevision
from estimating.outputs.quotes.offers import TODAY, Sides, offers_of, open_proposals, paired
from estimating.outputs.quotes.prepared import Prepared, line_prices
from estimating.queries import quotes as shown
from estimating.queries.assumptions import assumed_by
from estimating.queries.impact import book_of
from estimating.queries.matches import decisions, said
from estimating.quoting import assemble, find_costed
from estimating.work import cost as costing
from estimating.work import queue
from rates.cards import stored_sources
from rates.core.problems import Problem, Refused
from rates.core.texts import counted
from rates.documents import unpack
from rates.queries.companies import length_style
from rates.refusals import Conflict, NotThere
from rates.roles import Role

OPEN = (QuoteState.ISSUED, QuoteState.NOT_AWARDED)
MOST_NAMED = 12


@dataclass(frozen=True)
class Ready:
    """A re-quote worked out: the quote that it replaces, its estimate (stored, or still to be), the offers."""

    before: Quote
    request: PreparedRequest | None  # to be stored with the quote; None where `row` is costed already
    row: EstimateRow | None
    estimate: Estimate
    prepared: Prepared
    said: Changes


def prepare(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    estimate: uuid.UUID | None,
    schedule: uuid.UUID | None,
    said: Changes,
    units: str,
    now: datetime.datetime,
) -> Ready:
    """The re-quote of a quote on another schedule or estimate; NotThere, Conflict, Refused with every reason."""
    before = shown.rows_of(company).filter(pk=id).first()
    if before is None:
        raise NotThere
    if before.state not in OPEN:
        raise Conflict("quote_state", f"a quote that is {before.state.replace('_', ' ')} is not quoted anew")
    if estimate is not None:
        row = find_costed(company, estimate, "/estimate")
        if row.project_id != before.project_id:
            raise Refused([Problem("/estimate", "other_project", "this estimate is of another project than the quote")])
        told = stored(row)
        return work_out(company, before, row, None, told.job(), unpack(row.request), row.editions, said)
    revision = find_revision(company, before, schedule)
    request = new_request(company, before, revision)
    try:
        ready = prepare_request(company=company, request=request, units=units, now=now)
    except Refused as refused:
        raise explained(company, revision, refused) from None
    if ready.lines > settings.SMALL_RUN_LINES:
        detail = f"a schedule of more than {settings.SMALL_RUN_LINES} lines is estimated first; then name the estimate"
        raise Refused([Problem("/schedule", "large", detail)])
    return work_out(company, before, None, ready, ready.job, ready.request, ready.editions.ids, said)


def find_revision(company: uuid.UUID, before: Quote, named: uuid.UUID | None) -> ScheduleRevision:
    """The named schedule revision of the quote's project, the latest where none is named; Refused."""
    row = None
    if before.project_id is not None:
        rows = ScheduleRevision.objects.of(company).filter(project_id=before.project_id).defer("source", "openings")
        row = rows.order_by("-number").first() if named is None else rows.filter(pk=named).first()
    if row is None:
        raise Refused([Problem("/schedule", "not_found", "the quote's project has no such schedule; name an estimate")])
    return row


def new_request(company: uuid.UUID, before: Quote, revision: ScheduleRevision) -> dict[str, Any]:
    """What the quote's estimate was asked for, on the other schedule, under what is in force now."""
    row = EstimateRow.objects.of(company).select_related("edition").get(pk=before.estimate_id)
    request = unpack(row.request)
    if "hold" in request:
        request["edition"] = request["hold"]
    book = book_of(company, request, row)
    dropped = ("openings", "edition", "hold", "known_at", "rate_book", "project")
    kept = {name: value for name, value in request.items() if name not in dropped}
    return kept | {"schedule": str(revision.pk), "rate_book": str(book)}


def explained(company: uuid.UUID, revision: ScheduleRevision, refused: Refused) -> Refused:
    """The refusal with each open question of the schedule told by itself, and who can take each away."""
    faults = [fault for fault in refused.problems if fault.code != "questions_open"]
    if len(faults) < len(refused.problems) and revision.report is not None:
        asked = [question_of(entry) for entry in unpack(revision.report)["questions"]]
        waiting = [question for question in asked if question.open and question.severity == "blocks_costing"]
        faults += [Problem("/schedule", question.code, question.sentence) for question in waiting[:MOST_NAMED]]
        if len(waiting) > MOST_NAMED:
            more = counted(len(waiting) - MOST_NAMED, "more question")
            faults.append(Problem("/schedule", "questions_open", f"{more} must be answered"))
    return Refused([replace(fault, detail=f"{fault.detail} (estimator)") for fault in faults])


def work_out(
    company: uuid.UUID,
    before: Quote,
    row: EstimateRow | None,
    ready: PreparedRequest | None,
    job: Job,
    request: Mapping[str, Any],
    editions: list[Any],
    said_of_it: Changes,
) -> Ready:
    """The offers of the re-quote, what it assumes, what keeps it from being issued."""
    old = EstimateRow.objects.of(company).get(pk=before.estimate_id)
    old_job = stored(old).job()
    schedule = ready.schedule if ready is not None else row.schedule_id if row is not None else None
    decided: Mapping[tuple[int, int], bool] = {}
    if old.schedule_id is not None and schedule is not None and old.schedule_id != schedule:
        decided = said(decisions(company=company, before=old.schedule_id, after=schedule))
    style = length_style(company=company)
    with collector_paused():
        today = cost(job)
        held_editions = held_of(before)
        sides = held_side(company, request, schedule, held_editions, Sides(old_job.plan.request, None, job, decided))
        offers = offers_of(sides, today, held_editions, editions)
        whole = for_core(request, *openings_of(company, request, schedule))
        told = Stored(whole, stored_sources(company=company, kept=editions))
        found = assumed_by(company=company, told=told, schedule=schedule, job=job, estimate=today)
        base = assemble(today, offers, found, style)
    old_lines = shown.prepared_of(before).lines
    beside = tuple(sum(line.line is None for line in lines) for lines in (old_lines, base.lines))
    schedules = old_job.plan.request.schedule, job.plan.request.schedule
    pairs = tuple(paired(*schedules, decided, style.show, (beside[0], beside[1])))
    waiting = open_proposals(*schedules, decided)
    prepared = replace(base, pairs=pairs, blocks=[blocked(waiting)] if waiting else [])
    assert len(line_prices(today)) == len(base.lines)
    return Ready(before, ready, row, today, prepared, said_of_it)


def openings_of(company: uuid.UUID, request: Mapping[str, Any], schedule: uuid.UUID | None) -> tuple[Any, str]:
    """The opening lines of a request and the unit of their bare numbers."""
    return (request["openings"], "") if schedule is None else schedule_openings(company=company, id=schedule)


def held_of(before: Quote) -> list[Any]:
    """The editions that the quote before stands on; of a blend those of the day on which it was made."""
    offer = shown.prepared_of(before).offer(before.basis)
    assert offer is not None
    return list(offer.editions)


def held_side(
    company: uuid.UUID, request: Mapping[str, Any], schedule: uuid.UUID | None, editions: list[Any], sides: Sides
) -> Sides:  # fmt: skip
    """The same work under the editions of the quote before, or why they can't price it."""
    openings, unit = openings_of(company, request, schedule)
    questions = [schedule_questions(company=company, id=schedule)] if schedule is not None else []
    try:
        sources = stored_sources(company=company, kept=editions)
        return replace(sides, held=read_request(for_core(request, openings, unit), sources, *questions))
    except Refused as refused:
        return replace(sides, why=f"the rates of the quote before can't price it: {refused.problems[0].detail}")


def blocked(waiting: list[tuple[str, str]]) -> dict[str, str]:
    """That a person has to say whether lines are one, as a block."""
    named = ", ".join(f"{old} and {new}" for old, new in waiting[:MOST_NAMED])
    more = f" and {len(waiting) - MOST_NAMED} more" if len(waiting) > MOST_NAMED else ""
    sentence = f"say whether these marks are one opening renumbered: {named}{more}; then quote it anew"
    return {"code": "matches_open", "sentence": sentence, "who": Role.ESTIMATOR.value}


@transaction.atomic
def store(*, company: uuid.UUID, member: uuid.UUID, ready: Ready, now: datetime.datetime) -> shown.Quote:
    """The new draft, with the estimate that it stands on: both or neither."""
    row = ready.row if ready.request is None else store_estimate(company, member, ready, now)
    assert row is not None
    before = ready.before
    carried = {"customer": before.customer, "basis": TODAY} | dict(ready.said)
    if carried["basis"] != TODAY and "valid_until" not in carried:
        today = shown.today_of(company, now)
        carried["valid_until"] = max(before.valid_until, today)
    whole = ReadyDraft(row, ready.prepared, carried, before)
    return draft(company=company, member=member, ready=whole, now=now)


def store_estimate(company: uuid.UUID, member: uuid.UUID, ready: Ready, now: datetime.datetime) -> EstimateRow:
    """The estimate of a re-quote, stored as costed: its run begins and ends in this transaction."""
    assert ready.request is not None
    submitted = estimate_actions.submit(
        company=company, member=member, prepared=ready.request, at_once=True, now=now
    )  # fmt: skip
    assert submitted.claim is not None
    result = costing.costed(ready.estimate)
    queue.end(submitted.claim, "costed")
    costing.store(submitted.claim, result, now)
    return find_costed(company, submitted.id, "/schedule")
