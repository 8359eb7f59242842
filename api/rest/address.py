"""One address of the API as a view of the framework: its operations by method, and the order in which it refuses.

Method, key, rate, scope, format, ids, size, content, query, header fields: in this order, so that a client learns
nothing about rows before it may see them, and nothing is read before it is known to be taken.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from contextlib import nullcontext
from dataclasses import replace
from functools import partial
from typing import Any, NoReturn, cast

from django.http import HttpRequest, HttpResponse
from rest_framework.request import Request
from rest_framework.views import APIView

from api.auth import CHALLENGE, Refusal, require_token
from api.plain import plain
from api.rest import reading
from api.rest.content import media_taken, read_content, read_data
from api.rest.dispatch import perform
from api.rest.exchange import Call, Operation
from api.rest.once import read_sending
from api.rest.refusing import refuse
from estimating.collector import collector_paused
from rates.actions.sign_in import Caller
from rates.refusals import NotThere
from rates.scope import reads_of

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
        self.data, media_type = read_data(bare, operation)
        by_key = self.caller is not None and self.caller.key is not None
        sending = read_sending(bare, operation, self.data, by_key=by_key)
        with collector_paused() if len(self.data) > LARGE else nullcontext():
            call = self.read_call(bare, places, media_type, format)
            return perform(bare, operation, call, sending)

    def read_call(self, request: HttpRequest, places: Mapping[str, Any], media_type: str, format: str) -> Call:
        """Everything that the request says; Refused, Refusal, Malformed."""
        call = Call(
            caller=cast(Caller, self.caller),  # None only where the operation needs no scope
            now=datetime.datetime.now(datetime.UTC),
            path=request.path,
            places=places,
            query=reading.read_query(request, self.operation),
            body=None,
            data=self.data,
            media_type=media_type,
            format=format,
            wait_seconds=reading.read_wait(request.META.get("HTTP_PREFER", "")),
            request=request,
        )
        body = read_content(self.operation, self.data, media_type, partial(self.read_current, call))
        return replace(call, body=body, expected=reading.read_expected(request, self.operation, body))

    def read_current(self, call: Call) -> Any:
        """What stands at the address now."""
        with reads_of(call.company):
            return plain(self.operations["GET"].answer(call).content)

    def options(self, request: Request, *args: Any, **captured: str) -> HttpResponse:
        """Which methods the address takes, and what a PATCH and a POST may bring (RFC 5789, section 3.1)."""
        response = HttpResponse(status=204, headers={"Allow": self.allowed})
        del response["Content-Type"]
        for method, name in (("PATCH", "Accept-Patch"), ("POST", "Accept-Post")):
            if method in self.operations and (taken := media_taken(self.operations[method])):
                response[name] = ", ".join(taken)
        return response

    get = head = post = put = patch = delete = trace = answer
