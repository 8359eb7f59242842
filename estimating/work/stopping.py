"""Being told to stop: by a signal, which may come in the middle of anything, a wait for this very word included."""

from __future__ import annotations

import signal
import time

LONGEST_SLEEP = 0.1  # seconds: a sleep goes on after a signal


class Stopping:
    """Whether the process was told to stop.

    Takes no lock, so that a signal handler may set it. A threading.Event can't be set there: its wait() holds a lock
    that its set() takes, both run in the main thread, and a signal at the wrong moment holds the process for ever.
    """

    def __init__(self) -> None:
        self.told = False

    def set(self) -> None:
        """Tells it to stop."""
        self.told = True

    def is_set(self) -> bool:
        """Whether it was told."""
        return self.told

    def wait(self, seconds: float) -> bool:
        """Whether it was told, at once or within so many seconds."""
        until = time.monotonic() + seconds
        while not self.told and (left := until - time.monotonic()) > 0:
            time.sleep(min(left, LONGEST_SLEEP))
        return self.told


def stopping_by_signal() -> Stopping:
    """Told to stop by SIGTERM, or by SIGINT, which a terminal sends."""
    stop = Stopping()
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: stop.set())
    return stop
