"""Projects and their opening schedules, as they are shown."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass
from typing import Any

from estimating.models import Project as ProjectRow
from estimating.models import ScheduleRevision
from rates.documents import decompress, unpack
from rates.paging import Page, Wanted, page, read_cursor, refuse_cursor, write_cursor
from rates.refusals import NotThere


@dataclass(frozen=True)
class Project:
    """One building or package of work being bid."""

    id: uuid.UUID
    name: str
    number: str
    note: str
    rate_book: uuid.UUID | None
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
    return Project(row.id, row.name, row.number, row.note, row.rate_book_id, row.created_at, row.version)


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


def projects(*, company: uuid.UUID, wanted: Wanted) -> Page[Project]:
    """The company's projects."""
    orderings = {"created_at": "id", "name": "name", "number": "number"}
    return page(ProjectRow.objects.of(company), wanted, orderings=orderings, show=show_project)


def project(*, company: uuid.UUID, id: uuid.UUID) -> Project:
    """One project; NotThere."""
    row = ProjectRow.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_project(row)


def schedules(*, company: uuid.UUID, project: uuid.UUID, wanted: Wanted) -> Page[Schedule]:
    """The schedule revisions of a project; NotThere."""
    if not ProjectRow.objects.of(company).filter(pk=project).exists():
        raise NotThere
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
