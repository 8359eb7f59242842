"""Proposed matches between two revisions of a schedule confirmed or rejected by a person; what was said last counts."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction

from estimating.actions.projects import lock_project
from estimating.intake.matches import Saying, faults_of
from estimating.intake.revisions import Lines, Pair, proposals, read_revision
from estimating.models import LineMatch, ScheduleRevision
from estimating.queries import matches as shown
from estimating.queries.intake import find
from rates.core.problems import Problem, Refused
from rates.documents import unpack
from rates.refusals import Expected

MOST_PAIRS = 2_000
ROWS = 500  # written at once


@dataclass(frozen=True)
class Ready:
    """Decisions that hold against two revisions, which never change."""

    before: ScheduleRevision
    after: ScheduleRevision
    pairs: tuple[Saying, ...]
    proposals: tuple[Pair, ...]


def lines_of(row: ScheduleRevision) -> Lines:
    """The lines of a revision."""
    return read_revision(list(unpack(row.openings)), row.length_unit)


def prepare(*, company: uuid.UUID, id: uuid.UUID, since: uuid.UUID, pairs: Sequence[Saying]) -> Ready:
    """Decisions read against the revisions they are about; NotThere, Refused with every fault."""
    after = find(company, id)
    before = ScheduleRevision.objects.of(company).filter(pk=since).defer("source").first()
    faults = []
    if before is None or before.project_id != after.project_id:
        before = None
        faults.append(Problem("/from", "not_found", "this project has no such revision"))
    elif before.number >= after.number:
        detail = f"revision {before.number} is not earlier than revision {after.number}"
        before = None
        faults.append(Problem("/from", "not_earlier", detail))
    old, new = lines_of(before) if before is not None else None, lines_of(after)
    faults += faults_of(pairs, old, new)
    if before is None or old is None or faults:
        raise Refused(faults)
    return Ready(before, after, tuple(pairs), proposals(old, new))


@transaction.atomic
def decide(
    *, company: uuid.UUID, member: uuid.UUID, ready: Ready, expected: Expected, now: datetime.datetime
) -> tuple[shown.Matches, shown.Audited]:
    """All proposals of the two revisions as they are now, and for the audit those that this was about."""
    before, after = ready.before.pk, ready.after.pk
    lock_project(company, ready.after.project_id)
    expected.check(told(ready, shown.decisions(company=company, before=before, after=after)))
    write(company, member, ready, now)
    decided = shown.decisions(company=company, before=before, after=after)
    return shown.Matches(before, after, shown.show_proposals(ready.proposals, decided)), told(ready, decided)


def told(ready: Ready, decided: shown.Decisions) -> shown.Audited:
    """The proposals that are decided here, as the audit keeps them."""
    about = {(pair.before, pair.after) for pair in ready.pairs}
    pairs = [pair for pair in ready.proposals if (pair.before, pair.after) in about]
    return shown.audited(ready.before.pk, shown.show_proposals(pairs, decided))


def write(company: uuid.UUID, member: uuid.UUID, ready: Ready, now: datetime.datetime) -> None:
    """Stores what was said; of lines that were decided before, the newest stays."""
    rows = LineMatch.objects.of(company).filter(before=ready.before, after=ready.after)
    known = {(row.line_before, row.line_after): row for row in rows}
    new, changed = [], []
    for pair in ready.pairs:
        row = known.get((pair.before, pair.after))
        if row is None:
            row = LineMatch(company_id=company, before=ready.before, after=ready.after,
                            line_before=pair.before, line_after=pair.after)  # fmt: skip
            new.append(row)
        else:
            changed.append(row)
        row.same, row.decided_by_id, row.decided_at = pair.same, member, now
    LineMatch.objects.of(company).bulk_create(new, batch_size=ROWS)
    LineMatch.objects.of(company).bulk_update(changed, ["same", "decided_by", "decided_at"], batch_size=ROWS)
