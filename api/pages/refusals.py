"""What a page is refused for, as a page: what happened, and the way on."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.template.loader import get_template

from api import errors
from api.auth import Refusal
from api.errors import KINDS, RETRY_SECONDS
from api.pages.carried import is_from_here, typed_fields
from api.pages.navigation import ways_of
from api.pages.reader import reader_of
from api.sessions import chosen
from rates.refusals import Busy, Conflict, NotAllowed, NotThere, Stale
from rates.roles import roles_with

POLICY = "; ".join(
    (
        "default-src 'none'", "script-src 'self'", "style-src 'self'", "img-src 'self'", "connect-src 'self'",
        "form-action 'self'", "frame-ancestors 'none'", "base-uri 'none'",
    )
)  # fmt: skip


def policy_of(document: bytes) -> str:
    """The policy of a document that brings its own style: that one style is let in, by its digest (CSP 3)."""
    style = document.partition(b"<style>")[2].partition(b"</style>")[0]
    digest = base64.b64encode(hashlib.sha256(style).digest()).decode()
    return POLICY.replace("style-src 'self'", f"style-src 'sha256-{digest}'")


def render(request: HttpRequest, template: str, values: Mapping[str, Any], status: int = 200) -> HttpResponse:
    """A template as an answer that the browser asks again for each time."""
    body = get_template(template).render(dict(values), request)
    response = HttpResponse(body, status=status)
    response["Content-Security-Policy"] = POLICY
    response["Cache-Control"] = "private, no-cache"
    response["Vary"] = "Cookie, Accept-Language, HX-Request"
    return response


def refuse(request: HttpRequest, kind: str, sentence: str, way_on: str = "", **values: Any) -> HttpResponse:
    """The page of a refusal; `way_on`: what to do now, or who can."""
    status, title = KINDS[kind]
    caller = values.pop("caller", None)
    told = {
        "title": TITLES.get(kind, title),
        "sentence": sentence,
        "way_on": way_on,
        "caller": caller,
        "ways": ways_of(caller, request.path) if caller is not None else (),
        "reader": reader_of(request),
        "request_id": getattr(request, "request_id", ""),
    }
    response = render(request, "parts/refusal.html", told | values, status)
    if status == 503:
        response["Retry-After"] = RETRY_SECONDS
    return response


TITLES = {
    "not_found": "There is nothing at this address",
    "not_allowed": "Your role does not allow this",
    "conflict": "This can't be done as things stand",
    "unavailable": "The service can't do this for now",
    "fault": "Something went wrong here",
    "too_many_requests": "Too many requests for now",
    "refused": "This can't be shown",
}


def lacking(scope: str, role: str) -> tuple[str, str]:
    """Why a role may not do what a scope stands for, and who can."""
    who = roles_with(scope)
    return f"You work here as {role.replace('_', ' ')}.", f"Ask somebody who can: {who}."


def refuse_reason(request: HttpRequest, reason: Exception, caller: Any = None) -> HttpResponse | None:
    """The page of a reason that an action or query gave; None for the unforeseen."""
    if isinstance(reason, NotThere):
        sentence = "It may have been taken away, or it belongs to another company."
        return refuse(request, "not_found", sentence, caller=caller)
    if isinstance(reason, Refusal):
        return refuse(request, reason.kind, reason.detail, caller=caller)
    if isinstance(reason, Conflict):
        return refuse(request, "conflict", sentence_of(reason.detail), caller=caller)
    if isinstance(reason, NotAllowed):
        return refuse(request, "not_allowed", sentence_of(reason.detail), caller=caller)
    if isinstance(reason, Stale):
        return refuse(request, "conflict", "It has changed since you read it. Open it again.", caller=caller)
    if isinstance(reason, Busy):
        return refuse(request, "unavailable", sentence_of(reason.detail), "Try again in a moment.", caller=caller)
    return None


def sentence_of(detail: str) -> str:
    """A detail with a capital and a full stop."""
    return detail[:1].upper() + detail[1:].rstrip(".") + "."


def wants_page(request: HttpRequest) -> bool:
    """Whether a person's browser asks, and not a program."""
    return not request.path.startswith("/v1/") and "text/html" in request.META.get("HTTP_ACCEPT", "")


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """An address that nothing answers: a page for a browser, else a problem document."""
    if not wants_page(request):
        return errors.not_found(request, exception)
    return refuse(request, "not_found", "Check the address, or go on from your work.", caller=chosen(request))


def unforeseen(request: HttpRequest, exception: BaseException) -> HttpResponse:
    """What nobody answered for, noted in the log as everywhere."""
    answer = errors.unforeseen(request, exception)
    if answer.status_code == 503:
        sentence = "The database can't be reached or written for now. Nothing was stored."
        return refuse(request, "unavailable", sentence, "Try again in a moment.")
    return refuse(request, "fault", "It is noted in the log under the number below. Nothing was stored by halves.")


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form of another session, shown again to be sent anew if it came from a page of ours; else refused."""
    if not wants_page(request):
        return errors.csrf_failed(request, reason)
    if not is_from_here(request):
        return refuse(request, "not_allowed", "This form did not come from a page of this service.")
    sentence = "The page was opened before you signed in last. What you typed is kept below."
    to, kept, lost = request.get_full_path(), typed_fields(request), bool(request.FILES)
    return refuse(request, "conflict", sentence, caller=chosen(request), to=to, kept=kept, lost_files=lost)
