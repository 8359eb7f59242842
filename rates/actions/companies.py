"""Companies, their people and access keys: made, changed, revoked."""

from __future__ import annotations

import datetime
import hashlib
import secrets
import uuid
from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from rates import models
from rates.core.problems import Problem, Refused
from rates.queries import companies as shown
from rates.refusals import Expected, NotThere

SCOPES = {
    "read": "see projects, schedules, estimates and comparisons",
    "rates.read": "see rate books and editions",
    "estimate": "make projects, schedules, estimates and comparisons, and cancel runs",
    "rates.draft": "make rate books, draft and submit editions",
    "rates.approve": "approve, send back and withdraw editions",
    "company": "change the company and give out access keys",
}
KEY_START = "sw"


@dataclass(frozen=True)
class NewKey:
    """An access key as it is shown once, at its making."""

    key: shown.AccessKey
    secret: str


def digest_secret(secret: str) -> str:
    """SHA-256 in hexadecimal: enough for a secret of 192 random bits, and cheap on every request."""
    return hashlib.sha256(secret.encode()).hexdigest()


@transaction.atomic
def make_company(
    *, name: str, currency: str, now: datetime.datetime, unit_system: str = "imperial", invented: bool = False
) -> uuid.UUID:
    """The id of a new company."""
    row = models.Company(name=name, currency=currency, unit_system=unit_system, invented=invented, created_at=now)
    row.save(force_insert=True)
    return row.pk


@transaction.atomic
def make_member(*, company: uuid.UUID, name: str, now: datetime.datetime) -> uuid.UUID:
    """The id of a new member of the company: a new person."""
    person = models.Person(name=name, created_at=now)
    person.save(force_insert=True)
    return models.Member.objects.add(company=company, person=person, created_at=now).pk


@transaction.atomic
def change_company(
    *, company: uuid.UUID, changes: Mapping[str, Any], expected: Expected, now: datetime.datetime
) -> shown.Company:
    """The company after its name or a setting changed; editions that stand keep what they state."""
    row = models.Company.objects.select_for_update().get(pk=company)
    expected.check(shown.show_company(row))
    for name in ("name", "currency", "unit_system", "rounding", "sales_tax_by", "cost_codes"):
        if name in changes:
            setattr(row, name, changes[name])
    row.version += 1
    row.save()
    return shown.show_company(row)


@transaction.atomic
def make_key(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    title: str,
    scopes: Sequence[str],
    now: datetime.datetime,
    expires_at: datetime.datetime | None = None,
) -> NewKey:
    """A new access key of a member, with the text that is shown this once."""
    prefix, secret = secrets.token_hex(5), secrets.token_urlsafe(24)
    row = models.AccessKey.objects.add(
        company=company,
        member_id=member,
        title=title,
        prefix=prefix,
        digest=digest_secret(secret),
        scopes=sorted(set(scopes)),
        expires_at=expires_at,
        created_at=now,
    )
    return NewKey(shown.show_key(row), f"{KEY_START}_{prefix}_{secret}")


def give_key(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    title: str,
    scopes: Sequence[str],
    within: Container[str],
    now: datetime.datetime,
    expires_at: datetime.datetime | None = None,
) -> NewKey:
    """A new key given out by the holder of another; Refused for scopes outside `within` and an end in the past."""
    faults = [
        Problem(f"/scopes/{place}", "more_than_own", "a key gives out no scope that it lacks itself")
        for place, scope in enumerate(scopes)
        if scope not in within
    ]
    if expires_at is not None and expires_at <= now:
        faults.append(Problem("/expires_at", "in_the_past", "the key would have ended already"))
    if faults:
        raise Refused(faults)
    return make_key(company=company, member=member, title=title, scopes=scopes, now=now, expires_at=expires_at)


@transaction.atomic
def revoke_key(*, company: uuid.UUID, id: uuid.UUID, expected: Expected, now: datetime.datetime) -> shown.AccessKey:
    """The key, refused from the next request on; NotThere, Stale. Revoking twice changes nothing."""
    row = models.AccessKey.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise NotThere
    expected.check_start(shown.show_key(row))
    if row.revoked_at is None:
        row.revoked_at = now
        row.version += 1
        row.save(update_fields=["revoked_at", "version"])
    return shown.show_key(row)
