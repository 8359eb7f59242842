"""Every error as a problem document (RFC 9457): of views, of what stands before them, and of the unforeseen."""

from __future__ import annotations

import logging
import sys
from collections.abc import Iterable, Mapping
from typing import Any

import orjson
from django.http import HttpRequest, HttpResponse

from api.unavailable import is_unavailable
from rates.core.problems import Problem

log = logging.getLogger(__name__)
MEDIA_TYPE = "application/problem+json"
MOST_ERRORS = 1000
RETRY_SECONDS = "5"

# code -> (status, title); the code is the fragment of the problem's type, described on the page of the API
KINDS: dict[str, tuple[int, str]] = {
    "malformed": (400, "The request can't be read"),
    "idempotency_key_missing": (400, "An Idempotency-Key is needed"),
    "unauthenticated": (401, "An access key is needed"),
    "not_allowed": (403, "Not allowed"),
    "not_found": (404, "Not found"),
    "method_not_allowed": (405, "This address does not take this method"),
    "not_acceptable": (406, "No such format here"),
    "not_in_time": (408, "The request did not arrive in time"),
    "conflict": (409, "This can't be done as things stand"),
    "in_flight": (409, "The first request with this key is still being worked on"),
    "secret_shown_once": (409, "The secret was shown once and is not kept"),
    "stale": (412, "Changed since it was read"),
    "too_large": (413, "Too large"),
    "uri_too_long": (414, "The address is too long"),
    "unsupported_media_type": (415, "This kind of content is not taken here"),
    "refused": (422, "What was sent has faults"),
    "key_reused": (422, "This Idempotency-Key stands for another request"),
    "if_match_missing": (428, "If-Match is needed"),
    "too_many_requests": (429, "Too many requests"),
    "fields_too_large": (431, "The header fields are too large"),
    "fault": (500, "A fault of the service"),
    "not_implemented": (501, "Not known here"),
    "unavailable": (503, "Not available now"),
}


def write_error(fault: Problem) -> dict[str, Any]:
    """One fault as it stands in `errors`."""
    sheet = {"sheet": fault.sheet} if fault.sheet is not None else {}
    return sheet | {
        "pointer": fault.pointer,
        "line": fault.line,
        "column": fault.column,
        "code": fault.code,
        "detail": fault.detail,
        "document": fault.document,
    }


def write_problem(
    kind: str,
    detail: str,
    *,
    path: str,
    request_id: str,
    errors: Iterable[Problem] = (),
    code: str | None = None,
    extra: Mapping[str, Any] | None = None,
) -> bytes:
    """The problem document of a kind."""
    status, title = KINDS[kind]
    listed = list(errors) or [Problem("", code or kind, detail)]
    document = {
        "type": f"/v1/docs#problem-{kind}",
        "title": title,
        "status": status,
        "detail": detail,
        "instance": path[:500],
        "request_id": request_id,
        "errors": [write_error(fault) for fault in listed[:MOST_ERRORS]],
    } | dict(extra or {})
    return orjson.dumps(document, option=orjson.OPT_NON_STR_KEYS)


def problem(
    request: HttpRequest, kind: str, detail: str, *, headers: Mapping[str, str] | None = None, **more: Any
) -> HttpResponse:
    """The problem document of a kind, as a response; `more` as in write_problem."""
    body = write_problem(kind, detail, path=request.path, request_id=getattr(request, "request_id", ""), **more)
    response = HttpResponse(body, status=KINDS[kind][0], content_type=MEDIA_TYPE)
    for name, value in (headers or {}).items():
        response[name] = value
    response["Cache-Control"] = "no-store"
    return response


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """What Django itself finds wrong with a request: a strange Host, fields without end."""
    return problem(request, "malformed", "the request line or a header field is not acceptable")


def forbidden(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Refusals that arise outside the API's own checks."""
    return problem(request, "not_allowed", "this is not allowed")


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form without its CSRF token."""
    return problem(request, "not_allowed", "the CSRF token is missing or not this session's", code="csrf_failed")


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """An address that nothing answers."""
    return problem(request, "not_found", "there is nothing at this address")


def fault(request: HttpRequest) -> HttpResponse:
    """A fault of ours; what it was stands in the log under the request id."""
    return problem(request, "fault", "something went wrong here; the log has it under the request id")


def unforeseen(request: HttpRequest, exception: BaseException | None = None) -> HttpResponse:
    """What nobody answered for: the exception at hand, where none is given. 503 for what time alone may mend."""
    exception = exception or sys.exception()
    extra = {"request_id": getattr(request, "request_id", "")}
    if is_unavailable(exception):
        log.error("unavailable", exc_info=exception, extra=extra)
        detail = "the database can't be reached or written for now"
        return problem(request, "unavailable", detail, headers={"Retry-After": RETRY_SECONDS})
    log.error("fault", exc_info=exception, extra=extra)
    return fault(request)
