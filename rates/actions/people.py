"""Members invited, changed and removed.

An invitation opens one company alone, and who invites learns nothing of other companies.
"""

from __future__ import annotations

import datetime
import secrets
import uuid
from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction

from rates import models
from rates.actions.companies import digest_secret
from rates.queries import members as shown
from rates.refusals import Conflict, Expected, NotThere
from rates.roles import Role

INVITED_FOR = datetime.timedelta(days=14)


@dataclass(frozen=True)
class Invited:
    """A member, and the invitation that is shown this once."""

    member: shown.Member
    invitation: str


@transaction.atomic
def invite(*, company: uuid.UUID, name: str, email: str, role: str, now: datetime.datetime) -> Invited:
    """A member who has yet to accept; Conflict where the address belongs to a member of the company already."""
    email = email.lower()
    models.Company.objects.select_for_update().get(pk=company)
    row = models.Member.objects.of(company).filter(email=email).first()
    if row is not None and row.removed_at is None and row.joined_at is not None:
        raise Conflict("member_exists", "somebody with this address is a member already")
    if row is None:
        row = models.Member(company_id=company, email=email, created_at=now, version=0)
    row.name, row.role, row.removed_at, row.joined_at = name, role, None, None
    return give_invitation(row, now)


@transaction.atomic
def renew(*, company: uuid.UUID, id: uuid.UUID, now: datetime.datetime) -> Invited:
    """The member with a new invitation; NotThere, Conflict for one who was removed or never invited.

    Who lost the password sets a new one with it, for this company alone. What the member has holds until then.
    """
    row = lock_member(company, id)
    if row.removed_at is not None:
        raise Conflict("member_removed", "this member was removed; invite the person again")
    if row.email is None:
        raise Conflict("no_address", "this member has access keys alone and nobody signs in as it")
    return give_invitation(row, now)


def give_invitation(row: models.Member, now: datetime.datetime) -> Invited:
    """The member's row stored with a new invitation; the one before holds no more."""
    secret = secrets.token_urlsafe(24)
    row.invitation, row.invited_until = digest_secret(secret), now + INVITED_FOR
    row.version += 1
    row.save()
    return Invited(shown.show_member(row), f"{row.id.hex}_{secret}")


@transaction.atomic
def change_member(*, company: uuid.UUID, id: uuid.UUID, changes: Mapping[str, str], expected: Expected) -> shown.Member:
    """The member with another name or role; NotThere, Stale, Conflict for the last principal."""
    row = lock_member(company, id)
    expected.check(shown.show_member(row))
    if changes.get("role", row.role) != Role.PRINCIPAL:
        keep_a_principal(company, row)
    row.name, row.role = changes.get("name", row.name), changes.get("role", row.role)
    row.version += 1
    row.save()
    return shown.show_member(row)


@transaction.atomic
def remove_member(*, company: uuid.UUID, id: uuid.UUID, expected: Expected, now: datetime.datetime) -> shown.Member:
    """The member, out from the next request on with every session and key; NotThere, Stale, Conflict."""
    row = lock_member(company, id)
    expected.check(shown.show_member(row))
    keep_a_principal(company, row)
    row.removed_at, row.invitation = row.removed_at or now, ""
    row.version += 1
    row.save()
    return shown.show_member(row)


def lock_member(company: uuid.UUID, id: uuid.UUID) -> models.Member:
    """The member's row, held until the transaction ends, and the company's, so that a principal stays; NotThere."""
    models.Company.objects.select_for_update().get(pk=company)
    row = models.Member.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def keep_a_principal(company: uuid.UUID, row: models.Member) -> None:
    """Conflict where no other principal is left."""
    others = models.Member.objects.of(company).filter(role=Role.PRINCIPAL, removed_at=None).exclude(pk=row.pk)
    if row.role == Role.PRINCIPAL and row.removed_at is None and not others.exists():
        raise Conflict("last_principal", "a company keeps at least one principal")
