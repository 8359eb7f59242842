"""Invitations accepted, and people told from an address and a password.

A person is who holds a password for an invitation accepted. Who has signed in joins a further company as the same
person; everybody else becomes one of their own, by a password of their own, whoever else has that address.
"""

from __future__ import annotations

import datetime
import secrets
import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.db import transaction

from rates import models, scope
from rates.actions import passwords
from rates.actions.audit import COMMAND, Source, note
from rates.actions.companies import digest_secret
from rates.refusals import Conflict


@dataclass(frozen=True)
class SignedIn:
    """A person who gave the right password, and its hash."""

    person: uuid.UUID
    password: str


@dataclass(frozen=True)
class Accepted:
    """Who accepted an invitation, and of which company."""

    company: uuid.UUID
    who: SignedIn


@transaction.atomic
def accept(
    *,
    invitation: str,
    now: datetime.datetime,
    password: str | None = None,
    person: uuid.UUID | None = None,
    source: Source = COMMAND,
) -> Accepted | None:
    """The invited member, from now on `person` (who has signed in) or a new person with the password.

    None for an invitation that does not hold, or where the password is not that of `person`; Refused for a new password
    against the rules; Conflict where `person` is another member there.
    """
    row = find_invited(invitation, now)
    if row is None:
        if password is not None:
            passwords.who_has(password, ())
        return None
    if person is not None:
        own = models.Person.objects.get(pk=person)
        if password is not None and not passwords.who_has(password, [own]):
            return None
    else:
        assert password is not None
        own = add_person(row, password, now)
    others = models.Member.objects.of(row.company_id).filter(person=own).exclude(pk=row.pk)
    if others.exists():
        raise Conflict("member_exists", "you are or were a member of this company by another address")
    before, row.person = row.person, own
    row.joined_at, row.invitation = row.joined_at or now, ""
    row.version += 1
    row.save()
    if before is not None and before != own and not models.Member.anywhere.filter(person=before).exists():
        before.delete()
    with scope.company(row.company_id):
        by = replace(source, member=row.pk)
        note(company=row.company_id, source=by, action="accept-invitation", now=now, subject=row.pk)
    return Accepted(row.company_id, SignedIn(own.pk, own.password))


def find_invited(invitation: str, now: datetime.datetime) -> models.Member | None:
    """The member whom the text of an invitation names, held until the transaction ends."""
    head, _, secret = invitation.partition("_")
    try:
        rows = models.Member.anywhere.select_for_update(of=("self",)).select_related("person")
        row = rows.filter(pk=uuid.UUID(head), removed_at=None, invited_until__gt=now).first()
    except ValueError:
        return None
    if row is None or not secrets.compare_digest(row.invitation, digest_secret(secret)):
        return None
    return row


def add_person(row: models.Member, password: str, now: datetime.datetime) -> models.Person:
    """A new person with a password of the own; Refused for one against the rules."""
    email = row.email or ""
    passwords.check_rules(password, name=row.name, email=email)
    made = models.Person(email=email, password=passwords.hash_new(password, email, now), created_at=now)
    made.save(force_insert=True)
    return made


def sign_in(*, email: str, password: str, now: datetime.datetime) -> list[SignedIn]:
    """Everybody of an address who has this password: nobody where it is wrong, unknown or locked for a while.

    All three take as long and look the same: one hash is computed each time, and attempts are counted by address
    whether anybody has it or not. Several are somebody who accepted two invitations with the same password.
    """
    email = email.strip().lower()
    found = passwords.who_has(password, passwords.people_of(email))
    since = passwords.locked_since(email, now)
    if since is not None:
        found = [row for row in found if row.created_at >= since]
    if not found:
        with transaction.atomic():
            passwords.count_attempt(email, now)
    return [SignedIn(row.pk, row.password) for row in found]


@transaction.atomic
def change_password(
    *, people: Sequence[uuid.UUID], old: str, new: str, name: str, now: datetime.datetime
) -> list[SignedIn]:
    """Those of the people (of one address) whose password was `old`, with the new one; Refused. Other sessions end."""
    rows = passwords.who_has(old, list(models.Person.objects.select_for_update().filter(pk__in=people).order_by("id")))
    if rows:
        passwords.check_rules(new, name=name, email=rows[0].email)
        set_password(rows, new, now)
    return [SignedIn(row.pk, row.password) for row in rows]


def set_password(rows: Sequence[models.Person], password: str, now: datetime.datetime) -> None:
    """Keeps a new password of people of one address."""
    hashed = passwords.hash_new(password, rows[0].email, now, without=rows)
    for row in rows:
        row.password = hashed
        row.save(update_fields=["password"])


@transaction.atomic
def reset_password(*, person: uuid.UUID, now: datetime.datetime) -> str:
    """A new password for who lost the own one. Every session ends, the address is open again, each company is told."""
    row = models.Person.objects.select_for_update().get(pk=person)
    password = secrets.token_urlsafe(15)
    set_password([row], password, now)
    passwords.forget_attempts(row.email)
    for member in models.Member.anywhere.filter(person=row).order_by("id"):
        with scope.company(member.company_id):
            note(company=member.company_id, source=COMMAND, action="reset-password", now=now, subject=member.pk)
    return password
