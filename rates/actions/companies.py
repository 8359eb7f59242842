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
from rates.core.length_styles import STYLE_OF_UNITS
from rates.core.problems import Problem, Refused
from rates.queries import companies as shown
from rates.refusals import Expected, NotThere
from rates.roles import Role

KEY_START = "sw"
LONGEST_OVERLAP = datetime.timedelta(days=30)
SETTINGS = (
    "name", "currency", "unit_system", "rounding", "sales_tax_by", "cost_codes", "time_zone", "length_style",
    "length_denominator", "discount_limit", "estimator_discount_limit", "margin_floor", "rate_move_limit",
    "second_approval",
)  # fmt: skip


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
    *,
    name: str,
    currency: str,
    now: datetime.datetime,
    unit_system: str = "imperial",
    length_style: str | None = None,
    length_denominator: int = 16,
    invented: bool = False,
) -> uuid.UUID:
    """The id of a new company; without a length style it has that of its units."""
    row = models.Company(
        name=name,
        currency=currency,
        unit_system=unit_system,
        length_style=length_style or STYLE_OF_UNITS[unit_system],
        length_denominator=length_denominator,
        invented=invented,
        created_at=now,
    )
    row.save(force_insert=True)
    return row.pk


@transaction.atomic
def make_member(*, company: uuid.UUID, name: str, now: datetime.datetime, role: str = Role.PRINCIPAL) -> uuid.UUID:
    """The id of a new member of the company, which has access keys and as which nobody signs in."""
    return models.Member.objects.add(company=company, name=name, role=role, created_at=now).pk


@transaction.atomic
def change_company(
    *, company: uuid.UUID, changes: Mapping[str, Any], expected: Expected, now: datetime.datetime
) -> shown.Company:
    """The company after its name or a setting changed; editions that stand keep what they state."""
    row = models.Company.objects.select_for_update().get(pk=company)
    expected.check(shown.show_company(row))
    for name in SETTINGS:
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
def rotate_key(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    id: uuid.UUID,
    overlap: datetime.timedelta,
    within: Container[str],
    now: datetime.datetime,
    expires_at: datetime.datetime | None = None,
) -> NewKey:
    """A new key in the place of another, which goes on for `overlap` and then ends; Refused where it has ended."""
    row = models.AccessKey.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise Refused([Problem("/replaces", "not_found", "there is no such access key")])
    if row.revoked_at is not None or (row.expires_at is not None and row.expires_at <= now):
        raise Refused([Problem("/replaces", "ended", "this access key has ended; make a new one")])
    made = give_key(
        company=company,
        member=member,
        title=row.title,
        scopes=row.scopes,
        within=within,
        now=now,
        expires_at=expires_at,
    )
    row.expires_at = min(row.expires_at or now + LONGEST_OVERLAP, now + min(overlap, LONGEST_OVERLAP))
    row.version += 1
    row.save(update_fields=["expires_at", "version"])
    return made


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
