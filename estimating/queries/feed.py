"""The feed of changes, for systems that pull."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass

from estimating.models import Change as ChangeRow
from rates.paging import Page, Wanted, read_cursor, refuse_cursor, write_cursor


@dataclass(frozen=True)
class Change:
    """One line of the feed."""

    number: int
    kind: str
    subject: uuid.UUID
    at: datetime.datetime


def changes(*, company: uuid.UUID, wanted: Wanted) -> tuple[Page[Change], str]:
    """Changes after the cursor, and the cursor to ask with next time, the last page included."""
    start = read_number(wanted.cursor)
    rows = ChangeRow.objects.of(company).filter(number__gt=start).order_by("number")[: wanted.limit + 1]
    found = [Change(row.number, row.kind, row.subject, row.at) for row in rows]
    shown, more = found[: wanted.limit], len(found) > wanted.limit
    after = write_cursor("feed", shown[-1].number if shown else start)
    return Page(tuple(shown), after if more else None), after


def read_number(cursor: str | None) -> int:
    """The last number that a cursor has seen; 0 without one."""
    if cursor is None:
        return 0
    name, number = read_cursor(cursor, 2, "after")
    if name != "feed" or not isinstance(number, int) or isinstance(number, bool) or not 0 <= number < 2**62:
        raise refuse_cursor("after")
    return number
