"""The server of HTTP in this process, around this test's own database: real connections, no process to start."""

from __future__ import annotations

import json
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from waitress.task import ThreadedTaskDispatcher

from api.server.listener import Listener, listen

THREADS = 4


@contextmanager
def serving(application: Any) -> Iterator[Listener]:
    """The listener, at work in a thread of its own until the end."""
    with socket.create_server(("127.0.0.1", 0)) as sock:
        threads = ThreadedTaskDispatcher()
        threads.set_thread_count(THREADS)
        listener = listen(application, sock, threads)
        over = threading.Event()

        def turn() -> None:
            while not over.is_set():
                listener.turn(0.2)

        loop = threading.Thread(target=turn)
        loop.start()
        try:
            yield listener
        finally:
            over.set()
            listener.pull_trigger()
            loop.join(10)
            listener.end()


def connect(listener: Listener, source: str = "127.0.0.1") -> socket.socket:
    """A connection from an address of this machine."""
    return socket.create_connection(("127.0.0.1", int(listener.effective_port)), 20, source_address=(source, 0))


def write_request(method: str, path: str, body: bytes = b"", **fields: str) -> bytes:
    """The bytes of a request with its Content-Length; fields are header fields, `_` for `-`."""
    told = {"Host": "localhost", "Content-Length": str(len(body))} | fields
    head = "".join(f"{name.replace('_', '-')}: {value}\r\n" for name, value in told.items())
    return f"{method} {path} HTTP/1.1\r\n{head}\r\n".encode() + body


def write_chunked(method: str, path: str, chunks: list[bytes], **fields: str) -> bytes:
    """The bytes of a request whose body comes in chunks."""
    told = {"Host": "localhost", "Transfer-Encoding": "chunked"} | fields
    head = "".join(f"{name.replace('_', '-')}: {value}\r\n" for name, value in told.items())
    body = b"".join(b"%x\r\n%s\r\n" % (len(chunk), chunk) for chunk in chunks if chunk)
    return f"{method} {path} HTTP/1.1\r\n{head}\r\n".encode() + body + b"0\r\n\r\n"


def read_all(connection: socket.socket) -> bytes:
    """All that comes until the other side closes."""
    parts = []
    while part := connection.recv(2**16):
        parts.append(part)
    return b"".join(parts)


def read_problem(answer: bytes) -> tuple[int, str]:
    """Status and kind of a problem document, told in whole."""
    head, _, body = answer.partition(b"\r\n\r\n")
    assert b"application/problem+json" in head, answer[:300]
    document = json.loads(body)
    assert int(head.split(b" ", 2)[1]) == document["status"]
    return document["status"], document["type"].rpartition("problem-")[2]


def wait_quiet(listener: Listener) -> None:
    """Returns once no connection is left."""
    until = time.monotonic() + 30
    while listener.connections:
        assert time.monotonic() < until
        time.sleep(0.005)
