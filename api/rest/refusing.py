"""From what a request was refused for to its problem document; the framework's handler of exceptions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from django.http import HttpResponse

from api.auth import Refusal
from api.errors import RETRY_SECONDS, problem
from api.plain import plain
from api.rest.reading import Malformed
from rates.core.jsontext import locate
from rates.core.problems import Problem, Refused
from rates.refusals import Busy, Conflict, NotAllowed, NotThere, Stale


def refuse(reason: Exception, context: Mapping[str, Any]) -> HttpResponse | None:
    """The problem document of a refusal, None for anything unforeseen: it goes on up."""
    request, data = context["request"]._request, context["view"].data
    if isinstance(reason, Refusal):
        return problem(request, reason.kind, reason.detail, headers=reason.headers, code=reason.code)
    if isinstance(reason, NotThere):
        return problem(request, "not_found", "there is nothing at this address")
    if isinstance(reason, Refused):
        found = with_lines(reason.problems, data)
        count = sum(fault.count for fault in found)
        detail = f"{count} fault{'s' if count > 1 else ''} found"
        return problem(request, "refused", detail, errors=found)
    if isinstance(reason, Malformed):
        return problem(request, "malformed", "the content is not sound JSON", errors=reason.problems)
    if isinstance(reason, Conflict):
        return problem(request, "conflict", reason.detail, code=reason.code)
    if isinstance(reason, Busy):
        return problem(request, "unavailable", reason.detail, headers={"Retry-After": RETRY_SECONDS})
    if isinstance(reason, NotAllowed):
        return problem(request, "not_allowed", reason.detail, code=reason.code)
    if isinstance(reason, Stale):
        headers = {"ETag": f'"{reason.current.tag}"'}
        extra = {"current": plain(reason.current)}
        detail = "it has changed since you read it; its current state is here"
        return problem(request, "stale", detail, headers=headers, extra=extra)
    return None


def with_lines(problems: tuple[Problem, ...], data: bytes) -> list[Problem]:
    """The faults with line and column in the JSON that was sent, where they point into it."""
    places = {p.pointer for p in problems if p.line is None and p.document == "request" and is_in_body(p.pointer)}
    if not places or data.lstrip()[:1] not in (b"{", b"["):
        return list(problems)
    found = locate(data.decode(), places)
    return [
        replace(p, line=found[p.pointer][0], column=found[p.pointer][1]) if p.pointer in found and p.line is None else p
        for p in problems
    ]


def is_in_body(pointer: str) -> bool:
    """Whether a pointer goes into the content, not into the query or a header field."""
    return not pointer.startswith(("/query/", "/header/"))
