"""Who sends a request: an access key looked up by its prefix, before any company is known."""

from __future__ import annotations

import datetime
import secrets
import uuid
from dataclasses import dataclass
from typing import Any

import orjson
from django.db import connection
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


# Written out, because it stands before every request: made by the ORM anew each time it takes longer than to run.
LOOK_UP = """
SELECT k.digest, k.revoked_at IS NULL AND (k.expires_at IS NULL OR k.expires_at > %s),
       k.last_used_at IS NULL OR k.last_used_at <= %s, k.company_id, k.member_id, k.id, k.scopes,
       c.name, c.unit_system, c.currency
FROM rates_accesskey k JOIN rates_company c ON c.id = k.company_id WHERE k.prefix = %s
"""


def find_caller(text: str, *, now: datetime.datetime) -> Caller | None:
    """The caller that an access key names, or None: unknown, wrong secret, expired and revoked look the same."""
    start, _, rest = text.partition("_")
    prefix, _, secret = rest.partition("_")
    row = None
    if start == KEY_START and prefix.isascii() and prefix.isalnum() and len(prefix) <= 16:
        row = read_row(prefix, now)
    kept = row[0] if row is not None else digest_secret("")
    if not secrets.compare_digest(kept, digest_secret(secret)) or row is None:
        return None
    _, valid, unused, company, member, key, scopes, name, unit_system, currency = row
    if not valid:
        return None
    if unused:
        note_use(as_id(key), now)
    allowed = orjson.loads(scopes) if isinstance(scopes, str) else scopes
    return Caller(as_id(company), name, unit_system, currency, as_id(member), as_id(key), frozenset(allowed))


def read_row(prefix: str, now: datetime.datetime) -> tuple[Any, ...] | None:
    """What is known of the key with this prefix."""
    adapt = connection.ops.adapt_datetimefield_value
    with connection.cursor() as cursor:
        cursor.execute(LOOK_UP, [adapt(now), adapt(now - USED_EVERY), prefix])
        return cursor.fetchone()


def as_id(value: uuid.UUID | str) -> uuid.UUID:
    """An id as PostgreSQL (UUID) or SQLite (text) gives it."""
    return value if isinstance(value, uuid.UUID) else uuid.UUID(value)


def note_use(key: uuid.UUID, now: datetime.datetime) -> None:
    """Writes the time of last use, at most once a minute."""
    stale = Q(last_used_at=None) | Q(last_used_at__lte=now - USED_EVERY)
    models.AccessKey.anywhere.filter(stale, pk=key).update(last_used_at=now)
