"""People sign in, choose a company, accept an invitation, change their password and sign out: Django's sessions."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import HttpRequest
from django.middleware.csrf import get_token, rotate_token

from api.auth import CHALLENGE, Refusal, count_wrong
from api.origin import address_of
from api.rest.company import as_given
from api.rest.exchange import Answer, Call
from api.rest.members import email
from api.rest.pieces import id_text
from api.rest.plain import plain
from rates.actions import people as actions
from rates.actions.audit import Source, note
from rates.actions.people import SignedIn
from rates.actions.sign_in import Caller, find_member, stamp_of
from rates.core.fields import Field, Reader, Record, text
from rates.core.problems import Problem, Refused, Unreadable
from rates.queries.members import find_person, places
from rates.scope import changes_of


def parse_password(raw: object) -> str:
    """A password as it was sent: nothing is trimmed."""
    if not isinstance(raw, str) or not 1 <= len(raw) <= 200:
        raise Unreadable("not_text", "a password of 1 to 200 characters is expected")
    return raw


password = Reader(parse_password, {"type": "string", "minLength": 1, "maxLength": 200})
SIGN_IN = Record(
    as_given,
    (
        Field("email", email, "the address", required=True),
        Field("password", password, "the password", required=True),
        Field("company", id_text, "the company to work for, where there are several"),
    ),
)
CHOOSE = Record(as_given, (Field("company", id_text, "the company to work for", required=True),))
ACCEPT = Record(
    as_given,
    (
        Field("invitation", text(200), "the text of the invitation", required=True),
        Field("password", password, "a new password, or the one that you have", required=True),
    ),
)
CHANGE = Record(
    as_given,
    (
        Field("old_password", password, "the password until now", required=True),
        Field("password", password, "the new one", required=True),
    ),
)
WRONG = "this address and password do not fit, or there were too many attempts; try again later"


def signed_in(request: HttpRequest) -> tuple[uuid.UUID, Any]:
    """The person of the session; Refusal where nobody has signed in, or the password has changed since."""
    person = request.session.get("person")
    found = find_person(id=uuid.UUID(person)) if person else None
    if found is None or stamp_of(found.password) != request.session.get("stamp"):
        raise Refusal("unauthenticated", "sign in first: POST /v1/session", CHALLENGE)
    return found.id, found


def describe(request: HttpRequest, status: int = 200) -> Answer:
    """The session as it is now."""
    try:
        person, found = signed_in(request)
    except Refusal:
        return Answer({"person": None, "company": None, "companies": [], "role": None, "scopes": [],
                       "csrf_token": get_token(request)}, status=status, secret=True)  # fmt: skip
    caller = chosen(request, person)
    content = {
        "person": {"name": found.name, "email": found.email},
        "company": str(caller.company) if caller else None,
        "companies": plain(places(person=person)),
        "role": caller.role if caller else None,
        "scopes": sorted(caller.scopes) if caller else [],
        "csrf_token": get_token(request),
    }
    return Answer(content, status=status, secret=True, location="/v1/session" if status == 201 else None)


def chosen(request: HttpRequest, person: uuid.UUID) -> Caller | None:
    """The member that the session works as."""
    company = request.session.get("company")
    if not company:
        return None
    return find_member(person=person, company=uuid.UUID(company), stamp=request.session["stamp"])


def show(call: Call) -> Answer:
    """GET /v1/session: who has signed in, which companies there are to choose, and the CSRF token."""
    return describe(call.request)


def enter(call: Call, who: SignedIn, company: uuid.UUID | None) -> Answer:
    """Begins a session; the one company that there is, or the one that is named, is chosen."""
    request: HttpRequest = call.request
    request.session.flush()
    request.session.update({"person": str(who.person), "stamp": stamp_of(who.password)})
    rotate_token(request)
    there = places(person=who.person)
    if company is not None or len(there) == 1:
        choose_company(call, who.person, company or there[0].company)
    return describe(request, 201)


def choose_company(call: Call, person: uuid.UUID, company: uuid.UUID) -> None:
    """The session works for the company from now on; Refused unless the person is a member there."""
    request: HttpRequest = call.request
    caller = find_member(person=person, company=company, stamp=request.session["stamp"])
    if caller is None:
        raise Refused([Problem("/company", "not_found", "there is no such company")])
    request.session["company"] = str(company)
    with changes_of(company):
        source = Source("session", caller.member, None, address_of(request), request.request_id)
        note(company=company, source=source, action="sign-in", now=call.now, subject=caller.member)


def refuse_wrong(call: Call) -> Refusal:
    """One refusal for an unknown address, a wrong password and a locked address."""
    count_wrong(call.request, "passwords")
    return Refusal("unauthenticated", WRONG, CHALLENGE, "sign_in_failed")


def sign_in(call: Call) -> Answer:
    """POST /v1/session."""
    who = actions.sign_in(email=call.body["email"], password=call.body["password"], now=call.now)
    if who is None:
        raise refuse_wrong(call)
    return enter(call, who, call.body.get("company"))


def choose(call: Call) -> Answer:
    """PATCH /v1/session: another company of the same person."""
    person, _ = signed_in(call.request)
    choose_company(call, person, call.body["company"])
    return describe(call.request)


def sign_out(call: Call) -> Answer:
    """DELETE /v1/session."""
    call.request.session.flush()
    return Answer(status=204)


def accept(call: Call) -> Answer:
    """POST /v1/session/invitation: the first password, or the one that the person has already."""
    person = actions.accept(invitation=call.body["invitation"], password=call.body["password"], now=call.now)
    if person is None:
        count_wrong(call.request, "invitations")
        detail = "this invitation is not valid, or the password is not the one you have"
        raise Refusal("unauthenticated", detail, CHALLENGE, "invitation_failed")
    found = find_person(id=person)
    assert found is not None
    return enter(call, SignedIn(person, found.password), None)


def change_password(call: Call) -> Answer:
    """POST /v1/session/password: every other session of the person ends."""
    person, _ = signed_in(call.request)
    kept = actions.change_password(person=person, old=call.body["old_password"], new=call.body["password"])
    if kept is None:
        raise refuse_wrong(call)
    company = call.request.session.get("company")
    return enter(call, SignedIn(person, kept), uuid.UUID(company) if company else None)
