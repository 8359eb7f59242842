"""The door of every page: method, session, role, rate, ids; then the view. A refused form is shown again as typed."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any
from urllib.parse import quote, urlencode

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.http.request import UnreadablePostError

from api.auth import Refusal, spend
from api.errors import KINDS
from api.origin import address_of
from api.pages.carried import pack_fields, typed_fields
from api.pages.exchange import Change, Go, Page, Send, Show, Visit
from api.pages.navigation import frame
from api.pages.once import do_once, earlier, go
from api.pages.reader import reader_of
from api.pages.refusals import lacking, policy_of, refuse, refuse_reason, render, unforeseen
from api.sessions import chosen
from estimating.queries import site_links
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.refusals import Conflict, NotAllowed, NotThere, Stale
from rates.scope import reads_of

UNPROCESSABLE = 422


def door(page: Page) -> Callable[..., HttpResponse]:
    """The view of the framework for a page."""

    def enter(request: HttpRequest, **places: str) -> HttpResponse:
        try:
            return admit(page, request, places)
        except UnreadablePostError:
            raise
        except Exception as fault:
            caller = None if "token" in places else getattr(request, "caller", None)  # who came by a link has no menu
            answer = refuse_reason(request, fault, caller)
            return answer or unforeseen(request, fault)

    return enter


def admit(page: Page, request: HttpRequest, places: dict[str, str]) -> HttpResponse:
    """The answer to who may come in; a refusal, or the way to the sign-in, for the others."""
    method = "GET" if request.method == "HEAD" else request.method
    if method != "GET" and not (method == "POST" and page.post):
        return refuse(request, "method_not_allowed", "A page is looked at, or its form is sent.")
    caller = chosen(request)
    if "token" in places:
        try:
            visitor = site_links.visitor(token=places["token"], now=datetime.datetime.now(datetime.UTC))
        except NotThere:
            return refuse(request, "not_found", "This link has ended or was revoked.", "Ask the office for a new one.")
        caller, places = visitor.caller, {**places, "id": str(visitor.estimate)}
    request.caller = caller  # type: ignore[attr-defined]  # for the log
    if caller is None and page.scope:
        return to_sign_in(request)
    who = caller.owner.hex if caller is not None else f"address:{address_of(request)}"
    quota = spend(who, settings.RATE_LIMIT, settings.RATE_WINDOW_SECONDS)
    if quota.refused:
        return refuse(request, "too_many_requests", "Wait a minute, then go on.", caller=caller)
    scope = page.post_scope if method == "POST" and page.post_scope else page.scope
    if scope and caller is not None and scope not in caller.scopes:
        return refuse(request, "not_allowed", *lacking(scope, caller.role), caller=caller)
    if "id" in places and read_id(places["id"]) is None:
        raise NotThere
    zone = caller.time_zone if caller is not None else "UTC"
    visit = Visit(request, caller, datetime.datetime.now(datetime.UTC), places, reader_of(request, zone))  # type: ignore[arg-type]
    return post(page, visit) if method == "POST" else get(page, visit)


def get(page: Page, visit: Visit) -> HttpResponse:
    """The page as it is."""
    return answer(page, visit, look(page, visit))


def look(page: Page, visit: Visit) -> Any:
    """What the page's view shows."""
    if visit.caller is None:
        return page.get(visit)
    with reads_of(visit.company):
        return page.get(visit)


def post(page: Page, visit: Visit) -> HttpResponse:
    """The form done, once; shown again with all that was typed where it is refused."""
    assert page.post is not None
    if visit.caller is not None and page.once and (first := earlier(visit)) is not None:
        return first
    try:
        done = read_form(page, visit)
        if isinstance(done, Change):
            return do_once(visit, done, partial(answer, page, visit))
        return answer(page, visit, done)
    except Refused as refused:
        again = replace(visit, faults=refused.problems)
    except Stale:
        sentence = "It has changed since you opened it. Beside each field that differs stands what is stored now."
        again = replace(visit, faults=[Problem("", "stale", sentence)], stale=True)
    except (Conflict, NotAllowed) as reason:
        again = replace(visit, faults=[Problem("", reason.code, reason.detail)])
    except Refusal as refusal:
        again = replace(visit, faults=[Problem("", refusal.code or refusal.kind, refusal.detail)])
    shown = look(page, again)
    return answer(page, visit, replace(shown, status=UNPROCESSABLE) if isinstance(shown, Show) else shown)


def read_form(page: Page, visit: Visit) -> Any:
    """What the page's view makes of its form, ready to be done: it reads of one company, as a look does."""
    assert page.post is not None
    if visit.caller is None:
        return page.post(visit)
    with reads_of(visit.company):
        return page.post(visit)


def answer(page: Page, visit: Visit, found: Any) -> HttpResponse:
    """What a view gave, as a response."""
    if isinstance(found, Go):
        return go(found.to)
    if isinstance(found, Send):
        return send(found)
    assert isinstance(found, Show)
    return render(visit.request, found.template, frame(visit, page.name) | dict(found.values), found.status)


def send(file: Send) -> HttpResponse:
    """A file: to be saved, or shown under a policy that lets in the style of that very document and no other."""
    response = HttpResponse(file.content, content_type=file.media_type)
    response["Cache-Control"] = "private, no-cache"
    if file.opens:
        response["Content-Security-Policy"] = policy_of(file.content)
    how = "inline" if file.opens else "attachment"
    response["Content-Disposition"] = f"{how}; filename*=UTF-8''{quote(file.name[:200], safe='')}"
    return response


def to_sign_in(request: HttpRequest) -> HttpResponse:
    """The sign-in, from where the way leads back; what a form had typed into it goes along."""
    if request.method != "POST":
        return go(f"/sign-in?{urlencode({'to': request.get_full_path()})}")
    values = {
        "title": "Sign in to go on",
        "to": request.get_full_path(),
        "kept_text": pack_fields(typed_fields(request)),
        "lost_files": bool(request.FILES),
        "ended": True,
        "caller": None,
        "reader": reader_of(request),
    }
    return render(request, "sign-in/sign_in.html", values, KINDS["unauthenticated"][0])
