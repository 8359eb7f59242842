"""Requests that are never finished, many at once from one address of this machine, and who is served beside them."""

from __future__ import annotations

import http.client
import os
import secrets
import socket
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from urllib.parse import urlsplit

from tests.service import PATIENCE, Remote

HOLDER = "127.0.0.2"
COUNT = 200
SECONDS = float(os.environ.get("UNFINISHED_SECONDS", "3"))
STARTS = (
    b"",
    b"GET /v1/projects HTTP/1.1\r\nHost: localhost\r\nX-Slow: ",
    b"POST /v1/estimates HTTP/1.1\r\nHost: localhost\r\nContent-Length: 60000000\r\n\r\n{",
    b"POST /v1/projects HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\n4\r\n{   \r\n",
)


def open_unfinished(place: tuple[str, int], number: int) -> socket.socket:
    """A connection of the holder with one more request that lacks its end."""
    connection = socket.create_connection(place, 10, source_address=(HOLDER, 0))
    connection.sendall(STARTS[number % len(STARTS)])
    connection.setblocking(False)
    return connection


def hold(place: tuple[str, int], count: int, over: threading.Event, open_now: threading.Event, pause: float) -> None:
    """Keeps so many unfinished requests open: a byte now and then, a new one for each that the server ends."""
    held = {number: open_unfinished(place, number) for number in range(count)}
    open_now.set()
    while not over.wait(pause):
        for number, connection in held.items():
            try:
                if STARTS[number % len(STARTS)]:
                    connection.send(b" ")
                if connection.recv(2**16):
                    continue
            except BlockingIOError:
                continue
            except OSError:
                pass
            connection.close()
            try:
                held[number] = open_unfinished(place, number)
            except OSError:  # the server was slow to take it in: tried again in a moment
                continue
    for connection in held.values():
        connection.close()


@contextmanager
def holding(base: str, count: int, pause: float = 0.5) -> Iterator[None]:
    """So many unfinished requests, all the while."""
    parts = urlsplit(base)
    over, open_now = threading.Event(), threading.Event()
    place = (str(parts.hostname), int(parts.port or 0))
    holder = threading.Thread(target=hold, args=(place, count, over, open_now, pause), daemon=True)
    holder.start()
    try:
        assert open_now.wait(PATIENCE)
        yield
    finally:
        over.set()
        holder.join(10)


@dataclass(frozen=True)
class Served:
    """Seconds of every answer."""

    seconds: list[float]

    @property
    def p95(self) -> float:
        """Milliseconds below which 95 of 100 answers stay."""
        return sorted(self.seconds)[int(0.95 * len(self.seconds))] * 1000


def ask_on(client: Remote, seconds: float) -> Served:
    """Asks again and again for so long, each time on a new connection; AssertionError for anything but 200."""
    taken: list[float] = []
    until = time.monotonic() + seconds
    while time.monotonic() < until or len(taken) < 20:
        start = time.monotonic()
        assert client.get("/v1/projects")[0] == 200
        taken.append(time.monotonic() - start)
    return Served(taken)


def ask_from(client: Remote, source: str) -> int:
    """The status of one answer to a client of another address."""
    parts = urlsplit(client.base)
    sender = http.client.HTTPConnection(str(parts.hostname), parts.port, timeout=PATIENCE, source_address=(source, 0))
    try:
        sender.request("GET", "/v1/projects", headers={"Authorization": f"Bearer {client.key}"})
        return sender.getresponse().status
    finally:
        sender.close()


def hold_and_ask(client: Remote, *, count: int, seconds: float) -> str:
    """Asks in a quiet time and beside unfinished requests: what it came to, as a line; AssertionError for a refusal."""
    quiet = ask_on(client, min(seconds, 5))
    with holding(client.base, count):
        busy = ask_on(client, seconds)
        with ThreadPoolExecutor(40) as office:  # the holder's neighbours: 40 clients of its address at once
            statuses = list(office.map(lambda _: ask_from(client, HOLDER), range(40)))
        assert statuses == [200] * 40
        path = "/v1/projects"
        made = client.send("POST", path, {"name": "Beside"}, Idempotency_Key=secrets.token_hex(8))
        assert made[0] == 201
    return (
        f"{len(busy.seconds)} answers beside {count} unfinished requests: p95 {busy.p95:.1f} ms; "
        f"{len(quiet.seconds)} in a quiet time: p95 {quiet.p95:.1f} ms"
    )


def until_database(client: Remote, told: str) -> None:
    """Returns once /readyz says so of the database."""
    until = time.monotonic() + PATIENCE
    while client.get("/readyz")[1]["checks"]["database"] != told:
        assert time.monotonic() < until
        time.sleep(0.1)
