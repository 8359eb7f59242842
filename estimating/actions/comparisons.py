"""Comparisons submitted: a run each, like estimates."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from estimating.actions.estimates import Submitted
from estimating.core.attribution import CAUSES
from estimating.models import Comparison, Estimate, Run
from estimating.queries.matches import decisions, kept
from estimating.tasks import ask_for_work
from estimating.work import queue
from rates.core.problems import Problem, Refused


@dataclass(frozen=True)
class Wanted:
    """Which two estimates are compared, and how the change is attributed."""

    before: uuid.UUID
    after: uuid.UUID
    attribution: str
    order: Sequence[str] | None
    smooth: bool


@dataclass(frozen=True)
class Prepared:
    """A comparison that can be computed, the lines of its larger side, and the decisions that it is computed with."""

    wanted: Wanted
    lines: int
    matches: Sequence[Mapping[str, Any]] = ()  # decided by people, between the schedules of the two estimates


def prepare(*, company: uuid.UUID, wanted: Wanted) -> Prepared:
    """The comparison made ready; Refused with every fault that can be seen before computing."""
    faults: list[Problem] = []
    rows = {}
    for name, id in (("before", wanted.before), ("after", wanted.after)):
        row = Estimate.objects.of(company).select_related("run").defer("request").filter(pk=id).first()
        if row is None:
            faults.append(Problem(f"/{name}", "not_found", "there is no such estimate"))
        elif row.run.state != "costed":
            faults.append(Problem(f"/{name}", "not_costed", f"this estimate is {row.run.state}, not costed"))
        else:
            rows[name] = row
    faults.extend(check_order(wanted))
    if len(rows) == 2 and rows["before"].currency != rows["after"].currency:
        faults.append(Problem("/after", "other_currency", "two currencies can't be compared"))
    if faults:
        raise Refused(faults)
    matches = decided_between(company, rows["before"].schedule_id, rows["after"].schedule_id)
    return Prepared(wanted, max(row.run.total for row in rows.values()), matches)


def decided_between(
    company: uuid.UUID, before: uuid.UUID | None, after: uuid.UUID | None
) -> Sequence[Mapping[str, Any]]:
    """What people have decided of the lines of two stored schedules so far; nothing for openings that came inline.

    The lines of such an estimate are those of its schedule, each in its place: one that can't be read is never costed.
    """
    if before is None or after is None or before == after:
        return ()
    return kept(decisions(company=company, before=before, after=after))


def check_order(wanted: Wanted) -> list[Problem]:
    """An order names every cause once, and only where the attribution goes in order."""
    if wanted.order is None:
        return []
    if wanted.attribution != "in_order":
        return [Problem("/order", "not_in_order", "an order is taken only where attribution is in_order")]
    if sorted(wanted.order) != sorted(CAUSES):
        return [Problem("/order", "incomplete_order", f"every cause stands once: {', '.join(CAUSES)}")]
    return []


@transaction.atomic
def submit(
    *, company: uuid.UUID, member: uuid.UUID, prepared: Prepared, at_once: bool, now: datetime.datetime
) -> Submitted:
    """The stored run of a comparison; with `at_once` claimed for the process that calls."""
    wanted = prepared.wanted
    run = Run(company_id=company, kind="comparison", total=1, queued_at=now)
    claim = queue.born_claimed(run) if at_once else None
    run.save(force_insert=True)
    Comparison.objects.add(
        company=company,
        run=run,
        before_id=wanted.before,
        after_id=wanted.after,
        choices={
            "attribution": wanted.attribution,
            "order": list(wanted.order) if wanted.order is not None else None,
            "smooth": wanted.smooth,
            "matches": list(prepared.matches),
        },
        made_by_id=member,
        created_at=now,
    )
    if claim is not None:
        queue.start_lease(claim)
    else:
        transaction.on_commit(ask_for_work)
    return Submitted(run.pk, claim)
