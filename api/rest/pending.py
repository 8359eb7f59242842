"""Answers to submitted runs: 202 at once, or held until the run has ended where the client prefers to wait.

A small run that is waited for is born claimed and worked on by this very thread: no queue, no wake-up. For a large
one the thread only waits, and at most half of the threads may.
"""

from __future__ import annotations

import threading
import time
import uuid

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from api.rest.changes import note_run
from api.rest.exchange import Answer, Call, Operation, Pending, Shown
from api.rest.once import Keeping
from api.rest.writing import write_answer
from estimating.work.execute import execute
from rates.scope import changes_of, reads_of

LOOK_SECONDS = 0.05
seats = threading.BoundedSemaphore(max(1, settings.WEB_THREADS // 2))


def answer_pending(
    request: HttpRequest, operation: Operation, call: Call, pending: Pending, keeping: Keeping
) -> HttpResponse:
    """The response to a submitted run; the record of its Idempotency-Key is kept with what it answers."""
    waits = call.wait_seconds is not None or pending.eager
    at_once = waits and pending.lines <= settings.SMALL_RUN_LINES
    until = time.monotonic() + (call.wait_seconds or 0)

    def respond(id: uuid.UUID) -> HttpResponse:
        return write_answer(request, operation, show_run(operation, call, id), "json")

    with changes_of(call.company):
        keeping.open()
        submitted = pending.submit(at_once)
        keeping.await_run(submitted.id)
        note_run(call, operation, submitted.id)
        if not waits or (not at_once and call.wait_seconds is None):
            response = respond(submitted.id)
            keeping.close(response)
            return response
    if submitted.claim is not None:
        ended: list[HttpResponse] = []

        def keep() -> None:
            response = respond(submitted.id)
            keeping.close(response)
            ended.append(response)

        execute(submitted.claim, job=pending.job, ended=keep)
        if ended:
            return ended[0]
    wait_for(operation, call, submitted.id, until)
    with changes_of(call.company):
        response = respond(submitted.id)
        keeping.close(response)
    return response


def wait_for(operation: Operation, call: Call, id: uuid.UUID, until: float) -> None:
    """Returns when the run has ended, when the time is up, or at once when too many threads wait already."""
    if not seats.acquire(blocking=False):
        return
    try:
        while time.monotonic() < until:
            with reads_of(call.company):
                state = shown(operation, call, id).state
            if state not in ("queued", "working"):
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
    if subject.state != "costed":
        headers["Retry-After"] = "1"
    return Answer(
        subject.content,
        status=201 if subject.state == "costed" else 202,
        tag=subject.tag,
        location=f"{operation.path}/{id}",
        headers=headers,
    )
