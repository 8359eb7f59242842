"""A worker's life without a broker: look for work, work it off, sweep, sleep a little; until told to stop."""

from __future__ import annotations

import logging
import time

from django.conf import settings
from django.db import DatabaseError, connection

from estimating.work.beats import note_poll
from estimating.work.cleaning import cleaning
from estimating.work.execute import utc_now, work_off
from estimating.work.queue import sweep
from estimating.work.stopping import Stopping

log = logging.getLogger(__name__)


def serve(stop: Stopping, *, pause_seconds: float) -> None:
    """Works until `stop` is set; a database that is away is waited for."""
    duty_at = 0.0
    while not stop.is_set():
        try:
            if time.monotonic() >= duty_at:
                duty_at = time.monotonic() + settings.SWEEP_SECONDS
                do_duties()
            if work_off(1) == 0:  # one, so that a long queue holds up neither the stop nor the duties
                stop.wait(pause_seconds)
        except DatabaseError:
            log.warning("the database is away; waiting for it")
            connection.close()
            stop.wait(1)
    connection.close()


def do_duties() -> None:
    """A sign of life, runs of dead workers given back, old rows deleted."""
    note_poll()
    if settings.RUN_SWEEPER:
        queued, failed = sweep()
        if queued or failed:
            log.warning("expired leases", extra={"queued": queued, "failed": failed})
    cleaning.clean(utc_now())
