"""The audit as it is shown."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass
from typing import Any

from rates import models
from rates.documents import unpack
from rates.paging import Page, Wanted, page


@dataclass(frozen=True)
class AuditEntry:
    """Who did what, when, from where, before and after."""

    id: uuid.UUID
    at: datetime.datetime
    member: uuid.UUID | None
    member_name: str | None
    key: uuid.UUID | None
    way: str
    address: str
    request: str
    action: str
    subject: uuid.UUID | None
    before: Any
    after: Any


@dataclass(frozen=True)
class Filter:
    """Which entries are asked for."""

    member: uuid.UUID | None = None
    subject: uuid.UUID | None = None
    action: str | None = None
    since: datetime.datetime | None = None
    until: datetime.datetime | None = None


def show_entry(row: models.AuditEntry) -> AuditEntry:
    """An entry's row as shown."""
    return AuditEntry(
        id=row.id,
        at=row.at,
        member=row.member_id,
        member_name=(row.member.name or None) if row.member is not None else None,
        key=row.key,
        way=row.way,
        address=row.address,
        request=row.request,
        action=row.action,
        subject=row.subject,
        before=unpack(row.before) if row.before is not None else None,
        after=unpack(row.after) if row.after is not None else None,
    )


def actions_done(*, company: uuid.UUID) -> tuple[str, ...]:
    """The operations that the company's audit has an entry of, by name."""
    found = models.AuditEntry.objects.of(company).order_by("action").values_list("action", flat=True)
    return tuple(found.distinct())


def entries(*, company: uuid.UUID, wanted: Wanted, filter: Filter) -> Page[AuditEntry]:
    """The company's audit, oldest first unless told."""
    rows = models.AuditEntry.objects.of(company).select_related("member")
    chosen: dict[str, Any] = {"member_id": filter.member, "subject": filter.subject, "action": filter.action}
    chosen |= {"at__gte": filter.since, "at__lt": filter.until}
    rows = rows.filter(**{name: value for name, value in chosen.items() if value is not None})
    return page(rows, wanted, orderings={"at": "id"}, show=show_entry)
