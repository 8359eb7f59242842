"""Who sends a request: an access key looked up by its prefix, before any company is known."""

from __future__ import annotations

import datetime
import secrets
import uuid
from dataclasses import dataclass

from django.db.models import Q

from rates import models
from rates.actions.companies import KEY_START, digest_secret

USED_EVERY = datetime.timedelta(minutes=1)


@dataclass(frozen=True)
class Caller:
    """Whoever sends a request: the company, the member behind the key, and what the key may do."""

    company: uuid.UUID
    company_name: str
    unit_system: str
    currency: str
    member: uuid.UUID
    key: uuid.UUID
    scopes: frozenset[str]


def find_caller(text: str, *, now: datetime.datetime) -> Caller | None:
    """The caller that an access key names, or None: unknown, wrong secret, expired and revoked look the same."""
    start, _, rest = text.partition("_")
    prefix, _, secret = rest.partition("_")
    row = None
    if start == KEY_START and prefix.isascii() and prefix.isalnum() and len(prefix) <= 16:
        row = models.AccessKey.anywhere.select_related("company").filter(prefix=prefix).first()
    kept = row.digest if row is not None else digest_secret("")
    if not secrets.compare_digest(kept, digest_secret(secret)) or row is None:
        return None
    if row.revoked_at is not None or (row.expires_at is not None and row.expires_at <= now):
        return None
    note_use(row, now)
    return Caller(
        company=row.company_id,
        company_name=row.company.name,
        unit_system=row.company.unit_system,
        currency=row.company.currency,
        member=row.member_id,
        key=row.pk,
        scopes=frozenset(row.scopes),
    )


def note_use(row: models.AccessKey, now: datetime.datetime) -> None:
    """Writes the time of last use, at most once a minute."""
    if row.last_used_at is not None and now - row.last_used_at < USED_EVERY:
        return
    stale = Q(last_used_at=None) | Q(last_used_at__lte=now - USED_EVERY)
    models.AccessKey.anywhere.filter(stale, pk=row.pk).update(last_used_at=now)
