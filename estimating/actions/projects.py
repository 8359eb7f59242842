"""Projects and their opening schedules: made, renamed, revised."""

from __future__ import annotations

import datetime
import hashlib
import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from estimating.models import Project, ScheduleRevision
from estimating.queries import projects as shown
from rates.cards import book_chain
from rates.core.problems import Problem, Refused
from rates.documents import compress, pack
from rates.refusals import Expected, NotThere


@transaction.atomic
def make_project(
    *,
    company: uuid.UUID,
    name: str,
    now: datetime.datetime,
    number: str = "",
    note: str = "",
    rate_book: uuid.UUID | None = None,
    due_at: datetime.datetime | None = None,
    due_zone: str = "",
) -> shown.Project:
    """A new project; Refused for an unknown rate book, whose rates price it where a request names none."""
    refuse_unknown_book(company, rate_book)
    row = Project.objects.add(
        company=company,
        name=name,
        number=number,
        note=note,
        rate_book_id=rate_book,
        due_at=due_at,
        due_zone=due_zone,
        created_at=now,
    )
    return shown.show_project(row)


def refuse_unknown_book(company: uuid.UUID, id: uuid.UUID | None) -> None:
    """Refused where the company has no such rate book."""
    if id is not None and not book_chain(company, id):
        raise Refused([Problem("/rate_book", "not_found", "there is no such rate book")])


@transaction.atomic
def change_project(
    *, company: uuid.UUID, id: uuid.UUID, changes: Mapping[str, Any], expected: Expected
) -> shown.Project:
    """The project with another name, number, note, state, rate book or due time; NotThere, Stale, Refused."""
    row = lock_project(company, id)
    expected.check(shown.show_project(row))
    for name in ("name", "number", "note", "state", "due_at", "due_zone"):
        if name in changes:
            setattr(row, name, changes[name])
    if "rate_book" in changes:
        refuse_unknown_book(company, changes["rate_book"])
        row.rate_book_id = changes["rate_book"]
    row.version += 1
    row.save()
    return shown.show_project(row)


@transaction.atomic
def add_schedule(
    *,
    company: uuid.UUID,
    project: uuid.UUID,
    member: uuid.UUID,
    openings: Sequence[Mapping[str, Any]],
    source: bytes,
    file_name: str,
    media_type: str,
    now: datetime.datetime,
    drawing_issue: str = "",
    length_unit: str = "",
) -> shown.Schedule:
    """A new revision of the project's opening schedule, with the file as received; NotThere."""
    compressed, lines = compress(source), pack(list(openings))
    row = lock_project(company, project)
    row.last_schedule += 1
    row.save(update_fields=["last_schedule"])
    revision = ScheduleRevision.objects.add(
        company=company,
        project=row,
        number=row.last_schedule,
        drawing_issue=drawing_issue,
        file_name=file_name,
        media_type=media_type,
        line_count=len(openings),
        length_unit=length_unit,
        digest=hashlib.sha256(source).hexdigest(),
        made_by_id=member,
        created_at=now,
        source=compressed,
        openings=lines,
    )
    return shown.show_schedule(revision)


def lock_project(company: uuid.UUID, id: uuid.UUID) -> Project:
    """The project's row, held until the transaction ends; NotThere."""
    row = Project.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise NotThere
    return row
