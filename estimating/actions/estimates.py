"""Estimates submitted and cancelled. A submitted estimate is a run: one row in one transaction, worked on after it."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass

from django.conf import settings
from django.db import transaction

from estimating.actions.preparation import Prepared
from estimating.actions.projects import lock_project
from estimating.models import Estimate, Run
from estimating.queries import estimates as shown
from estimating.tasks import ask_for_work
from estimating.work import queue
from estimating.work.queue import Claim
from rates.core.problems import Problem, Refused
from rates.documents import pack
from rates.refusals import Conflict, NotThere


@dataclass(frozen=True)
class Submitted:
    """A stored run; `claim` where this process is to work on it at once."""

    id: uuid.UUID
    claim: Claim | None


def refuse_long_queue(company: uuid.UUID) -> None:
    """Refused where the company already has as many open runs as one company may have."""
    if Run.objects.filter(company=company, state__in=queue.OPEN).count() >= settings.MOST_OPEN_RUNS:
        raise Refused([Problem("", "queue_full", "too many estimates of this company wait; try again later")])


@transaction.atomic
def submit(
    *, company: uuid.UUID, member: uuid.UUID, prepared: Prepared, at_once: bool, now: datetime.datetime
) -> Submitted:
    """The stored run of a prepared request; with `at_once` claimed for the process that calls."""
    run = Run(company_id=company, kind="estimate", total=prepared.lines, queued_at=now)
    claim = queue.born_claimed(run) if at_once else None
    number = None
    if prepared.project is not None:
        project = lock_project(company, prepared.project)
        project.last_estimate = number = project.last_estimate + 1
        project.save(update_fields=["last_estimate"])
    run.save(force_insert=True)
    Estimate.objects.add(
        company=company,
        run=run,
        project_id=prepared.project,
        number=number,
        schedule_id=prepared.schedule,
        edition_id=prepared.editions.main.id,
        editions=prepared.editions.ids,
        work_date=prepared.work_date,
        known_at=prepared.known_at,
        currency=prepared.editions.main.currency,
        made_by_id=member,
        created_at=now,
        request=pack(prepared.request),
    )
    if claim is not None:
        queue.start_lease(claim)
    else:
        transaction.on_commit(ask_for_work)
    return Submitted(run.pk, claim)


@transaction.atomic
def cancel(*, company: uuid.UUID, id: uuid.UUID) -> shown.Estimate:
    """The estimate, its run cancelled; NotThere, Conflict once it has ended. Cancelling twice changes nothing."""
    if not Estimate.objects.of(company).filter(pk=id).exists():
        raise NotThere
    if not queue.cancel([id]):
        state = shown.state(company=company, id=id)
        if state != "cancelled":
            raise Conflict("run_ended", f"this estimate is {state} and stays so")
    return shown.estimate(company=company, id=id)
