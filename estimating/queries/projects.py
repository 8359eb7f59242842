"""Projects and their opening schedules, as they are shown."""

from __future__ import annotations

import datetime
import re
import uuid
from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from django.db.models import Q, QuerySet

from estimating.models import Project as ProjectRow
from estimating.models import ScheduleRevision
from estimating.states import ProjectState
from rates.documents import decompress, unpack
from rates.paging import Page, Wanted, page, read_cursor, refuse_cursor, write_cursor
from rates.refusals import NotThere

ORDERINGS = {"created_at": "id", "name": "name", "number": "number"}
MOST_WORDS = 8


@dataclass(frozen=True)
class Project:
    """One building or package of work being bid."""

    id: uuid.UUID
    name: str
    number: str
    note: str
    state: str
    rate_book: uuid.UUID | None
    due_at: datetime.datetime | None  # when the bid has to be in
    due_zone: str  # in whose hours people are told; blank: the company's
    created_at: datetime.datetime
    version: int

    @property
    def tag(self) -> str:
        return f"{self.id.hex}-{self.version}"


@dataclass(frozen=True)
class Schedule:
    """One revision of a project's opening schedule, without its lines."""

    id: uuid.UUID
    project: uuid.UUID
    revision: int
    drawing_issue: str
    file_name: str
    media_type: str
    lines: int
    length_unit: str
    digest: str
    format: str
    questions: dict[str, int]  # open ones by severity, and what there is to know
    answers_of: uuid.UUID | None
    made_by: uuid.UUID
    created_at: datetime.datetime

    @property
    def tag(self) -> str:
        return self.id.hex


@dataclass(frozen=True)
class SourceFile:
    """A schedule's file as received."""

    name: str
    media_type: str
    digest: str
    content: bytes


def show_project(row: ProjectRow) -> Project:
    """A project's row as shown."""
    return Project(
        id=row.id,
        name=row.name,
        number=row.number,
        note=row.note,
        state=row.state,
        rate_book=row.rate_book_id,
        due_at=row.due_at,
        due_zone=row.due_zone,
        created_at=row.created_at,
        version=row.version,
    )


def show_schedule(row: ScheduleRevision) -> Schedule:
    """A schedule's row as shown."""
    return Schedule(
        id=row.id,
        project=row.project_id,
        revision=row.number,
        drawing_issue=row.drawing_issue,
        file_name=row.file_name,
        media_type=row.media_type,
        lines=row.line_count,
        length_unit=row.length_unit,
        digest=row.digest,
        format=row.format,
        questions={
            "blocks_costing": row.blocks_costing,
            "blocks_issue": row.blocks_issue,
            "to_know": row.to_know,
        },
        answers_of=row.answers_of_id,
        made_by=row.made_by_id,
        created_at=row.created_at,
    )


def projects(
    *, company: uuid.UUID, wanted: Wanted, search: str | None = None, state: str | None = ProjectState.OPEN
) -> Page[Project]:
    """The company's projects in a state, or in any for None, each with every word of `search` in name or number."""
    rows = ProjectRow.objects.of(company)
    if state is not None:
        rows = rows.filter(state=state)
    return page(with_words(rows, search or ""), wanted, orderings=ORDERINGS, show=show_project)


def with_words(rows: QuerySet[ProjectRow], search: str) -> QuerySet[ProjectRow]:
    """Projects with each of the first words in name or number, in any case."""
    for word in search.split()[:MOST_WORDS]:
        found = re.escape(word)  # by pattern, for SQLite compares without regard to case in ASCII alone
        rows = rows.filter(Q(name__iregex=found) | Q(number__iregex=found))
    return rows


def project(*, company: uuid.UUID, id: uuid.UUID) -> Project:
    """One project; NotThere."""
    row = ProjectRow.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_project(row)


def require_project(*, company: uuid.UUID, id: uuid.UUID) -> None:
    """NotThere unless the company has the project."""
    if not ProjectRow.objects.of(company).filter(pk=id).exists():
        raise NotThere


def schedules(*, company: uuid.UUID, project: uuid.UUID, wanted: Wanted) -> Page[Schedule]:
    """The schedule revisions of a project; NotThere."""
    require_project(company=company, id=project)
    rows = ScheduleRevision.objects.of(company).filter(project_id=project).defer("source", "openings", "report")
    return page(rows, wanted, orderings={"revision": "number", "created_at": "id"}, show=show_schedule)


def schedule(*, company: uuid.UUID, id: uuid.UUID) -> Schedule:
    """One schedule revision; NotThere."""
    row = ScheduleRevision.objects.of(company).filter(pk=id).defer("source", "openings", "report").first()
    if row is None:
        raise NotThere
    return show_schedule(row)


def openings(*, company: uuid.UUID, id: uuid.UUID, wanted: Wanted) -> Page[Any]:
    """The opening lines of a schedule as received, in their order; NotThere."""
    body = ScheduleRevision.objects.of(company).filter(pk=id).values_list("openings", flat=True).first()
    if body is None:
        raise NotThere
    return cut(list(unpack(body)), wanted)


def cut(items: list[Any], wanted: Wanted) -> Page[Any]:
    """A page of a list that never changes; its cursor is a place in the list."""
    start = read_place(wanted.cursor)
    shown = items[start : start + wanted.limit]
    more = len(items) > start + wanted.limit
    return Page(tuple(shown), write_cursor(start + wanted.limit) if more else None)


def read_place(cursor: str | None) -> int:
    """The place in a list that a cursor names; 0 without one."""
    if cursor is None:
        return 0
    (place,) = read_cursor(cursor, 1)
    if not isinstance(place, int) or isinstance(place, bool) or not 0 <= place < 10**9:
        raise refuse_cursor()
    return place


def source_file(*, company: uuid.UUID, id: uuid.UUID) -> SourceFile:
    """The file of a schedule, byte for byte; NotThere."""
    row = ScheduleRevision.objects.of(company).filter(pk=id).defer("openings", "report").first()
    if row is None:
        raise NotThere
    return SourceFile(row.file_name, row.media_type, row.digest, decompress(row.source))


def project_names(*, company: uuid.UUID, ids: Collection[uuid.UUID]) -> dict[uuid.UUID, str]:
    """The names of projects by their ids; of those that there are."""
    return dict(ProjectRow.objects.of(company).filter(pk__in=ids).values_list("id", "name"))
