"""Threads that answer requests, the one that became idle last asked first.

The standard library's pool wakes idle threads in turn, so that a quiet service goes through all of them: each with a
database connection of its own, each with its memory gone cold by its turn. Here only as many are awake as are needed
at once: fewer connections, and what a request needs is still where the last one left it.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from functools import partial
from queue import SimpleQueue
from typing import Any

from gunicorn.workers.gthread import ThreadWorker


@dataclass(frozen=True, slots=True)
class Task:
    """A call whose outcome somebody waits for."""

    future: Future[Any]
    call: Callable[[], Any]

    def make(self) -> Callable[[], None]:
        """Makes the call, unless it was cancelled; gives back what tells its outcome."""
        if not self.future.set_running_or_notify_cancel():
            return nothing
        try:
            return partial(self.future.set_result, self.call())
        except BaseException as fault:  # also what would end a thread: whoever waits is to hear of it
            return partial(self.future.set_exception, fault)


def nothing() -> None:
    """Tells nothing."""


Seat = SimpleQueue[Task | None]  # where one thread waits for its next task; None tells it to end


class RecentFirst(Executor):
    """At most `most` threads, each started once it is needed; tasks that must wait keep their order."""

    def __init__(self, most: int) -> None:
        self.most = most
        self.threads: list[threading.Thread] = []
        self._seats: list[Seat] = []  # of all threads
        self._idle: list[Seat] = []  # of those without a task, the latest last
        self._waiting: deque[Task] = deque()
        self._closed = False
        # Reentrant: the handler of a signal calls `shutdown` in a thread that may be inside `submit`
        self._lock = threading.RLock()

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """The future of a call; RuntimeError after `shutdown`."""
        task = Task(Future(), partial(fn, *args, **kwargs))
        with self._lock:
            if self._closed:
                raise RuntimeError("no task is taken after shutdown")
            if self._idle:
                self._idle.pop().put(task)
            elif len(self.threads) < self.most:
                self._start(task)
            else:
                self._waiting.append(task)
        return task.future

    def _start(self, task: Task) -> None:
        """Starts one more thread with its first task."""
        seat: Seat = SimpleQueue()
        seat.put(task)
        self._seats.append(seat)  # first: a signal may break in, and whoever runs must be told to end
        thread = threading.Thread(target=self._work, args=(seat,), name=f"request-{len(self.threads)}")
        thread.start()
        self.threads.append(thread)

    def _work(self, seat: Seat) -> None:
        """The life of one thread."""
        task = seat.get()
        while task is not None:
            tell = task.make()
            # Idle before the outcome is told: what follows from it, the connection's next request, comes back here
            waiting = self._next(seat)
            tell()
            del task, tell  # a thread that sleeps holds nothing
            task = waiting or seat.get()

    def _next(self, seat: Seat) -> Task | None:
        """The task that has waited longest; where none does, the thread of the seat counts as idle from here on."""
        with self._lock:
            if self._waiting:
                return self._waiting.popleft()
            self._idle.append(seat)
        return None

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Takes no more tasks; each thread ends once nothing that was submitted waits for it."""
        with self._lock:
            self._closed = True
            dropped = list(self._waiting) if cancel_futures else []
            if cancel_futures:
                self._waiting.clear()
            # All seats, not only idle ones: a `submit` broken off by a signal may have taken one and given it nothing
            for seat in self._seats:
                seat.put(None)
        for task in dropped:
            task.future.cancel()
            task.future.set_running_or_notify_cancel()
        if wait:
            for thread in self.threads:
                thread.join()


class Worker(ThreadWorker):
    """Gunicorn's threaded worker on that pool."""

    def get_thread_pool(self) -> RecentFirst:
        """The pool, one for each worker process."""
        return RecentFirst(self.cfg.threads)

    def init_process(self) -> None:
        """Runs the worker to its end; whichever way that comes, the idle threads end too."""
        try:
            super().init_process()
        finally:
            if self.tpool is not None:
                self.tpool.shutdown(wait=False)
