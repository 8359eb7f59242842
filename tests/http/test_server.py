"""The server of HTTP: what it takes, what it refuses with a problem document, and until when it waits (RFC 9112)."""

from __future__ import annotations

import json
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from types import SimpleNamespace
from typing import Any

import pytest

from api.server import connection, listener
from api.server.incoming import LONGEST_HEAD
from api.server.listener import Listener
from tests import live
from tests.unfinished import HOLDER, holding

released = threading.Event()


def echo(environ: dict[str, Any], start_response: Any) -> list[bytes]:
    """Answers the length of the body that came; /wait only once it is told to."""
    if environ["PATH_INFO"] == "/wait":
        assert released.wait(20)
    if environ["PATH_INFO"] == "/fault":
        raise RuntimeError("of a test")
    length = environ.get("CONTENT_LENGTH", "none")
    body = json.dumps([length, len(environ["wsgi.input"].read())]).encode()
    start_response("200 OK", [("Content-Type", "application/json"), ("Content-Length", str(len(body)))])
    return [body]


@pytest.fixture
def server() -> Iterator[Listener]:
    released.clear()
    with live.serving(echo) as made:
        yield made


def ask(server: Listener, raw: bytes) -> bytes:
    """All that comes back on a connection of its own until the server closes it."""
    with live.connect(server) as sender:
        sender.sendall(raw)
        return live.read_all(sender)


CLOSE = {"Connection": "close"}


def test_a_body_in_chunks_is_a_body_like_any_other(server: Listener) -> None:
    whole = ask(server, live.write_request("POST", "/", b"x" * 70_000, **CLOSE))
    chunked = ask(server, live.write_chunked("POST", "/", [b"x" * 30_000, b"x", b"x" * 39_999], **CLOSE))
    assert whole.endswith(b'["70000", 70000]') and chunked.endswith(b'["70000", 70000]')


def test_requests_on_one_connection_are_answered_in_their_order(server: Listener) -> None:
    raw = b"".join(live.write_request("POST", "/", b"x" * length) for length in range(20))
    found = ask(server, raw + live.write_request("POST", "/", b"", **CLOSE))
    assert [int(part.partition(b'"')[0]) for part in found.split(b'["')[1:]] == [*range(20), 0]


def test_head_is_answered_without_content(server: Listener) -> None:
    found = ask(server, live.write_request("HEAD", "/", **CLOSE))
    assert b"Content-Length: 8\r\n" in found and found.endswith(b"\r\n\r\n")


def test_a_client_that_asks_before_it_sends_is_told_to_go_on(server: Listener) -> None:
    head, _, body = live.write_request("POST", "/", b"x" * 10, Expect="100-continue", **CLOSE).partition(b"\r\n\r\n")
    with live.connect(server) as sender:
        sender.sendall(head + b"\r\n\r\n")
        assert sender.recv(100) == b"HTTP/1.1 100 Continue\r\n\r\n"
        sender.sendall(body)
        assert live.read_all(sender).endswith(b'["10", 10]')


def test_it_is_refused_before_it_sends_what_is_too_large(server: Listener) -> None:
    raw = b"POST / HTTP/1.1\r\nHost: x\r\nExpect: 100-continue\r\nContent-Length: 70000000\r\n\r\n"
    assert live.read_problem(ask(server, raw)) == (413, "too_large")


START = b"POST / HTTP/1.1\r\nHost: x\r\n"
CHUNKED = START + b"Transfer-Encoding: chunked\r\n\r\n"


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"NONSENSE\r\n\r\n", (400, "malformed")),
        (b"GET / HTTP/1.1\r\nBad Header: x\r\n\r\n", (400, "malformed")),
        (b"GET /%s HTTP/1.1\r\n\r\n" % (b"a" * 9000), (414, "uri_too_long")),
        (b"GET / HTTP/1.1\r\nA: %s\r\n\r\n" % (b"a" * LONGEST_HEAD), (431, "fields_too_large")),
        (b"GET / HTTP/1.1\r\nA: %s" % (b"a" * LONGEST_HEAD), (431, "fields_too_large")),
        (START + b"Content-Length: 5, 6\r\n\r\nhello", (400, "malformed")),
        (START + b"Content-Length: +5\r\n\r\nhello", (400, "malformed")),
        (START + b"Content-Length: %s\r\n\r\n" % (b"9" * 5000), (400, "malformed")),
        # RFC 9112 section 6.3: two lengths are an attempt to have two readers disagree
        (START + b"Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n", (400, "malformed")),
        (b"POST / HTTP/1.0\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n", (400, "malformed")),
        (START + b"Transfer-Encoding: gzip, chunked\r\n\r\n0\r\n\r\n", (501, "not_implemented")),
        (CHUNKED + b"zz\r\nhello\r\n0\r\n\r\n", (400, "malformed")),
        (CHUNKED + b"5\r\nhelloooo\r\n0\r\n\r\n", (400, "malformed")),
        (CHUNKED + b"5;%s\r\n" % (b"a=1;" * 500), (400, "malformed")),  # never ends its line
        (CHUNKED + b"1\r\nx\r\n" * 20_000, (400, "malformed")),
        (CHUNKED + b"0\r\n" + b"A: b\r\n" * 3000, (400, "malformed")),
        (CHUNKED + b"4000000\r\n" + b"x" * (2**26 + 1), (413, "too_large")),
    ],
    ids=range(17),
)
def test_what_is_no_request_gets_a_problem_document(server: Listener, raw: bytes, told: tuple[int, str]) -> None:
    assert live.read_problem(ask(server, raw)) == told
    assert ask(server, live.write_request("POST", "/", b"12", **CLOSE)).endswith(b'["2", 2]')


def test_a_fault_of_the_application_is_a_problem_document_too(server: Listener) -> None:
    assert live.read_problem(ask(server, live.write_request("GET", "/fault"))) == (500, "fault")


@pytest.mark.parametrize(
    ("start", "told"),
    [
        (b"", None),
        (b"\r\n\r\n", None),
        (b"GET / HTTP/1.1\r\nHost: x", (408, "not_in_time")),
        (START + b"Content-Length: 50\r\n\r\nhello", (408, "not_in_time")),
        (CHUNKED + b"5\r\nhello\r\n", (408, "not_in_time")),
    ],
    ids=("nothing", "blank lines", "head", "body", "chunks"),
)
def test_who_lets_bytes_trickle_is_not_waited_for(
    server: Listener, monkeypatch: pytest.MonkeyPatch, start: bytes, told: tuple[int, str] | None
) -> None:
    for name in ("IDLE_SECONDS", "HEAD_SECONDS", "BODY_SECONDS"):
        monkeypatch.setattr(connection, name, 0.5)
    found = b""
    with live.connect(server) as sender:
        sender.sendall(start)
        sender.settimeout(0.1)
        while True:  # until it ends: a byte now and then does not move the deadline
            try:
                part = sender.recv(2**16)
            except TimeoutError:
                if start and not found:
                    with suppress(OSError):  # it has ended meanwhile
                        sender.send(b"1" if told else start)
                continue
            except ConnectionResetError:  # it has ended with a byte unread
                part = b""
            if not part:
                break
            found += part
    assert (live.read_problem(found) if found else None) == told


def test_a_slow_line_has_the_time_that_its_bytes_earn() -> None:
    running = SimpleNamespace(stopping=False)

    def deadline(**state: Any) -> float:
        plain = {"lingering": False, "serving": False, "total_outbufs_len": 0, "request": None, "server": running}
        return connection.Connection.deadline.fget(SimpleNamespace(**plain | {"began": 100.0} | state))  # type: ignore

    def request(whole_head: bool, body: int) -> SimpleNamespace:
        return SimpleNamespace(headers_finished=whole_head, body_bytes_received=body)

    assert deadline() == 115
    assert deadline(request=request(False, 0)) == 110
    assert deadline(request=request(True, 0)) == 120
    assert deadline(request=request(True, 64 * 2**20)) == 120 + 4096  # 64 MiB at 16 KiB/s
    assert deadline(request=request(True, 0), serving=True) == float("inf")
    assert deadline(total_outbufs_len=1, last_activity=200.0) == 230
    running.stopping = True
    assert deadline(total_outbufs_len=1, last_activity=200.0) == 205


def test_one_that_is_served_has_no_deadline(server: Listener, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("IDLE_SECONDS", "HEAD_SECONDS", "BODY_SECONDS", "STALLED_SECONDS"):
        monkeypatch.setattr(connection, name, 0.2)
    with live.connect(server) as sender:
        sender.sendall(live.write_request("GET", "/wait", **CLOSE))
        time.sleep(1.5)
        released.set()
        assert live.read_all(sender).startswith(b"HTTP/1.1 200")


def test_the_wait_for_a_next_request_begins_with_the_answer(server: Listener, monkeypatch: pytest.MonkeyPatch) -> None:
    """The event loop is woken while the thread of a long request ends it, and may then look at the deadlines."""
    wake = server.pull_trigger

    def look_and_wake() -> None:
        for one in server.connections:
            one.end_overdue(time.time())
        wake()

    with live.connect(server) as sender:
        sender.sendall(live.write_request("GET", "/wait"))
        while not any(one.serving for one in server.connections):
            time.sleep(0.01)
        for one in server.connections:
            one.began -= connection.IDLE_SECONDS + 1
        monkeypatch.setattr(server, "pull_trigger", look_and_wake)
        released.set()
        while any(one.serving for one in server.connections):
            time.sleep(0.01)
        sender.sendall(live.write_request("GET", "/", **CLOSE))
        assert live.read_all(sender).count(b"HTTP/1.1 200") == 2


def test_a_connection_that_ends_ends_no_other(server: Listener, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("IDLE_SECONDS", "HEAD_SECONDS", "BODY_SECONDS"):
        monkeypatch.setattr(connection, name, 0.05)
    end_overdue = connection.Connection.end_overdue

    def end_held(one: connection.Connection, now: float) -> None:
        if one.addr[0] == HOLDER:  # who asks beside it has time
            end_overdue(one, now)

    monkeypatch.setattr(connection.Connection, "end_overdue", end_held)
    monkeypatch.setattr(listener, "LOOK_SECONDS", 0.01)
    # Each ends and comes again all the while
    with holding(f"http://127.0.0.1:{server.effective_port}", 50, pause=0.02):
        for length in range(1000):
            raw = live.write_request("POST", "/", b"x" * length, **CLOSE)
            assert ask(server, raw).endswith(b'["%d", %d]' % (length, length))


def test_what_is_being_answered_when_the_server_stops_is_answered(server: Listener) -> None:
    with live.connect(server) as sender, live.connect(server) as idle:
        sender.sendall(live.write_request("GET", "/wait"))
        while not any(one.serving for one in server.connections):
            time.sleep(0.01)
        server.stop()
        released.set()
        found = live.read_all(sender)
        assert found.startswith(b"HTTP/1.1 200") and b"\r\nConnection: close\r\n" in found
        assert idle.recv(1) == b""
    with pytest.raises(OSError):
        live.connect(server)


def test_urgent_data_ends_the_connection(server: Listener) -> None:
    with live.connect(server) as sender:
        sender.send(b"!", socket.MSG_OOB)
        with suppress(ConnectionResetError):
            assert sender.recv(1) == b""


def test_too_many_connections_cost_the_address_that_has_the_most(
    server: Listener, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(listener, "MOST_CONNECTIONS", 20)
    mine = [live.connect(server) for _ in range(5)]
    many = [live.connect(server, "127.0.0.2") for _ in range(40)]
    for sender in mine:
        sender.sendall(live.write_request("GET", "/", **CLOSE))
        assert live.read_all(sender).startswith(b"HTTP/1.1 200")
    many[-1].sendall(live.write_request("GET", "/", **CLOSE))  # the address itself is not locked out
    assert live.read_all(many[-1]).startswith(b"HTTP/1.1 200")
    assert many[0].recv(1) == b"" and len(server.connections) <= 20
    for sender in (*mine, *many):
        sender.close()


def test_too_much_in_memory_costs_the_address_that_holds_the_most(
    server: Listener, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(listener, "MOST_HELD", 8 * 2**20)
    monkeypatch.setattr(listener, "LOOK_BYTES", 2**20)
    small = live.write_request("POST", "/", b"x" * 100_000, **CLOSE)
    with live.connect(server) as mine:
        mine.sendall(small[:60_000])
        many = [live.connect(server, "127.0.0.2") for _ in range(8)]
        for sender in many:
            try:
                sender.sendall(live.write_request("POST", "/", b"x" * 3_000_000)[:-1])
            except OSError:  # it has given way while it sent
                continue
        assert sum(one.held for one in server.connections) <= 2 * 8 * 2**20
        mine.sendall(small[60_000:])
        assert live.read_all(mine).endswith(b'["100000", 100000]')
    told = []
    for sender in many:
        with sender, suppress(OSError):  # one that still sent when its time to linger was over is reset
            sender.shutdown(socket.SHUT_WR)
            told.append(live.read_problem(live.read_all(sender)))
    assert (503, "unavailable") in told and set(told) <= {(503, "unavailable"), (400, "malformed")}
