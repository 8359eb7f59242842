"""Entries of schedules: files received, answered and edited, proposed matches decided."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from typing import Any

from estimating.intake.report import edits_of, kept_of
from estimating.models import LineMatch, ScheduleRevision
from estimating.queries.history.entries import HistoryEntry, Kind
from rates.core.texts import counted
from rates.documents import unpack


def schedules(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """Every revision of the opening schedule, of a new file or of answers and edits to the one before."""
    rows = ScheduleRevision.objects.of(company).filter(project_id=project).select_related("made_by")
    for row in rows.defer("source", "openings", "report").order_by("number"):
        step, what, why = "received", f"{row.file_name}: {counted(row.line_count, 'line')}", ""
        if row.answers_of_id is not None:
            step = "answered"
            what, why = tell_answers(read_report(row), row.created_at)
        yield HistoryEntry(
            at=row.created_at,
            kind=Kind.SCHEDULE,
            step=step,
            subject=row.pk,
            number=row.number,
            what=what,
            who=row.made_by_id,
            who_name=row.made_by.name,
            why=why,
            drawing_issue=row.drawing_issue,
            digest=row.digest,
        )


def read_report(row: ScheduleRevision) -> Mapping[str, Any]:
    """The report of a revision; the large ones are read for revisions of answers alone."""
    return unpack(row.report) if row.report is not None else {}


def tell_answers(report: Mapping[str, Any], at: datetime.datetime) -> tuple[str, str]:
    """What was answered and edited at a time, and the reasons that were given."""
    answers = {(kept.answer, kept.rule) for kept in kept_of(report).values() if is_at(kept.at, at)} if report else set()
    edits = [edit for edit in edits_of(report) if is_at(edit.at, at)]
    told = [counted(len(found), noun) for found, noun in ((answers, "answer"), (edits, "edit")) if found]
    return ", ".join(told) or "answers taken back", "; ".join(dict.fromkeys(edit.reason for edit in edits))


def is_at(text: str, moment: datetime.datetime) -> bool:
    """Whether a kept time is that of the revision."""
    try:
        return bool(text) and datetime.datetime.fromisoformat(text) == moment
    except (ValueError, TypeError):
        return False


def matches(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """Decisions about proposed matches, those of one request as one."""
    rows = LineMatch.objects.of(company).filter(after__project_id=project).select_related("decided_by", "after")
    ordered = rows.defer("after__source", "after__openings", "after__report").order_by("decided_at", "after_id", "pk")
    for (at, revision), found in groupby(ordered, key=lambda row: (row.decided_at, row.after_id)):
        yield tell_matches(at, revision, list(found))


def tell_matches(at: datetime.datetime, revision: uuid.UUID, rows: Iterable[LineMatch]) -> HistoryEntry:
    """The decisions of one time."""
    first, *rest = rows
    same = sum(row.same for row in (first, *rest))
    told = f"{same} confirmed, {1 + len(rest) - same} rejected"
    return HistoryEntry(
        at=at,
        kind=Kind.MATCHES,
        step="decided",
        subject=revision,
        number=first.after.number,
        what=told,
        who=first.decided_by_id,
        who_name=first.decided_by.name,
        drawing_issue=first.after.drawing_issue,
    )
