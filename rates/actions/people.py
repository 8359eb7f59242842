"""Members invited, changed and removed; passwords set; a person told from an address and a password.

An invitation opens one company alone. Whoever has a password already accepts with that one: being invited changes
nobody's password, and who invites learns nothing of other companies.
"""

from __future__ import annotations

import datetime
import hashlib
import secrets
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from django.conf import settings
from django.contrib.auth.hashers import check_password, make_password
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from rates import models
from rates.actions.companies import digest_secret
from rates.core.problems import Problem, Refused
from rates.queries import members as shown
from rates.refusals import Conflict, Expected, NotThere

INVITED_FOR = datetime.timedelta(days=14)


@dataclass(frozen=True)
class Invited:
    """A new member, and the invitation that is shown this once."""

    member: shown.Member
    invitation: str


@transaction.atomic
def invite(*, company: uuid.UUID, name: str, email: str, role: str, now: datetime.datetime) -> Invited:
    """A member who has yet to accept; Conflict where the address belongs to a member already."""
    email = email.lower()
    models.Company.objects.select_for_update().get(pk=company)
    person, _ = models.Person.objects.get_or_create(email=email, defaults={"name": name, "created_at": now})
    row = models.Member.objects.of(company).select_related("person").filter(person=person).first()
    if row is not None and row.removed_at is None and row.joined_at is not None:
        raise Conflict("member_exists", "somebody with this address is a member already")
    if row is None:
        row = models.Member(company_id=company, person=person, created_at=now, version=0)
    secret = secrets.token_urlsafe(24)
    row.name, row.role, row.removed_at, row.joined_at = name, role, None, None
    row.invitation, row.invited_until = digest_secret(secret), now + INVITED_FOR
    row.version += 1
    row.save()
    return Invited(shown.show_member(row), f"{row.id.hex}_{secret}")


@transaction.atomic
def change_member(*, company: uuid.UUID, id: uuid.UUID, changes: Mapping[str, str], expected: Expected) -> shown.Member:
    """The member with another name or role; NotThere, Stale, Conflict for the last principal."""
    row = lock_member(company, id)
    expected.check(shown.show_member(row))
    if changes.get("role", row.role) != "principal":
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
    row = models.Member.objects.of(company).select_related("person").filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def keep_a_principal(company: uuid.UUID, row: models.Member) -> None:
    """Conflict where no other principal is left."""
    others = models.Member.objects.of(company).filter(role="principal", removed_at=None).exclude(pk=row.pk)
    if row.role == "principal" and row.removed_at is None and not others.exists():
        raise Conflict("last_principal", "a company keeps at least one principal")


@transaction.atomic
def accept(*, invitation: str, password: str, now: datetime.datetime) -> uuid.UUID | None:
    """The person who accepts: sets the first password, or gives the one they have; None where that does not fit.

    Refused for a password against the rules.
    """
    head, _, secret = invitation.partition("_")
    try:
        rows = models.Member.anywhere.select_for_update(of=("self",)).select_related("person")
        row = rows.filter(pk=uuid.UUID(head), removed_at=None, joined_at=None, invited_until__gt=now).first()
    except ValueError:
        row = None
    if row is None or not secrets.compare_digest(row.invitation, digest_secret(secret)):
        check_password(password, nobody())
        return None
    person = models.Person.objects.select_for_update().get(pk=row.person_id)
    if person.password and not check_password(password, person.password):
        return None
    if not person.password:
        set_password(person, password)
    row.joined_at, row.invitation = now, ""
    row.version += 1
    row.save()
    return person.pk


def set_password(person: models.Person, password: str) -> None:
    """Keeps a new password, hashed; Refused with every rule that it breaks."""
    try:
        validate_password(password, person)
    except ValidationError as fault:
        raise Refused([Problem("/password", e.code or "weak", str(e.messages[0])) for e in fault.error_list]) from None
    person.password = make_password(password)
    person.save(update_fields=["password"])


@transaction.atomic
def change_password(*, person: uuid.UUID, old: str, new: str) -> str | None:
    """The new password's hash, None where the old one does not fit; Refused. All other sessions end."""
    row = models.Person.objects.select_for_update().get(pk=person)
    if not check_password(old, row.password):
        return None
    set_password(row, new)
    return row.password


@cache
def nobody() -> str:
    """The hash of a password that nobody has, so that an unknown address takes as long as a wrong password."""
    return make_password(secrets.token_urlsafe(12))


@dataclass(frozen=True)
class SignedIn:
    """A person who gave the right password, and its hash."""

    person: uuid.UUID
    password: str


def sign_in(*, email: str, password: str, now: datetime.datetime) -> SignedIn | None:
    """The person of an address and a password; None for a wrong one, an unknown address or one locked for a while.

    All three take as long and look the same: a hash is computed each time, and failures are counted by address
    whether anybody has it or not.
    """
    email = email.strip().lower()
    address = hashlib.sha256(email.encode()).hexdigest()
    row = models.Person.objects.filter(email=email).exclude(password="").first()
    fits = check_password(password, row.password if row is not None else nobody())
    failed = models.SignInFailures.objects.filter(pk=address).first()
    if failed is not None and failed.locked_until is not None and failed.locked_until > now:
        return None
    if row is None or not fits:
        note_failure(address, now)
        return None
    models.SignInFailures.objects.filter(pk=address).delete()
    return SignedIn(row.pk, row.password)


@transaction.atomic
def note_failure(address: str, now: datetime.datetime) -> None:
    """Counts a failure; after so many the address is locked for a while."""
    row, _ = models.SignInFailures.objects.select_for_update().get_or_create(pk=address, defaults={"at": now})
    long_ago = now - datetime.timedelta(seconds=settings.SIGN_IN_LOCK_SECONDS)
    row.failures = 1 if row.at < long_ago else row.failures + 1
    row.at = now
    if row.failures >= settings.SIGN_IN_FAILURES:
        row.locked_until = now + datetime.timedelta(seconds=settings.SIGN_IN_LOCK_SECONDS)
    row.save()
