"""One way through for every request of the API: method, key, scope, format, ids, size, content, query, header fields.

Whatever refuses does so in this order, so that a client learns nothing about rows before it may see them, and nothing
is read before it is known to be taken.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from contextlib import nullcontext
from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse

from api.auth import Refusal, authenticate, require_scope
from api.errors import problem
from api.rest import reading
from api.rest.exchange import Call, Operation, Pending
from api.rest.once import Keeping, do_once, read_sending, replay
from api.rest.pending import answer_pending, show_run
from api.rest.plain import plain
from api.rest.writing import write_answer
from estimating.collector import collector_paused
from rates.actions.idempotency import KeyTaken, Record
from rates.core.jsontext import NumberText, locate
from rates.core.problems import Problem, Refused
from rates.refusals import Conflict, NotAllowed, NotThere, Stale
from rates.tenancy import company

LARGE = 2**20  # bytes of a body


def view_of(operations: Mapping[str, Operation]) -> Callable[..., HttpResponse]:
    """The Django view of one address: its operations by method."""
    allowed = ", ".join(sorted([*operations, "HEAD"] if "GET" in operations else operations))

    def answer(request: HttpRequest, suffix: str | None = None, **captured: str) -> HttpResponse:
        method = "GET" if request.method == "HEAD" else request.method or ""
        operation = operations.get(method)
        if operation is None or (suffix and suffix not in operation.formats):
            if operation is not None:
                return problem(request, "not_found", "there is nothing at this address")
            detail = f"this address takes {allowed}"
            return problem(request, "method_not_allowed", detail, headers={"Allow": allowed})
        return attend(request, operation, captured, suffix)

    return answer


def attend(request: HttpRequest, operation: Operation, captured: Mapping[str, str], suffix: str | None) -> HttpResponse:
    """The response to one request: the view's answer, or the problem that it met."""
    now = datetime.datetime.now(datetime.UTC)
    fields: dict[str, str] = {}
    data = b""
    try:
        caller, quota = authenticate(request, now)
        request.caller = caller  # type: ignore[attr-defined]
        fields = quota.fields
        require_scope(caller, operation.scope)
        format = reading.choose_format(operation, request.headers.get("Accept", ""), suffix)
        places = reading.read_places(captured)
        if places is None:
            raise NotThere
        data, media_type = reading.read_data(request, operation)
        sending = read_sending(request, operation, data)
        with company(caller.company), collector_paused() if len(data) > LARGE else nullcontext():
            call = Call(
                caller=caller,
                now=now,
                path=request.path,
                places=places,
                query=reading.read_query(request, operation),
                body=read_content(operation, data, media_type),
                data=data,
                media_type=media_type,
                format=format,
                expected=reading.read_expected(request, operation),
                wait_seconds=reading.read_wait(request.headers.get("Prefer", "")),
                headers=request.headers,
            )
            response = perform(request, operation, call, sending)
    except Exception as reason:
        response = refuse(request, reason, data)
    for name, value in fields.items():
        response[name] = value
    return response


def read_content(operation: Operation, data: bytes, media_type: str) -> Any:
    """The body by the operation's field table; the bare JSON value where it has none; None for other content."""
    if media_type != "application/json":
        return None
    value = reading.read_body(data)
    if operation.body is None:
        return value
    faults: list[Problem] = []
    values = operation.body.read(as_plain(value), "", faults)
    if faults:
        raise Refused(faults)
    return values


def as_plain(value: Any) -> Any:
    """The value with numbers kept as text as mere numbers: small bodies hold no decimals, and a number is no text."""
    if isinstance(value, NumberText):
        return float(value)
    if isinstance(value, dict):
        return {name: as_plain(item) for name, item in value.items()}
    return [as_plain(item) for item in value] if isinstance(value, list) else value


def perform(request: HttpRequest, operation: Operation, call: Call, sending: Any) -> HttpResponse:
    """The view's answer; a POST under a key once only."""
    if operation.method == "GET":
        return write_answer(request, operation, operation.view(call), call.format)
    keeping = Keeping(call, sending)

    def late(record: Record) -> HttpResponse:
        keeping.record = record.id
        return answer_late(request, operation, call, record, keeping)

    if sending is not None:
        first = replay(call, sending, late)
        if first is not None:
            return first
    try:
        if not operation.atomic:
            pending = operation.view(call)
            if isinstance(pending, Pending):
                return answer_pending(request, operation, call, pending, keeping)

        def act() -> tuple[HttpResponse, bool]:
            answer = operation.view(call) if operation.atomic else pending()
            return write_answer(request, operation, answer, call.format), answer.secret

        return do_once(keeping, act)
    except KeyTaken:
        assert sending is not None
        first = replay(call, sending, late)
        return first if first is not None else perform(request, operation, call, sending)


def answer_late(
    request: HttpRequest, operation: Operation, call: Call, record: Record, keeping: Keeping
) -> HttpResponse:
    """What the run of a sender that died has come to, kept as the first answer."""
    assert record.subject is not None
    with transaction.atomic():
        response = write_answer(request, operation, show_run(operation, call, record.subject), "json")
        keeping.close(response)
    return response


def refuse(request: HttpRequest, reason: Exception, data: bytes) -> HttpResponse:
    """The problem document of a refusal; anything unforeseen goes on up."""
    if isinstance(reason, Refusal):
        return problem(request, reason.kind, reason.detail, headers=reason.headers, code=reason.code)
    if isinstance(reason, NotThere):
        return problem(request, "not_found", "there is nothing at this address")
    if isinstance(reason, Refused):
        found = with_lines(reason.problems, data)
        detail = f"{len(found)} fault{'s' if len(found) > 1 else ''} found"
        return problem(request, "refused", detail, errors=found)
    if isinstance(reason, reading.Malformed):
        return problem(request, "malformed", "the content is not sound JSON", errors=reason.problems)
    if isinstance(reason, Conflict):
        return problem(request, "conflict", reason.detail, code=reason.code)
    if isinstance(reason, NotAllowed):
        return problem(request, "not_allowed", reason.detail, code=reason.code)
    if isinstance(reason, Stale):
        headers = {"ETag": f'"{reason.current.tag}"'}
        extra = {"current": plain(reason.current)}
        detail = "it has changed since you read it; its current state is here"
        return problem(request, "stale", detail, headers=headers, extra=extra)
    raise reason


def with_lines(problems: tuple[Problem, ...], data: bytes) -> list[Problem]:
    """The faults with line and column in the JSON that was sent, where they point into it."""
    places = {p.pointer for p in problems if p.line is None and p.document == "request" and is_in_body(p.pointer)}
    if not places or data.lstrip()[:1] not in (b"{", b"["):
        return list(problems)
    found = locate(data.decode(), places)
    return [
        Problem(p.pointer, p.code, p.detail, p.document, *found[p.pointer])
        if p.pointer in found and p.line is None
        else p
        for p in problems
    ]


def is_in_body(pointer: str) -> bool:
    """Whether a pointer goes into the content, not into the query or a header field."""
    return not pointer.startswith(("/query/", "/header/"))
