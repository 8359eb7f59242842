"""A request that may be done, done: its view called in one transaction, a POST under a key once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from django.http import HttpRequest, HttpResponse

from api.rest.changes import note_change
from api.rest.exchange import Answer, Call, Operation, Pending
from api.rest.once import Keeping, Sending, find_first, replay
from api.rest.pending import Awaited, show_run
from api.rest.writing import write_answer
from rates.actions.idempotency import KeyTaken, Record
from rates.scope import changes_of, reads_of


def perform(request: HttpRequest, operation: Operation, call: Call, sending: Sending | None) -> HttpResponse:
    """The view's answer."""
    if not operation.scope:
        return write_answer(request, operation, operation.answer(call), call.format)
    if operation.method == "GET":
        with reads_of(call.company):
            return write_answer(request, operation, operation.answer(call), call.format)
    return Change(request, operation, call, Keeping(call, sending)).answer()


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
            return self.store(partial(self.operation.answer, self.call))
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
