"""Opening marks looked for in the newest schedule of each project."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import F

from estimating.core.schedule_lines import mark_key
from estimating.models import ScheduleRevision
from rates.documents import unpack

MOST_PROJECTS, MOST_LINES, MOST_FOUND = 100, 20_000, 50


@dataclass(frozen=True)
class FoundMark:
    """A line with a mark that was looked for."""

    project: uuid.UUID
    project_name: str
    schedule: uuid.UUID
    revision: int
    line: int
    mark: str
    quantity: object
    place: str


def find_marks(*, company: uuid.UUID, words: str) -> list[FoundMark]:
    """Lines whose mark begins with the words, in the newest schedules of the newest projects; at most so many."""
    wanted = mark_key(" ".join(words.split()))
    if not wanted:
        return []
    rows = ScheduleRevision.objects.of(company).filter(number=F("project__last_schedule"), line_count__lte=MOST_LINES)
    newest = rows.select_related("project").defer("source", "report").order_by("-id")[:MOST_PROJECTS]
    found: list[FoundMark] = []
    for row in newest:
        found += lines_with(row, wanted)
        if len(found) >= MOST_FOUND:
            break
    return found[:MOST_FOUND]


def lines_with(row: ScheduleRevision, wanted: str) -> Iterable[FoundMark]:
    """The lines of a revision whose mark begins so."""
    lines: list[Mapping[str, Any]] = list(unpack(row.openings))
    for index, line in enumerate(lines):
        mark = str(line.get("mark", ""))
        if mark_key(mark).startswith(wanted):
            place = ", ".join(str(line[name]) for name in ("elevation", "storey") if line.get(name))
            quantity = line.get("quantity")
            yield FoundMark(row.project_id, row.project.name, row.pk, row.number, index, mark, quantity, place)
