"""Passwords of the people of one address: one hash tries them all, so that the time tells nothing of how many they are.

All hashes of an address have one salt and cost. What a guess could gain is counted by address, whether anybody has it
or not: wrong passwords, and passwords set. Without the second, whoever has an account at somebody's address could try
passwords on the other's as the own, and be told by a sign-in that opens both. No sign-in clears the count; time does.
"""

from __future__ import annotations

import datetime
import hashlib
import secrets
from collections.abc import Sequence
from functools import cache

from django.conf import settings
from django.contrib.auth.hashers import get_hasher, identify_hasher, make_password
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from rates import models
from rates.core.problems import Problem, Refused
from rates.deletion import delete_some


@cache
def nobody(algorithm: str) -> str:
    """The hash of a password that nobody has, so that an unknown address takes as long as a wrong password."""
    return make_password(secrets.token_urlsafe(12))


def hash_as(password: str, like: str) -> str:
    """The hash of a password with salt and cost of another; the time is that of today's cost where that is higher."""
    hasher = identify_hasher(like)
    terms = hasher.decode(like)
    cost = {"iterations": terms["iterations"]} if "iterations" in terms else {}
    hasher.harden_runtime(password, like)
    return hasher.encode(password, terms["salt"], **cost)


def people_of(email: str) -> list[models.Person]:
    """Everybody who signs in by an address."""
    return list(models.Person.objects.filter(email=email).order_by("id"))


def who_has(password: str, people: Sequence[models.Person]) -> list[models.Person]:
    """Those of one address whose password it is."""
    tried = hash_as(password, people[0].password if people else nobody(get_hasher().algorithm))
    return [person for person in people if secrets.compare_digest(person.password, tried)]


def check_rules(password: str, *, name: str, email: str) -> None:
    """Refused with every rule that a new password breaks; it must resemble neither name nor address."""
    try:
        validate_password(password, models.Member(name=name, email=email))  # type: ignore[arg-type]  # read by attributes
    except ValidationError as fault:
        raise Refused([Problem("/password", e.code or "weak", str(e.messages[0])) for e in fault.error_list]) from None


def hash_new(password: str, email: str, now: datetime.datetime, *, without: Sequence[models.Person] = ()) -> str:
    """The hash of a new password at an address, counted; `without` stands for those whose password it replaces."""
    count_attempt(email, now)  # holds the address until the transaction ends: two people set theirs one by one
    others = [person for person in people_of(email) if person not in without]
    return hash_as(password, others[0].password) if others else make_password(password)


def address_of(email: str) -> str:
    """An address as it is counted."""
    return hashlib.sha256(email.encode()).hexdigest()


def locked_since(email: str, now: datetime.datetime) -> datetime.datetime | None:
    """When the last attempt was made on an address that is locked; None where it is open.

    Who accepted an invitation since then is let in all the same: nobody has guessed at that password yet.
    """
    row = models.SignInFailures.objects.filter(pk=address_of(email), locked_until__gt=now).first()
    return row.at if row is not None else None


def count_attempt(email: str, now: datetime.datetime) -> None:
    """Counts an attempt, inside a transaction; after so many the address is locked for a while, and never longer."""
    row, _ = models.SignInFailures.objects.select_for_update().get_or_create(pk=address_of(email), defaults={"at": now})
    lock = datetime.timedelta(seconds=settings.SIGN_IN_LOCK_SECONDS)
    if row.locked_until is None or row.locked_until <= now:
        afresh = row.locked_until is not None or row.at < now - lock
        row.failures = 1 if afresh else row.failures + 1
        row.locked_until = now + lock if row.failures >= settings.SIGN_IN_FAILURES else None
    row.at = now
    row.save()


def forget_old(*, now: datetime.datetime, most: int) -> int:
    """How many addresses were deleted whose attempts count no more, `most` at most."""
    long_ago = now - datetime.timedelta(seconds=settings.SIGN_IN_LOCK_SECONDS)
    return delete_some(models.SignInFailures.objects.filter(at__lt=long_ago).exclude(locked_until__gt=now), most)


def forget_attempts(email: str) -> None:
    """Opens an address again."""
    models.SignInFailures.objects.filter(pk=address_of(email)).delete()
