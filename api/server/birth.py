"""Signals that tell a process to end, held back while it is born."""

from __future__ import annotations

import signal

ENDING = {signal.SIGTERM, signal.SIGINT, signal.SIGQUIT}


def hold_signals() -> None:
    """They wait."""
    signal.pthread_sigmask(signal.SIG_BLOCK, ENDING)


def let_signals_through() -> None:
    """They come, those that have waited at once."""
    signal.pthread_sigmask(signal.SIG_UNBLOCK, ENDING)
