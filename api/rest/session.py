"""People sign in, choose a company, accept an invitation, change their password and sign out over the API."""

from __future__ import annotations

import uuid
from collections.abc import Sequence

from django.http import HttpRequest
from django.middleware.csrf import get_token

from api.auth import CHALLENGE, Refusal, count_wrong
from api.member_fields import email
from api.plain import plain
from api.rest.common_fields import id_text
from api.rest.company import as_given
from api.rest.exchange import Answer, Call
from api.sessions import WRONG, choose_company, chosen, enter, session_source, signed_in
from rates.actions import accounts
from rates.actions.accounts import SignedIn
from rates.core.fields import Field, Reader, Record, text
from rates.core.problems import Problem, Refused, Unreadable
from rates.core.texts import is_text
from rates.queries.members import places


def parse_password(raw: object) -> str:
    """A password as it was sent: nothing is trimmed."""
    if not isinstance(raw, str) or not is_text(raw) or not 1 <= len(raw) <= 200:
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
        Field("password", password, "a password of your own; none is needed from who has signed in"),
    ),
)
CHANGE = Record(
    as_given,
    (
        Field("old_password", password, "the password until now", required=True),
        Field("password", password, "the new one", required=True),
    ),
)


def describe(request: HttpRequest, status: int = 200) -> Answer:
    """The session as it is now."""
    try:
        people = signed_in(request)
    except Refusal:
        return Answer({"person": None, "company": None, "companies": [], "role": None, "scopes": [],
                       "csrf_token": get_token(request)}, status=status, secret=True)  # fmt: skip
    caller = chosen(request)
    there = places(people=[one.id for one in people])
    content = {
        "person": {
            "name": next((place.known_as for place in there if caller and place.company == caller.company), None),
            "email": people[0].email,
        },
        "company": str(caller.company) if caller else None,
        "companies": plain(there),
        "role": caller.role if caller else None,
        "scopes": sorted(caller.scopes) if caller else [],
        "csrf_token": get_token(request),
    }
    return Answer(content, status=status, secret=True, location="/v1/session" if status == 201 else None)


def show(call: Call) -> Answer:
    """GET /v1/session: who has signed in, which companies there are to choose, and the CSRF token."""
    return describe(call.request)


def entered(call: Call, people: Sequence[SignedIn], company: uuid.UUID | None, action: str = "sign-in") -> Answer:
    """A session begun, as it is now."""
    enter(call.request, people, company, now=call.now, action=action)
    return describe(call.request, 201)


def refuse_wrong(call: Call) -> Refusal:
    """One refusal for an unknown address, a wrong password and a locked address."""
    count_wrong(call.request, "passwords")
    return Refusal("unauthenticated", WRONG, CHALLENGE, "sign_in_failed")


def sign_in(call: Call) -> Answer:
    """POST /v1/session."""
    people = accounts.sign_in(email=call.body["email"], password=call.body["password"], now=call.now)
    if not people:
        raise refuse_wrong(call)
    return entered(call, people, call.body.get("company"))


def choose(call: Call) -> Answer:
    """PATCH /v1/session: another company of the same person."""
    people = [SignedIn(one.id, one.password) for one in signed_in(call.request)]
    choose_company(call.request, people, call.body["company"], now=call.now, action="sign-in")
    return describe(call.request)


def sign_out(call: Call) -> Answer:
    """DELETE /v1/session."""
    call.request.session.flush()
    return Answer(status=204)


def accept(call: Call) -> Answer:
    """POST /v1/session/invitation: who has signed in joins as the same person, anybody else by an own password."""
    try:
        people = [SignedIn(one.id, one.password) for one in signed_in(call.request)]
    except Refusal:
        people = []
    if not people and call.body.get("password") is None:
        raise Refused([Problem("/password", "missing", "password is needed: a password of your own")])
    taken = accounts.accept(
        invitation=call.body["invitation"],
        password=call.body.get("password"),
        person=people[0].person if people else None,
        now=call.now,
        source=session_source(call.request),
    )
    if taken is None:
        count_wrong(call.request, "invitations")
        detail = "this invitation is not valid, or you have signed in and the password is not yours"
        raise Refusal("unauthenticated", detail, CHALLENGE, "invitation_failed")
    return entered(call, people or [taken.who], taken.company, "")


def change_password(call: Call) -> Answer:
    """POST /v1/session/password: every other session of the person ends."""
    people = signed_in(call.request)
    company = call.request.session.get("company")
    names = [place.known_as for place in places(people=[one.id for one in people])]
    changed = accounts.change_password(
        people=[one.id for one in people],
        old=call.body["old_password"],
        new=call.body["password"],
        name=" ".join(names),
        now=call.now,
    )
    if not changed:
        raise refuse_wrong(call)
    return entered(call, changed, uuid.UUID(company) if company else None)
