"""Keeps claims alive while their runs are computed: one thread a process, writing once a beat.

A run shorter than a beat is never written. Losing the claim (cancelled, or taken over after an expired lease) is
noticed at the next beat; the computation then stops at its next report of progress.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from django.conf import settings
from django.db import DatabaseError, connection

from estimating.work.queue import Claim, beat

log = logging.getLogger(__name__)


class ClaimLost(Exception):
    """The run is no longer ours: cancelled, or taken over."""


@dataclass
class Pulse:
    """What the thread knows of one run at work."""

    claim: Claim
    done: int = 0
    total: int = 0
    step: str = ""
    lost: threading.Event = field(default_factory=threading.Event)

    def report(self, done: int, total: int, step: str) -> None:
        """Takes progress from the core; ClaimLost where the run is no longer ours."""
        self.done, self.total, self.step = done, total, step
        if self.lost.is_set():
            raise ClaimLost


class Heart:
    """The runs at work in this process and the thread that beats for them; the thread starts with the first run."""

    def __init__(self) -> None:
        self.by_id: dict[int, Pulse] = {}
        self.lock = threading.Lock()
        self.waken = threading.Event()
        self.thread: threading.Thread | None = None

    def add(self, pulse: Pulse) -> None:
        with self.lock:
            self.by_id[id(pulse)] = pulse
            if self.thread is None or not self.thread.is_alive():
                self.thread = threading.Thread(target=self.run, name="heartbeat", daemon=True)
                self.thread.start()
        self.waken.set()

    def remove(self, pulse: Pulse) -> None:
        with self.lock:
            self.by_id.pop(id(pulse), None)

    def run(self) -> None:
        """Beats for every run at work; holds no database connection between two beats."""
        while True:
            self.waken.wait()
            self.waken.clear()
            while not self.rest():
                with self.lock:
                    pulses = list(self.by_id.values())
                for pulse in pulses:
                    self.beat(pulse)
                connection.close()

    def rest(self) -> bool:
        """Waits one beat; True when no run is left."""
        threading.Event().wait(settings.RUN_BEAT_SECONDS)
        with self.lock:
            return not self.by_id

    def beat(self, pulse: Pulse) -> None:
        try:
            if not beat(pulse.claim, pulse.done, pulse.total, pulse.step):
                pulse.lost.set()
        except DatabaseError:  # the lease still runs; the next beat tries again on a new connection
            log.warning("heartbeat not written", extra={"run": str(pulse.claim.run)})
            connection.close()


heart = Heart()


@contextmanager
def kept_alive(claim: Claim) -> Iterator[Pulse]:
    """Stands around the computation of a run; gives the pulse that takes its progress.

    Inside a transaction nobody else sees the run: none can take it over, and a beat would not find it.
    """
    pulse = Pulse(claim)
    if connection.in_atomic_block:
        yield pulse
        return
    heart.add(pulse)
    try:
        yield pulse
    finally:
        heart.remove(pulse)
