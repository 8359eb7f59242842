"""The pool of request threads: the last idle is asked first, nothing is lost, nothing runs out of turn."""

from __future__ import annotations

import http.client
import os
import signal
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError, Future, ThreadPoolExecutor, wait
from contextlib import contextmanager
from typing import Any

import pytest

from api.threads import RecentFirst
from tests.service import ROOT, free_port, reachable

SECONDS = 10


class Gate:
    """Tasks that stand still until they are let through, each telling its thread."""

    def __init__(self) -> None:
        self.inside = threading.Semaphore(0)
        self.open = threading.Event()

    def task(self) -> str:
        self.inside.release()
        assert self.open.wait(SECONDS)
        return threading.current_thread().name

    def await_inside(self, count: int) -> None:
        for _ in range(count):
            assert self.inside.acquire(timeout=SECONDS)


def name() -> str:
    """The thread that runs this."""
    return threading.current_thread().name


@pytest.fixture
def pool() -> Iterator[RecentFirst]:
    with RecentFirst(3) as found:
        yield found


def fill(pool: RecentFirst, count: int) -> tuple[Gate, list[Future[str]]]:
    """So many threads busy."""
    gate = Gate()
    futures = [pool.submit(gate.task) for _ in range(count)]
    gate.await_inside(count)
    return gate, futures


def test_outcomes_and_arguments(pool: RecentFirst) -> None:
    assert pool.submit(lambda a, b=0: a + b, 2, b=3).result(SECONDS) == 5


@pytest.mark.parametrize("fault", [ValueError("x"), SystemExit(3), KeyboardInterrupt()])
def test_what_a_task_raises_is_told_and_its_thread_goes_on(pool: RecentFirst, fault: BaseException) -> None:
    def fail() -> None:
        raise fault

    for _ in range(5):
        assert pool.submit(fail).exception(SECONDS) is fault
    assert pool.submit(name).result(SECONDS) == "request-0"


def test_threads_start_only_when_they_are_needed(pool: RecentFirst) -> None:
    assert pool.threads == []
    for _ in range(50):
        pool.submit(name).result(SECONDS)
    assert len(pool.threads) == 1


def test_what_follows_from_an_outcome_finds_the_same_thread(pool: RecentFirst) -> None:
    seen: list[str] = []
    done = threading.Event()

    def follow(future: Future[str]) -> None:
        seen.append(future.result())
        if len(seen) == 20:
            done.set()
        else:
            pool.submit(name).add_done_callback(follow)

    pool.submit(name).add_done_callback(follow)
    assert done.wait(SECONDS)
    assert set(seen) == {"request-0"}


def test_the_last_to_become_idle_is_asked_first(pool: RecentFirst) -> None:
    gates = [Gate(), Gate(), Gate()]
    futures = []
    for gate in gates:
        futures.append(pool.submit(gate.task))
        gate.await_inside(1)
    for place in (2, 0, 1):
        gates[place].open.set()
        futures[place].result(SECONDS)
    gate, again = fill(pool, 3)
    gate.open.set()
    assert [future.result(SECONDS) for future in again] == ["request-1", "request-0", "request-2"]


def test_never_more_threads_than_asked_and_the_rest_keeps_its_order(pool: RecentFirst) -> None:
    gate, busy = fill(pool, 3)
    order: list[int] = []
    queued = [pool.submit(order.append, number) for number in range(100)]
    assert len(pool.threads) == 3 and not order
    gate.open.set()
    wait([*busy, *queued], SECONDS)
    assert sorted(order) == list(range(100)) and len(pool.threads) == 3


def test_one_thread_works_in_the_order_of_submission() -> None:
    with RecentFirst(1) as pool:
        gate, _ = fill(pool, 1)
        order: list[int] = []
        for number in range(1000):
            pool.submit(order.append, number)
        gate.open.set()
    assert order == list(range(1000))


def test_many_senders_at_once_lose_nothing() -> None:
    done: list[tuple[int, int]] = []
    with RecentFirst(4) as pool:

        def send(sender: int) -> None:
            for number in range(500):
                pool.submit(done.append, (sender, number))
                if number % 50 == 0:
                    time.sleep(0.001)

        senders = [threading.Thread(target=send, args=(sender,)) for sender in range(8)]
        for thread in senders:
            thread.start()
        for thread in senders:
            thread.join()
    assert sorted(done) == [(sender, number) for sender in range(8) for number in range(500)]
    assert len(pool.threads) <= 4


def test_a_cancelled_task_does_not_run(pool: RecentFirst) -> None:
    gate, _ = fill(pool, 3)
    ran: list[int] = []
    future = pool.submit(ran.append, 1)
    assert future.cancel()
    gate.open.set()
    with pytest.raises(CancelledError):
        future.result(SECONDS)
    assert pool.submit(name).result(SECONDS) and not ran


def test_shutdown_lets_everything_submitted_end() -> None:
    pool = RecentFirst(2)
    gate, busy = fill(pool, 2)
    waiting = [pool.submit(name) for _ in range(20)]
    pool.shutdown(wait=False)
    with pytest.raises(RuntimeError):
        pool.submit(name)
    gate.open.set()
    pool.shutdown()
    assert all(future.done() and future.exception() is None for future in (*busy, *waiting))
    assert not any(thread.is_alive() for thread in pool.threads)


def test_shutdown_may_drop_what_waits() -> None:
    pool = RecentFirst(1)
    gate, busy = fill(pool, 1)
    waiting = [pool.submit(name) for _ in range(5)]
    pool.shutdown(wait=False, cancel_futures=True)
    assert all(future.cancelled() for future in waiting)
    gate.open.set()
    pool.shutdown()
    assert busy[0].result(0) == "request-0"


def test_shutdown_ends_threads_that_never_had_a_second_task(pool: RecentFirst) -> None:
    gate, _ = fill(pool, 3)
    gate.open.set()
    pool.shutdown()
    assert not any(thread.is_alive() for thread in pool.threads)


def application(environ: Any, start_response: Callable[..., Any]) -> list[bytes]:
    """A WSGI application that takes its time."""
    time.sleep(0.0 if environ["PATH_INFO"] == "/" else 1.0)
    start_response("200 OK", [("Content-Type", "text/plain")])
    return [name().encode()]


@contextmanager
def server() -> Iterator[tuple[str, subprocess.Popen[bytes]]]:
    """That application under the service's own gunicorn settings, with one idle thread."""
    port = free_port()
    command = [sys.executable, "-m", "gunicorn", "-c", "python:api.gunicorn_conf", f"{__name__}:application"]
    process = subprocess.Popen(command, cwd=ROOT, env=os.environ | {"BIND": f"127.0.0.1:{port}"})
    try:
        until = time.monotonic() + SECONDS
        while not reachable("127.0.0.1", port):
            assert time.monotonic() < until
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}", process
    finally:
        process.kill()
        process.wait()


def ask(url: str) -> str:
    """The thread that answered."""
    with urllib.request.urlopen(url, timeout=SECONDS) as answer:
        return answer.read().decode()


def test_a_kept_connection_stays_with_one_thread() -> None:
    with server() as (base, _):
        connection = http.client.HTTPConnection(base.removeprefix("http://"), timeout=SECONDS)
        seen = set()
        for _ in range(50):
            connection.request("GET", "/")
            seen.add(connection.getresponse().read())
        connection.close()
    assert len(seen) == 1


def test_a_server_told_to_end_answers_first() -> None:
    with server() as (base, process), ThreadPoolExecutor(4) as clients:
        ask(base)
        answers = [clients.submit(ask, f"{base}/slow") for _ in range(4)]
        time.sleep(0.5)
        process.send_signal(signal.SIGTERM)
        assert len({answer.result(SECONDS) for answer in answers}) == 4
        assert process.wait(SECONDS) == 0


@pytest.mark.parametrize("number", [signal.SIGQUIT, signal.SIGINT])
def test_a_server_told_to_quit_ends_at_once(number: int) -> None:
    with server() as (base, process):
        ask(base)
        process.send_signal(number)
        assert process.wait(3) == 0
