"""The session of a person who has signed in: who gave the password, and as whom it works for the chosen company.

A session keeps who gave the password (`people`: more than one where somebody took two invitations of one address with
the same password), and as whom it works for the chosen company (`person`, `stamp`, `company`).
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Sequence

from django.http import HttpRequest
from django.middleware.csrf import rotate_token

from api.auth import CHALLENGE, Refusal
from api.origin import address_of
from rates.actions.accounts import SignedIn
from rates.actions.audit import Source, note
from rates.actions.sign_in import Caller, find_member, stamp_of
from rates.core.problems import Problem, Refused
from rates.queries.members import Person, find_people, places
from rates.scope import changes_of

WRONG = "this address and password do not fit, or there were too many attempts; try again later"


def signed_in(request: HttpRequest) -> list[Person]:
    """The people of the session, whom it works as first; Refusal where nobody has signed in, or passwords changed."""
    kept = request.session.get("people") or [[request.session.get(name) for name in ("person", "stamp")]]
    stamps = {uuid.UUID(person): stamp for person, stamp in kept if person}
    found = [one for one in find_people(ids=stamps) if stamp_of(one.password) == stamps[one.id]]
    if not found:
        raise Refusal("unauthenticated", "sign in first: POST /v1/session", CHALLENGE)
    return sorted(found, key=lambda one: str(one.id) != request.session.get("person"))


def chosen(request: HttpRequest) -> Caller | None:
    """The member that the session works as; None where nobody has signed in, or as a member no more."""
    kept = request.session
    if not kept.get("person") or not kept.get("company"):
        return None
    return find_member(
        person=uuid.UUID(kept["person"]), company=uuid.UUID(kept["company"]), stamp=kept.get("stamp", "")
    )


def enter(
    request: HttpRequest,
    people: Sequence[SignedIn],
    company: uuid.UUID | None,
    *,
    now: datetime.datetime,
    action: str = "sign-in",
) -> None:
    """Begins a session; the one company that there is, or the one that is named, is chosen. `action`: for the audit.

    Refused unless one of the people is a member of the named company.
    """
    request.session.flush()
    request.session["people"] = [[str(one.person), stamp_of(one.password)] for one in people]
    rotate_token(request)
    there = places(people=[one.person for one in people])
    if company is not None or len(there) == 1:
        choose_company(request, people, company or there[0].company, now=now, action=action)


def choose_company(
    request: HttpRequest, people: Sequence[SignedIn], company: uuid.UUID, *, now: datetime.datetime, action: str
) -> None:
    """The session works for the company from now on; Refused unless one of the people is a member there."""
    for one in people:
        caller = find_member(person=one.person, company=company, stamp=stamp_of(one.password))
        if caller is not None:
            break
    else:
        raise Refused([Problem("/company", "not_found", "there is no such company")])
    working = {"person": str(one.person), "stamp": stamp_of(one.password), "company": str(company)}
    request.session.update(working)
    if action:
        with changes_of(company):
            by = session_source(request, caller.member)
            note(company=company, source=by, action=action, now=now, subject=caller.member)


def session_source(request: HttpRequest, member: uuid.UUID | None = None) -> Source:
    """From where a session does something."""
    return Source("session", member, None, address_of(request), getattr(request, "request_id", ""))
