"""Keeps a few processes running: a dead one is started again, later the oftener it dies; all end together."""

from __future__ import annotations

import ctypes
import logging
import os
import signal
import subprocess
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

from estimating.work.stopping import Stopping

log = logging.getLogger(__name__)
LONGEST_WAIT = 30.0  # seconds between two starts of a child that keeps dying
STEADY = 5.0  # seconds after which a child counts as well
GRACE = 30.0  # seconds to end by itself
SET_PARENT_DEATH_SIGNAL = 1  # prctl(2), Linux
# Looked up here and not in the child: a lock that another thread held at the fork is held there for ever
prctl = ctypes.CDLL(None).prctl if sys.platform == "linux" else None


def end_with_parent(parent: int) -> None:
    """Called in a child before it runs: it is told to end when the supervisor is killed (Linux; elsewhere nothing)."""
    if prctl is not None:
        prctl(SET_PARENT_DEATH_SIGNAL, signal.SIGTERM)
        if os.getppid() != parent:  # killed before it was asked
            os.kill(os.getpid(), signal.SIGTERM)


def be_born(parent: int) -> None:
    """Called in a child before it runs. Until it has handlers of its own, Ctrl-C is left to its supervisor.

    A terminal sends SIGINT to all at once; what is still being loaded would end with a traceback.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)  # its supervisor's handler only notes that it was told
    end_with_parent(parent)


@dataclass
class Child:
    """One process to be kept running."""

    name: str
    command: Sequence[str]
    environment: Mapping[str, str]
    held: Sequence[int] = ()  # file descriptors it inherits: the lock of the data folder
    process: subprocess.Popen[bytes] | None = None
    started_at: float = 0.0
    wait: float = 0.5
    due: float = field(default=0.0)

    def start(self) -> None:
        """Starts the process."""
        self.process = subprocess.Popen(
            self.command,
            env=dict(self.environment),
            pass_fds=tuple(self.held),
            preexec_fn=partial(be_born, os.getpid()),
        )
        self.started_at = time.monotonic()

    def look_after(self) -> None:
        """Starts the process where it is due; plans the next start where it has died."""
        now = time.monotonic()
        if self.process is None:
            if now >= self.due:
                self.start()
            return
        status = self.process.poll()
        if status is None:
            return
        self.wait = 0.5 if now - self.started_at > STEADY else min(2 * self.wait, LONGEST_WAIT)
        self.due, self.process = now + self.wait, None
        log.error("a process died", extra={"process_name": self.name, "status": status, "starts_in": self.wait})


def supervise(children: Sequence[Child], stop: Stopping) -> None:
    """Keeps the children running until `stop` is set, then ends them."""
    try:
        while not stop.is_set():
            for child in children:
                child.look_after()
            stop.wait(0.1)
    finally:
        end(children)


def end(children: Sequence[Child]) -> None:
    """Ends the children: asked first, killed after a time of grace."""
    running = [child.process for child in children if child.process is not None and child.process.poll() is None]
    for process in running:
        process.terminate()
    until = time.monotonic() + GRACE
    for process in running:
        try:
            process.wait(max(0.0, until - time.monotonic()))
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
