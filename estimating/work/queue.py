"""Runs claimed, kept alive, given back and ended: every step one conditional UPDATE on the run's row.

All times of leases are the database's: clocks of workers may differ.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable
from dataclasses import dataclass

from django.conf import settings
from django.db.models import Count, F, Min, Q, QuerySet
from django.db.models.functions import Now

from estimating.models import Run
from rates.look_up import first_row

OPEN = ("queued", "working")


@dataclass(frozen=True)
class Claim:
    """The right to finish a run, for as long as its attempt number stands."""

    run: uuid.UUID
    company: uuid.UUID
    kind: str
    attempt: int


def lease() -> datetime.timedelta:
    """How long a claim holds without a heartbeat."""
    return datetime.timedelta(seconds=settings.RUN_LEASE_SECONDS)


ANY_QUEUED = "SELECT 1 FROM estimating_run WHERE state = 'queued' LIMIT 1"


def claim_next() -> Claim | None:
    """The next run, claimed: of the company with the fewest runs at work, the longest waiting; None when idle.

    A worker asks many times a second and mostly in vain, so it is first asked whether anything waits at all.
    """
    if first_row(ANY_QUEUED) is None:
        return None
    while True:
        rows = (
            Run.objects.filter(state__in=OPEN)
            .values("company")
            .annotate(working=Count("id", filter=Q(state="working")), first=Min("queued_at", filter=Q(state="queued")))
            .filter(first__isnull=False)
            .order_by("working", "first")
        )
        turn = rows.first()
        if turn is None:
            return None
        waiting = Run.objects.filter(state="queued", company=turn["company"]).order_by("queued_at", "id")
        for run in waiting[:8]:
            claim = take(run)
            if claim is not None:
                return claim


def take(run: Run) -> Claim | None:
    """The claim on a queued run, or None where another worker was faster. Counts the attempt before it begins."""
    changed = Run.objects.filter(pk=run.pk, state="queued", attempt=run.attempt).update(
        state="working", attempt=F("attempt") + 1, lease_until=Now() + lease(), done=0, step=""
    )
    return Claim(run.pk, run.company_id, run.kind, run.attempt + 1) if changed else None


def born_claimed(run: Run) -> Claim:
    """The claim of the process that submits a run and works on it at once; to be stored with the run."""
    run.state, run.attempt, run.lease_until = "working", 1, None
    return Claim(run.pk, run.company_id, run.kind, 1)


def start_lease(claim: Claim) -> None:
    """Sets the first lease of a run born claimed, in the transaction that stores it."""
    mine(claim).update(lease_until=Now() + lease())


def mine(claim: Claim) -> QuerySet[Run]:
    """The run's row while the claim stands: at work, and the attempt still ours."""
    rows = Run.objects.filter(pk=claim.run, state="working")
    return rows.filter(attempt=claim.attempt) if settings.RUN_FENCE else Run.objects.filter(pk=claim.run)


def beat(claim: Claim, done: int, total: int, step: str) -> bool:
    """Extends the lease and shows progress; False when the run is no longer ours."""
    changed = mine(claim).update(lease_until=Now() + lease(), done=done, total=total, step=step[:60])
    return bool(changed)


def end(claim: Claim, state: str, *, reason: str = "") -> bool:
    """Ends the run where it is still ours; False when its result must be thrown away."""
    changed = mine(claim).update(
        state=state, reason=reason, lease_until=None, finished_at=Now(), step="", done=F("total")
    )
    return bool(changed)


def give_back(claim: Claim, reason: str) -> str:
    """The run's new state after a fault of ours: queued again, or failed when its attempts are used up."""
    last = claim.attempt >= settings.RUN_ATTEMPTS
    if last:
        return "failed" if end(claim, "failed", reason=reason) else "lost"
    return "queued" if mine(claim).update(state="queued", lease_until=None, step="", done=0) else "lost"


def sweep() -> tuple[int, int]:
    """How many expired runs were queued again, and how many given up because their workers keep dying."""
    expired = Run.objects.filter(state="working", lease_until__lt=Now())
    hopeless = Q(kills__gte=settings.RUN_KILLS - 1) | Q(attempt__gte=settings.RUN_ATTEMPTS)
    failed = expired.filter(hopeless).update(
        state="failed", kills=F("kills") + 1, reason="worker_died", lease_until=None, finished_at=Now(), step=""
    )
    queued = expired.update(state="queued", kills=F("kills") + 1, lease_until=None, step="", done=0)
    return queued, failed


def cancel(ids: Iterable[uuid.UUID]) -> int:
    """How many of these runs were stopped: whoever works on one finds its claim gone."""
    return Run.objects.filter(pk__in=list(ids), state__in=OPEN).update(
        state="cancelled", lease_until=None, finished_at=Now(), step=""
    )
