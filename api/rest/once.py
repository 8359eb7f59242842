"""A POST done once: an Idempotency-Key's first answer is kept with the change itself and given again."""

from __future__ import annotations

import hashlib
import re
import uuid
from dataclasses import dataclass

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from api.auth import Refusal
from api.rest.exchange import Call, Operation
from api.veil import prices_tag, veil_again
from rates.actions import idempotency
from rates.actions.idempotency import Record
from rates.scope import reads_of

KEY = re.compile(r"[\x21-\x7e]{1,255}", re.ASCII)
KEPT_HEADERS = ("Content-Type", "Location", "ETag", "Retry-After", "Preference-Applied")


@dataclass(frozen=True)
class Sending:
    """One sending of a request under a key; None where no key was sent."""

    key: str
    fingerprint: str


def read_sending(request: HttpRequest, operation: Operation, data: bytes, *, by_key: bool) -> Sending | None:
    """The key that was sent with the request; Refusal where it is strange, or an access key needs one."""
    text = request.META.get("HTTP_IDEMPOTENCY_KEY")
    if text is None:
        if operation.idempotency == "required" and by_key:
            raise Refusal("idempotency_key_missing", "send an Idempotency-Key of your own making", {})
        return None
    if not KEY.fullmatch(text):
        raise Refusal("malformed", "an Idempotency-Key is 1 to 255 visible ASCII characters", {}, "bad_idempotency_key")
    head = f"{request.method} {request.path}?{request.META.get('QUERY_STRING', '')} {request.content_type}\n"
    return Sending(text, hashlib.sha256(head.encode() + data).hexdigest())


def find_first(call: Call, sending: Sending | None) -> Record | None:
    """The record of a first sending under the key, None where there is none; Refusal: other body, in flight, a secret.

    A record without an answer is of a sender that died while its run was at work.
    """
    if sending is None:
        return None
    with reads_of(call.company):
        record = idempotency.find(company=call.company, owner=call.caller.owner, key=sending.key)
    if record is None:
        return None
    if record.fingerprint != sending.fingerprint:
        raise Refusal("key_reused", "this Idempotency-Key was sent before with other content", {})
    if record.secret:
        raise Refusal("secret_shown_once", "this request was answered before, with a secret that is not kept", {})
    if record.status is None:
        age = (call.now - record.created_at).total_seconds()
        if record.subject is None or age < settings.IN_FLIGHT_SECONDS:
            raise Refusal("in_flight", "the first request with this key is still being worked on", {"Retry-After": "1"})
    return record


def replay(call: Call, operation: Operation, record: Record) -> HttpResponse:
    """The first answer, as far as the caller may see it now; Refusal where nothing of it may be seen any more."""
    assert record.status is not None
    body = veil_again(call.caller, operation, record.body)
    response = HttpResponse(body, status=record.status)
    for name, value in record.headers.items():
        response[name] = value
    if body != record.body and "ETag" in response:
        tag = response["ETag"].strip('"')
        response["ETag"] = f'"{prices_tag(tag)}"'
    response["Idempotent-Replayed"] = "true"
    return response


class Keeping:
    """The record of one first sending: opened inside the change's transaction, closed with the answer."""

    def __init__(self, call: Call, sending: Sending | None) -> None:
        self.call = call
        self.sending = sending
        self.record: uuid.UUID | None = None

    def open(self) -> None:
        """Opens the record in the transaction at hand; KeyTaken where another sending came first."""
        if self.sending is not None:
            self.record = idempotency.open_record(
                company=self.call.company,
                owner=self.call.caller.owner,
                key=self.sending.key,
                fingerprint=self.sending.fingerprint,
                now=self.call.now,
            )

    def await_run(self, run: uuid.UUID) -> None:
        """Notes the run that the answer waits for."""
        if self.record is not None:
            idempotency.await_run(company=self.call.company, id=self.record, subject=run)

    def close(self, response: HttpResponse, *, secret: bool = False) -> None:
        """Keeps the answer."""
        if self.record is None:
            return
        headers = {name: response[name] for name in KEPT_HEADERS if name in response}
        idempotency.close_record(
            company=self.call.company,
            id=self.record,
            status=response.status_code,
            headers=headers,
            body=bytes(response.content),
            secret=secret,
        )
