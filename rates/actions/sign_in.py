"""Who sends a request: an access key looked up by its prefix, or a member in whose name a session runs.

Both look at the member's row with every request, so that a removal or another role holds from the next one on.
"""

from __future__ import annotations

import datetime
import logging
import secrets
import uuid
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import orjson
from django.db import DatabaseError, transaction
from django.db.models import Q

from rates import models
from rates.actions.companies import KEY_START, digest_secret
from rates.look_up import first_row
from rates.roles import scopes_of

log = logging.getLogger(__name__)
USED_EVERY = datetime.timedelta(minutes=1)


@dataclass(frozen=True)
class Caller:
    """Whoever sends a request: the company, the member, what may be done; `key` where an access key was used."""

    company: uuid.UUID
    company_name: str
    unit_system: str
    currency: str
    time_zone: str
    member: uuid.UUID
    name: str
    role: str
    key: uuid.UUID | None
    scopes: frozenset[str]

    @property
    def owner(self) -> uuid.UUID:
        """Whose Idempotency-Keys and requests are counted together."""
        return self.key or self.member


@dataclass(frozen=True)
class Key:
    """An access key as its row says: who sends requests by it, the digest of its secret, whether it still holds."""

    caller: Caller
    digest: str
    last_used_at: datetime.datetime | None
    expires_at: datetime.datetime | None
    kept: bool  # neither revoked nor its member removed

    def holds_at(self, now: datetime.datetime) -> bool:
        """Whether it lets anybody in at that time."""
        return self.kept and (self.expires_at is None or self.expires_at > now)


OF_MEMBER = "c.id, c.name, c.unit_system, c.currency, c.time_zone, m.id, m.name, m.role"
LOOK_UP = f"""
SELECT {OF_MEMBER}, k.digest, k.id, k.scopes, k.last_used_at, k.expires_at,
       k.revoked_at IS NULL AND m.removed_at IS NULL
FROM rates_accesskey k JOIN rates_member m ON m.id = k.member_id AND m.company_id = k.company_id
JOIN rates_company c ON c.id = k.company_id WHERE k.prefix = %s
"""
MEMBER_LOOK_UP = f"""
SELECT {OF_MEMBER}, p.password FROM rates_member m JOIN rates_person p ON p.id = m.person_id
JOIN rates_company c ON c.id = m.company_id
WHERE m.person_id = %s AND m.company_id = %s AND m.removed_at IS NULL AND m.joined_at IS NOT NULL
"""


def find_caller(text: str, *, now: datetime.datetime) -> Caller | None:
    """The caller that an access key names, or None: unknown, wrong secret, expired and revoked look the same."""
    start, _, rest = text.partition("_")
    prefix, _, secret = rest.partition("_")
    row = None
    if start == KEY_START and prefix.isascii() and prefix.isalnum() and len(prefix) <= 16:
        row = first_row(LOOK_UP, prefix)
    found = read_key(row) if row is not None else None
    kept = found.digest if found is not None else digest_secret("")
    if not secrets.compare_digest(kept, digest_secret(secret)) or found is None or not found.holds_at(now):
        return None
    if found.last_used_at is None or found.last_used_at <= now - USED_EVERY:
        note_use(found.caller.owner, now)
    return found.caller


def find_member(*, person: uuid.UUID, company: uuid.UUID, stamp: str) -> Caller | None:
    """The caller of a session, or None: no member any more, or the password has changed since."""
    row = first_row(MEMBER_LOOK_UP, person, company)
    if row is None or not secrets.compare_digest(stamp_of(row[8]), stamp):
        return None
    return make_caller(row[:8], None, None)


@lru_cache(maxsize=1024)
def read_key(row: tuple[Any, ...]) -> Key:
    """What a row of the look-up says. The row is read with every request; the same row says the same again."""
    *member, digest, key, scopes, last_used_at, expires_at, kept = row
    caller = make_caller(member, as_id(key), orjson.loads(scopes))
    return Key(caller, digest, as_moment(last_used_at), as_moment(expires_at), bool(kept))


def make_caller(member: Any, key: uuid.UUID | None, scopes: Any) -> Caller:
    """The caller of a looked-up row: what the role gives, of a key only what it has of that."""
    company, company_name, unit_system, currency, time_zone, id, name, role = member
    given = scopes_of(role)
    allowed = given if scopes is None else given & frozenset(scopes)
    return Caller(as_id(company), company_name, unit_system, currency, time_zone, as_id(id), name, role, key, allowed)


def stamp_of(password: str) -> str:
    """What a session keeps of the hashed password: with another one it ends."""
    return digest_secret(password)[:32]


def as_id(value: uuid.UUID | str) -> uuid.UUID:
    """An id as PostgreSQL (UUID) or SQLite (text) gives it."""
    return value if isinstance(value, uuid.UUID) else uuid.UUID(value)


def as_moment(value: datetime.datetime | None) -> datetime.datetime | None:
    """A time as PostgreSQL (with its zone) or SQLite (UTC, without) gives it."""
    return value.replace(tzinfo=datetime.UTC) if value is not None and value.tzinfo is None else value


def note_use(key: uuid.UUID, now: datetime.datetime) -> None:
    """Writes the time of last use, at most once a minute; what is read is read also where nothing can be written."""
    stale = Q(last_used_at=None) | Q(last_used_at__lte=now - USED_EVERY)
    try:
        with transaction.atomic():
            models.AccessKey.anywhere.filter(stale, pk=key).update(last_used_at=now)
    except DatabaseError:
        log.warning("the time of last use of an access key was not kept")
