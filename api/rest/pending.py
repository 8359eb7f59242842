"""Answers to submitted runs: 202 at once, or held until the run has ended where the client prefers to wait.

A small run that is waited for is born claimed and worked on by this very thread: no queue, no wake-up. For a large
one the thread only waits, and at most half of the threads may.
"""

from __future__ import annotations

import threading
import time
import uuid
from dataclasses import dataclass

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from api.rest.changes import note_run
from api.rest.exchange import Answer, Call, Operation, Pending, Shown
from api.rest.once import Keeping
from api.rest.writing import write_answer
from estimating.states import UNFINISHED, RunState
from estimating.work.execute import execute
from rates.scope import changes_of, reads_of

LOOK_SECONDS = 0.05
seats = threading.BoundedSemaphore(max(1, settings.WEB_THREADS // 2))


@dataclass
class Awaited:
    """A submitted run and who waits for it."""

    request: HttpRequest
    operation: Operation
    call: Call
    pending: Pending
    keeping: Keeping
    run: uuid.UUID | None = None
    ended: HttpResponse | None = None  # the answer, once the run has ended in this very thread

    @property
    def waits(self) -> bool:
        """Whether the client prefers to wait, or the run is waited for unasked."""
        return self.call.wait_seconds is not None or self.pending.eager

    @property
    def at_once(self) -> bool:
        """Whether this thread works on the run itself."""
        return self.waits and self.pending.lines <= settings.SMALL_RUN_LINES

    def answer(self) -> HttpResponse:
        """The response to the run; the record of its Idempotency-Key is kept with what it answers."""
        until = time.monotonic() + (self.call.wait_seconds or 0)
        with changes_of(self.call.company):
            self.keeping.open()
            submitted = self.pending.submit(at_once=self.at_once)
            self.run = submitted.id
            self.keeping.await_run(submitted.id)
            note_run(self.call, self.operation, submitted.id)
            if not self.waits or (not self.at_once and self.call.wait_seconds is None):
                self.keep()
        if submitted.claim is not None:
            execute(submitted.claim, job=self.pending.job, ended=self.keep)
        if self.ended is None:
            wait_for(self.operation, self.call, submitted.id, until)
            with changes_of(self.call.company):
                self.keep()
        assert self.ended is not None
        return self.ended

    def keep(self) -> None:
        """Writes the answer as the run stands now, and keeps it under the key, in the transaction at hand."""
        assert self.run is not None
        shown = show_run(self.operation, self.call, self.run)
        response = write_answer(self.request, self.operation, shown, "json")
        self.keeping.close(response)
        self.ended = response


def wait_for(operation: Operation, call: Call, id: uuid.UUID, until: float) -> None:
    """Returns when the run has ended, when the time is up, or at once when too many threads wait already."""
    if not seats.acquire(blocking=False):
        return
    try:
        while time.monotonic() < until:
            with reads_of(call.company):
                state = shown(operation, call, id).state
            if state not in UNFINISHED:
                return
            time.sleep(LOOK_SECONDS)
    finally:
        seats.release()


def shown(operation: Operation, call: Call, id: uuid.UUID) -> Shown:
    """The run's subject as it is now."""
    assert operation.show is not None
    return operation.show(call, id)


def show_run(operation: Operation, call: Call, id: uuid.UUID) -> Answer:
    """201 for a costed run, 202 for any other, with its address."""
    subject = shown(operation, call, id)
    headers = {}
    if call.wait_seconds is not None:
        headers["Preference-Applied"] = f"wait={call.wait_seconds}"
    if subject.state != RunState.COSTED:
        headers["Retry-After"] = "1"
    return Answer(
        subject.content,
        status=201 if subject.state == RunState.COSTED else 202,
        tag=subject.tag,
        location=f"{operation.path}/{id}",
        headers=headers,
    )
