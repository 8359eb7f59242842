"""A request that may be done, done: its content read, its view called in one transaction, a POST under a key once."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse

from api.rest import reading
from api.rest.changes import note_change
from api.rest.exchange import Call, Operation, Pending
from api.rest.once import Keeping, do_once, replay
from api.rest.pending import answer_pending, show_run
from api.rest.writing import write_answer
from rates.actions.idempotency import KeyTaken, Record
from rates.core.jsontext import NumberText
from rates.core.problems import Problem, Refused
from rates.scope import changes_of, reads_of


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
    if not operation.scope:
        return write_answer(request, operation, operation.view(call), call.format)
    if operation.method == "GET":
        with reads_of(call.company):
            return write_answer(request, operation, operation.view(call), call.format)
    keeping = Keeping(call, sending)

    def late(record: Record) -> HttpResponse:
        keeping.record = record.id
        return answer_late(request, operation, call, record, keeping)

    if sending is not None:
        first = replay(call, operation, sending, late)
        if first is not None:
            return first
    try:
        if not operation.atomic:
            with reads_of(call.company):
                pending = operation.view(call)
            if isinstance(pending, Pending):
                return answer_pending(request, operation, call, pending, keeping)

        def act() -> tuple[HttpResponse, bool]:
            answer = operation.view(call) if operation.atomic else pending()
            if answer.stored:
                note_change(call, operation, answer)
            return write_answer(request, operation, answer, call.format), answer.secret

        return do_once(keeping, act)
    except KeyTaken:
        assert sending is not None
        first = replay(call, operation, sending, late)
        return first if first is not None else perform(request, operation, call, sending)


def answer_late(
    request: HttpRequest, operation: Operation, call: Call, record: Record, keeping: Keeping
) -> HttpResponse:
    """What the run of a sender that died has come to, kept as the first answer."""
    assert record.subject is not None
    with changes_of(call.company):
        response = write_answer(request, operation, show_run(operation, call, record.subject), "json")
        keeping.close(response)
    return response
