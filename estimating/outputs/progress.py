"""Progress of long work on a stream: nothing in the first second, then what is being done, seldom."""

from __future__ import annotations

from threading import Event, Thread
from types import TracebackType
from typing import Protocol

PATIENCE_SECONDS = 1.0
EVERY_SECONDS = 5.0


class Stream(Protocol):
    """Where progress is written."""

    def write(self, text: str, /) -> object: ...
    def flush(self) -> object: ...


class Progress:
    """Says what is being done once the work has lasted `patience` seconds, at each new step and every few seconds.

    A terminal gets one line that is written over and cleared at the end; another stream gets a line each time.
    """

    def __init__(self, stream: Stream, *, terminal: bool, patience: float | None = None) -> None:
        self._stream = stream
        self._terminal = terminal
        self._patience = PATIENCE_SECONDS if patience is None else patience
        self._step = "starting"
        self._changed = Event()
        self._done = Event()
        self._shown = False
        self._thread = Thread(target=self._watch, daemon=True)

    def __enter__(self) -> Progress:
        self._thread.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._done.set()
        self._changed.set()
        self._thread.join()
        if self._shown and self._terminal:
            self._write("\r\x1b[K")

    def __call__(self, done: int, total: int, step: str) -> None:
        """Note the step that begins now, `done` of `total`."""
        self._step = f"{step} ({done + 1} of {total})"
        self._changed.set()

    def _watch(self) -> None:
        if self._done.wait(self._patience):
            return
        while not self._done.is_set():
            self._changed.clear()
            self._shown = True
            self._write(f"\r\x1b[K{self._step} …" if self._terminal else f"{self._step} …\n")
            self._changed.wait(EVERY_SECONDS)

    def _write(self, text: str) -> None:
        try:
            self._stream.write(text)
            self._stream.flush()
        except (OSError, ValueError):
            pass  # whoever read the progress is gone; the work goes on
