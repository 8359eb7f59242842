"""Gunicorn's worker process around waitress's event loop.

Gunicorn keeps processes: it binds, forks, restarts the dead, passes signals on. Waitress keeps connections: requests
are read in one event loop and only whole ones are given to a thread, so that no unfinished request holds any.
"""

from __future__ import annotations

import os
import resource
import time
from typing import Any

from gunicorn.workers.base import Worker as Process
from waitress.task import ThreadedTaskDispatcher

from api.server.birth import let_signals_through
from api.server.listener import MOST_CONNECTIONS, Listener, listen

LOOP_SECONDS = 0.5
READING_GRACE = 2.0  # seconds that a stopping worker gives to a request that is still arriving
DESCRIPTORS = 2 * MOST_CONNECTIONS  # of a process: connections, databases, files


class Worker(Process):
    """One process: an event loop and so many threads."""

    listener: Listener | None = None

    def run(self) -> None:
        """Serves until it is told to stop or its master is gone, then ends what it has begun."""
        allow_descriptors()
        threads = ThreadedTaskDispatcher()
        threads.set_thread_count(self.cfg.threads)
        (sock,) = self.sockets
        self.listener = listen(self.wsgi, sock.sock, threads)
        while self.alive and self.ppid == os.getppid():
            self.notify()
            self.listener.turn(LOOP_SECONDS)
        self.end(self.listener)

    def end(self, listener: Listener) -> None:
        """Answers what was taken in, within gunicorn's time of grace."""
        listener.stop()
        start = time.monotonic()
        while (passed := time.monotonic() - start) < self.cfg.graceful_timeout:
            arriving = any(one.request is not None for one in listener.connections)
            if not listener.unfinished() and not (arriving and passed < READING_GRACE):
                break
            self.notify()
            listener.turn(0.1)
        listener.end()

    def init_signals(self) -> None:
        """Sets its handlers; what it was told since its birth reaches them."""
        super().init_signals()
        let_signals_through()

    def handle_exit(self, sig: int, frame: Any) -> None:
        """Told to stop: the event loop is woken."""
        super().handle_exit(sig, frame)
        if self.listener is not None:
            self.listener.pull_trigger()


def allow_descriptors() -> None:
    """Raises this process's own limit of open files to what so many connections need, as far as it may."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = DESCRIPTORS if hard == resource.RLIM_INFINITY else min(DESCRIPTORS, hard)
    if soft != resource.RLIM_INFINITY and soft < wanted:
        resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))
