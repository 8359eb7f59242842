"""One connection: what it is doing, until when it may, and how it ends."""

from __future__ import annotations

import socket
import time
from typing import Any

from waitress.channel import HTTPChannel
from waitress.utilities import BadRequest, Error

from api.origin import asked_from
from api.server.answering import Answering, Refusing
from api.server.incoming import Incoming, NotInTime

IDLE_SECONDS = 15.0  # between two requests, and before the first
HEAD_SECONDS = 10.0  # for a request line with its header fields
BODY_SECONDS = 20.0  # for a body, and one more
LEAST_RATE = 16 * 2**10  # for so many bytes of it that have come
STALLED_SECONDS = 30.0  # for a client that takes nothing of its answer
STALLED_AT_END_SECONDS = 5.0  # while the server is ending, which waits for it
LINGER_SECONDS = 3.0  # in which what is still being sent is read and dropped, so that a refusal gets through


class Connection(HTTPChannel):
    """A connection of the event loop; whole requests alone are given to a thread."""

    task_class = Answering
    error_task_class = Refusing
    parser_class = Incoming

    request: Incoming | None  # that is being read
    requests: list[Incoming]  # that are whole
    began: float  # of the request that is being read, or of the wait for one
    last_activity: float
    total_outbufs_len: int
    refused = False  # its last answer tells why nothing more is read
    lingering = False  # all is written; what comes is dropped
    asker = ""  # the address that counts for it

    def __init__(self, server: Any, sock: Any, addr: Any, adj: Any, map: Any = None) -> None:
        super().__init__(server, sock, addr, adj, map=map)
        self.asker = addr[0]
        self.began = self.creation_time

    @property
    def serving(self) -> bool:
        """Whether a thread is at work on it, or will be."""
        return bool(self.requests)

    @property
    def held(self) -> int:
        """Bytes of bodies and answers that it keeps in memory."""
        coming = self.request.body_bytes_received if self.request is not None else 0
        return coming + sum(request.body_bytes_received for request in self.requests) + self.total_outbufs_len

    @property
    def deadline(self) -> float:
        """Until when it may go on with what it is doing; without end while it is served."""
        if self.lingering:
            return self.last_activity + LINGER_SECONDS
        if self.serving:
            return float("inf")
        if self.total_outbufs_len:
            return self.last_activity + (STALLED_AT_END_SECONDS if self.server.stopping else STALLED_SECONDS)
        if self.request is None:
            return self.began + IDLE_SECONDS
        if not self.request.headers_finished:
            return self.began + HEAD_SECONDS
        return self.began + BODY_SECONDS + self.request.body_bytes_received / LEAST_RATE

    def readable(self) -> bool:
        return self.lingering or super().readable()

    def handle_read(self) -> None:
        """Takes what has come: for a request, or for nothing once it lingers."""
        try:
            data = self.socket.recv(self.adj.recv_bytes)
        except BlockingIOError:
            return
        except OSError:
            self.handle_close()
            return
        if self.lingering:
            if not data:
                self.handle_close()
        elif data:
            self.last_activity = time.time()
            self.received(data)
        elif self.request is not None:  # cut short; the sender may have closed its own direction alone
            self.refuse(BadRequest(""))
        else:
            self.handle_close()

    def handle_expt(self) -> None:
        """Urgent data (RFC 9293 section 3.8.5), of which HTTP has none: left unread it would be told of without end."""
        self.handle_close()

    def received(self, data: bytes) -> bool:
        """Takes bytes of one request or more."""
        before, now = self.request, time.time()
        taken: bool = super().received(data)
        begun = self.request is not None and self.request is not before
        if begun or (before is None and self.requests):  # blank lines begin nothing
            self.began = now
        if self.request is not None and self.request.headers_finished:
            self.asker = asked_from(self.addr[0], self.request.headers.get("X_FORWARDED_FOR", ""))
        self.server.unlooked += len(data)
        return taken

    def service(self) -> None:
        """Answers one request; called by a thread."""
        self.refused = self.requests[0].error is not None
        super().service()

    def refuse(self, error: Error) -> None:
        """Ends a request that is not whole with a problem document; called by the event loop."""
        with self.requests_lock:
            if self.requests or self.request is None:
                return
            self.request.refuse(error)
            self.requests.append(self.request)
            self.request = None
        self.service()

    def end_overdue(self, now: float) -> None:
        """Ends what has gone past its deadline."""
        if now <= self.deadline:
            return
        if self.request is not None and not self.total_outbufs_len and not self.lingering:
            self.refuse(NotInTime(""))
        else:
            self.handle_close()

    def handle_close(self) -> None:
        """Closes; after a refusal only this direction at first, else the client's system drops the answer unread."""
        if self.refused and not self.lingering and self.socket is not None and not self.total_outbufs_len:
            self.lingering, self.will_close, self.last_activity = True, False, time.time()
            try:
                self.socket.shutdown(socket.SHUT_WR)
                return
            except OSError:
                pass
        super().handle_close()
