"""What Celery does here: one task that says "poll now". Nothing is lost with a message; the run rows know all."""

from __future__ import annotations

import logging
import time

from celery import shared_task
from django.conf import settings
from django.db import DatabaseError, connection
from kombu.exceptions import OperationalError

from estimating.work.beats import hear, readiness
from estimating.work.execute import work_off
from estimating.work.loop import do_duties
from estimating.work.stopping import Stopping

log = logging.getLogger(__name__)
SLICE_SECONDS = 1.0  # in which a message begins runs: Celery ends no sooner than its tasks


@shared_task(name="estimating.poll_now", ignore_result=True, acks_late=False)
def poll_now() -> None:
    """Works for a while; another message asks for what still waits."""
    hear()
    if work_for(SLICE_SECONDS):
        ask_for_work()


def work_for(seconds: float, stop: Stopping | None = None) -> bool:
    """Begins runs for so long, or until `stop` is set; whether more may wait."""
    until = time.monotonic() + seconds
    while work_off(1):
        if time.monotonic() >= until or (stop is not None and stop.is_set()):
            return True
    return False


def ask_for_work() -> bool:
    """Whether the workers were told to poll now; a broker that is away costs nothing but the hint."""
    if not settings.REDIS_URL:
        return False
    try:
        poll_now.apply_async(retry=False, ignore_result=True, expires=6 * settings.SWEEP_SECONDS)
    except (OperationalError, OSError) as away:
        log.warning("no message sent; the run will be found by polling", extra={"reason": type(away).__name__})
        return False
    return True


def watch(stop: Stopping) -> None:
    """A worker's watch beside its pool, until `stop` is set.

    Sweeps, says that the worker lives and asks for work, so that a worker whom no message reaches any more shows as
    deaf. While the broker is away, or the workers are deaf, it works off the queue itself.
    """
    more = False  # may wait: then without a pause
    while not stop.wait(0 if more else settings.SWEEP_SECONDS):
        more = False
        try:
            do_duties()
            if not ask_for_work() or readiness() == "deaf":
                more = work_for(settings.SWEEP_SECONDS, stop)
        except DatabaseError:
            log.warning("the database is away; waiting for it")
            connection.close()
    connection.close()
