"""One address of the API as a view of the framework: the order in which it refuses, and what may be done, done once.

Method, key, rate, scope, format, ids, size, content, query, header fields: in this order, so that a client learns
nothing about rows before it may see them, and nothing is read before it is known to be taken.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Callable, Mapping
from contextlib import nullcontext
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, NoReturn, cast

from django.http import HttpRequest, HttpResponse
from rest_framework.request import Request
from rest_framework.views import APIView

from api.auth import CHALLENGE, Refusal, require_token
from api.plain import plain
from api.rest import reading
from api.rest.changes import note_change
from api.rest.exchange import Answer, Call, Operation, Pending
from api.rest.once import Keeping, find_first, read_sending, replay
from api.rest.pending import Awaited, show_run
from api.rest.refusing import refuse
from api.rest.writing import write_answer
from estimating.collector import collector_paused
from rates.actions.idempotency import KeyTaken, Record
from rates.actions.sign_in import Caller
from rates.core.merge_patch import merge_patch
from rates.refusals import Expected, NotThere
from rates.scope import changes_of, reads_of

LARGE = 2**20  # bytes of a body


class Address(APIView):
    """The view of one address; `operations` are its methods."""

    operations: Mapping[str, Operation] = {}
    operation: Operation
    caller: Caller | None
    headers: dict[str, str]
    data = b""  # the body as received, for the places of faults

    def get_exception_handler(self) -> Callable[..., HttpResponse | None]:
        """Imported with this module: first imported when the disk is full, it would be half a file from then on."""
        return refuse

    @property
    def default_response_headers(self) -> dict[str, str]:
        """Nothing but what the checks add."""
        return {}

    def initial(self, request: Request, suffix: str | None = None, **places: str) -> None:
        """The checks before anything is read; Refusal."""
        bare = request._request
        if bare.method == "OPTIONS":  # tells no more than the description does, and to anybody
            self.caller = None
            self.check_throttles(request)
            return
        self.operation = operation = self.find_operation(bare.method or "", suffix)
        self.caller = bare.caller = caller = request.user  # in the request for the log
        if caller is None and operation.scope:
            raise Refusal("unauthenticated", "send an access key: Authorization: Bearer …", CHALLENGE)
        if caller is None and bare.method not in ("GET", "HEAD"):
            require_token(bare)
        self.check_throttles(request)
        self.check_permissions(request)

    def find_operation(self, method: str, suffix: str | None) -> Operation:
        """The operation of the method; Refusal."""
        operation = self.operations.get("GET" if method == "HEAD" else method)
        if operation is None:
            raise Refusal("method_not_allowed", f"this address takes {self.allowed}", {"Allow": self.allowed})
        if suffix and suffix not in operation.formats:
            raise NotThere
        return operation

    @property
    def allowed(self) -> str:
        """The methods that the address takes, as the Allow field has them."""
        head = ("HEAD",) if "GET" in self.operations else ()
        return ", ".join(sorted({*self.operations, *head, "OPTIONS"}))

    def finalize_response(self, request: Request, response: HttpResponse, *args: Any, **kwargs: Any) -> HttpResponse:
        """The answer with what the checks add; the request lets go of the view, so that both are freed at once."""
        answer: HttpResponse = super().finalize_response(request, response, *args, **kwargs)
        request.parser_context.clear()
        return answer

    def throttled(self, request: Request, wait: float | None) -> NoReturn:
        raise Refusal("too_many_requests", "the requests of this caller are used up for now", {})

    def permission_denied(self, request: Request, message: str | None = None, code: str | None = None) -> NoReturn:
        raise Refusal("not_allowed", message or "this is not allowed", {}, code)

    def answer(self, request: Request, suffix: str | None = None, **captured: str) -> HttpResponse:
        """The view's answer to a request that got this far."""
        operation, bare = self.operation, request._request
        format = reading.choose_format(operation, bare.META.get("HTTP_ACCEPT", ""), suffix)
        places = reading.read_places(captured)
        if places is None:
            raise NotThere
        self.data, media_type = reading.read_data(bare, operation)
        by_key = self.caller is not None and self.caller.key is not None
        sending = read_sending(bare, operation, self.data, by_key=by_key) if operation.idempotency else None
        with collector_paused() if len(self.data) > LARGE else nullcontext():
            call = self.read_call(bare, places, media_type, format)
            if operation.scope and operation.method != "GET":
                return Change(bare, operation, call, Keeping(call, sending)).answer()
            with reads_of(call.company) if operation.scope else nullcontext():
                return write_answer(bare, operation, answer_of(operation, call), format)

    def read_call(self, request: HttpRequest, places: Mapping[str, Any], media_type: str, format: str) -> Call:
        """Everything that the request says; Refused, Refusal, Malformed."""
        caller = cast(Caller, self.caller)  # None only where the operation needs no scope
        call = Call(
            caller=caller,
            company=cast(uuid.UUID, caller and caller.company),
            id=cast(uuid.UUID, places.get("id")),
            now=datetime.datetime.now(datetime.UTC),
            path=request.path,
            places=places,
            query=reading.read_query(request, self.operation),
            body=None,
            data=self.data,
            media_type=media_type,
            format=format,
            expected=Expected(None),
            wait_seconds=reading.read_wait(request.META.get("HTTP_PREFER", "")),
            request=request,
        )
        body = self.read_body(call)
        return replace(call, body=body, expected=reading.read_expected(request, self.operation, body))

    def read_body(self, call: Call) -> Any:
        """The content by the operation's field table; {} where nothing needs to be sent, None where a view reads it."""
        if call.media_type not in reading.JSON_TYPES:
            nothing = reading.needs_nothing(self.operation) and not self.data
            return reading.read_fields(self.operation, {}) if nothing else None
        value = reading.read_json_value(self.data)
        if reading.is_merged(self.operation, value, call.media_type):
            whole = self.read_current(call)
            value = {name: merge_patch(whole.get(name), item) for name, item in value.items()}
        return reading.read_fields(self.operation, value)

    def read_current(self, call: Call) -> Any:
        """What stands at the address now."""
        with reads_of(call.company):
            return plain(answer_of(self.operations["GET"], call).content)

    def options(self, request: Request, *args: Any, **captured: str) -> HttpResponse:
        """Which methods the address takes, and what a PATCH and a POST may bring (RFC 5789, section 3.1)."""
        response = HttpResponse(status=204, headers={"Allow": self.allowed})
        del response["Content-Type"]
        for method, name in (("PATCH", "Accept-Patch"), ("POST", "Accept-Post")):
            if method in self.operations and (taken := reading.media_taken(self.operations[method])):
                response[name] = ", ".join(taken)
        return response

    get = head = post = put = patch = delete = trace = answer


def answer_of(operation: Operation, call: Call) -> Answer:
    """The answer of a view that has nothing to do after its reading."""
    answer = operation.view(call)
    assert isinstance(answer, Answer)
    return answer


@dataclass(frozen=True)
class Change:
    """A request that changes something."""

    request: HttpRequest
    operation: Operation
    call: Call
    keeping: Keeping

    def answer(self) -> HttpResponse:
        """The first answer again, or that of doing it now; another sending of the key may come first meanwhile."""
        first = self.answer_again()
        if first is not None:
            return first
        try:
            return self.do()
        except KeyTaken:
            return self.answer()

    def answer_again(self) -> HttpResponse | None:
        """What a first sending under the key was answered, None where this is the first; Refusal."""
        record = find_first(self.call, self.keeping.sending)
        if record is None:
            return None
        return self.answer_late(record) if record.status is None else replay(self.call, self.operation, record)

    def answer_late(self, record: Record) -> HttpResponse:
        """What the run of a sender that died has come to, kept as the first answer."""
        assert record.subject is not None
        self.keeping.record = record.id
        with changes_of(self.call.company):
            shown = show_run(self.operation, self.call, record.subject)
            response = write_answer(self.request, self.operation, shown, "json")
            self.keeping.close(response)
        return response

    def do(self) -> HttpResponse:
        """The answer of the view, as it says itself what is to happen: nothing, a run, or something stored."""
        if self.operation.atomic:
            return self.store(partial(answer_of, self.operation, self.call))
        with reads_of(self.call.company):
            ready = self.operation.view(self.call)
        if isinstance(ready, Answer):  # a look, which changes nothing and leaves nothing
            return write_answer(self.request, self.operation, ready, self.call.format)
        if isinstance(ready, Pending):
            return Awaited(self.request, self.operation, self.call, ready, self.keeping).answer()
        return self.store(ready)

    def store(self, act: Callable[[], Answer]) -> HttpResponse:
        """The answer to what is done and stored, with its entry in the audit and what is kept under its key."""
        with changes_of(self.call.company):
            self.keeping.open()
            answer = act()
            if answer.stored:
                note_change(self.call, self.operation, answer)
            response = write_answer(self.request, self.operation, answer, self.call.format)
            self.keeping.close(response, secret=answer.secret)
        return response
