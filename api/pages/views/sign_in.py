"""Signing in and out, choosing a company, accepting an invitation."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from typing import Any

from django.http import HttpRequest

from api.auth import Refusal, count_wrong
from api.pages.carried import own_address, unpack_fields
from api.pages.exchange import Go, Show, Visit
from api.pages.forms import Form, Input, make_form
from api.sessions import WRONG, choose_company, session_source, signed_in
from api.sessions import enter as begin
from rates.actions import accounts
from rates.actions.accounts import SignedIn
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.queries.members import Place, places

EMAIL = Input("email", "E-mail address", "email", needed=True, fill="username")
PASSWORD = Input("password", "Password", "password", needed=True, fill="current-password")
INVITATION = Input("invitation", "Invitation", needed=True, wide=True, hint="The text that the principal gave you.")
NEW_PASSWORD = Input(
    "password",
    "A password of your own",
    "password",
    hint="12 characters or more, and no common word. If you already work for another company here, sign in first.",
    needed=True,
    fill="new-password",
)
MOST_PASSWORD = 200


def show(visit: Visit) -> Show:
    """GET /sign-in."""
    form = make_form((EMAIL, PASSWORD), typed=visit.typed, faults=visit.faults)
    to = own_address(visit.typed.get("to") or visit.asked.get("to") or "/")
    return Show("sign-in/sign_in.html", {"form": form, "to": to, "kept_text": visit.typed.get("kept", "")})


def enter(visit: Visit) -> Go | Show:
    """POST /sign-in: on to the page that was wanted, or to a choice of companies first."""
    email, password = visit.typed.get("email", ""), read_password(visit)
    if not email.strip():
        raise Refused([Problem("/email", "missing", "enter the address that was invited")])
    people = accounts.sign_in(email=email, password=password, now=visit.now)
    if not people:
        raise refuse_wrong(visit.request)
    begin(visit.request, people, None, now=visit.now)
    return go_on(visit)


def read_password(visit: Visit) -> str:
    """The password as it was sent; Refused."""
    password = visit.typed.get("password", "")
    if not 1 <= len(password) <= MOST_PASSWORD:
        raise Refused([Problem("/password", "not_text", "enter a password of 1 to 200 characters")])
    return str(password)


def refuse_wrong(request: HttpRequest) -> Refusal:
    """One refusal for an unknown address, a wrong password and a locked address."""
    count_wrong(request, "passwords")
    return Refusal("unauthenticated", WRONG, {}, "sign_in_failed")


def go_on(visit: Visit) -> Go | Show:
    """On to the page that was wanted; what had been typed when the session ended is shown, to be sent once."""
    to = own_address(visit.typed.get("to", "/"))
    kept = unpack_fields(visit.typed.get("kept", ""))
    if not visit.request.session.get("company"):
        return companies(visit)
    if not kept:
        return Go(to)
    return Show("sign-in/kept.html", {"to": to, "kept": kept})


def leaving(visit: Visit) -> Show:
    """GET /sign-out: asked before it is done, for a form alone does it."""
    return Show("sign-in/sign_out.html", {})


def leave(visit: Visit) -> Go:
    """POST /sign-out."""
    visit.request.session.flush()
    return Go("/sign-in")


def own_places(request: HttpRequest) -> tuple[list[Any], list[Place]]:
    """Who has signed in, and the companies to choose from; Refusal."""
    people = signed_in(request)
    return people, places(people=[one.id for one in people])


def companies(visit: Visit) -> Show | Go:
    """GET /companies."""
    try:
        _, there = own_places(visit.request)
    except Refusal:
        return Go("/sign-in?to=/companies")
    values = {
        "there": there,
        "to": own_address(visit.typed.get("to", "/")),
        "kept_text": visit.typed.get("kept", ""),
        "here": str(visit.caller.company) if visit.caller else visit.request.session.get("company", ""),
        "faults": visit.faults,
    }
    return Show("sign-in/companies.html", values)


def choose(visit: Visit) -> Go | Show:
    """POST /companies."""
    people, _ = own_places(visit.request)
    company = read_id(visit.typed.get("company", ""))
    if company is None:
        raise Refused([Problem("/company", "missing", "choose a company")])
    given = [SignedIn(one.id, one.password) for one in people]
    choose_company(visit.request, given, company, now=visit.now, action="sign-in")
    return go_on(visit)


def invitation_form(visit: Visit, signed: Sequence[Any]) -> Form:
    """The fields of an invitation: no password from who has signed in."""
    fields = (INVITATION,) if signed else (INVITATION, NEW_PASSWORD)
    return make_form(fields, typed=visit.typed, faults=visit.faults)


def people_of(request: HttpRequest) -> list[Any]:
    """Who has signed in; nobody."""
    try:
        return signed_in(request)
    except Refusal:
        return []


def invitation(visit: Visit) -> Show:
    """GET /invitation."""
    people = people_of(visit.request)
    return Show("sign-in/invitation.html", {"form": invitation_form(visit, people), "people": people})


def accept(visit: Visit) -> Go:
    """POST /invitation: who has signed in joins as the same person, anybody else by a password of the own."""
    people = people_of(visit.request)
    password = None if people else read_password(visit)
    person: uuid.UUID | None = people[0].id if people else None
    taken = accounts.accept(
        invitation=visit.typed.get("invitation", "").strip(),
        password=password,
        person=person,
        now=visit.now,
        source=session_source(visit.request),
    )
    if taken is None:
        count_wrong(visit.request, "invitations")
        detail = "this invitation is not valid any more, or not whole; ask for a new one"
        raise Refused([Problem("/invitation", "invitation_failed", detail)])
    given = [SignedIn(one.id, one.password) for one in people] or [taken.who]
    begin(visit.request, given, taken.company, now=visit.now, action="")
    return Go("/")
