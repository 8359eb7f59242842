"""The listening socket: takes connections in, ends those that are overdue, makes room."""

from __future__ import annotations

import socket
import time
from typing import Any

from django.conf import settings
from waitress import wasyncore
from waitress.adjustments import Adjustments
from waitress.server import TcpWSGIServer
from waitress.task import ThreadedTaskDispatcher

from api.server.connection import Connection
from api.server.fairness import first_to_close, first_to_shrink
from api.server.incoming import LONGEST_HEAD, NoRoom

MOST_CONNECTIONS = 512
MOST_HELD = 256 * 2**20  # bytes of unfinished requests and untaken answers
LOOK_BYTES = 16 * 2**20  # received between two looks at what is held
LOOK_SECONDS = 0.5  # between two looks at the deadlines


class Listener(TcpWSGIServer):
    """Takes any number of connections; when there are too many, one of the address with the most is closed."""

    channel_class = Connection
    stopping = False
    unlooked = 0  # bytes received since the last look at what is held
    due = 0.0  # when deadlines are looked at next

    @property
    def connections(self) -> list[Connection]:
        """All that are open."""
        return list(self.active_channels.values())

    def readable(self) -> bool:
        return bool(self.accepting)

    def turn(self, seconds: float) -> None:
        """One turn of the event loop, then the connections as a whole.

        Only here one connection ends another: while events are told, the number of a closed one may come again as that
        of a new one, for which the rest of the events would then be taken.
        """
        wasyncore.poll2(seconds, self._map)
        now = time.time()
        if now >= self.due:
            self.due = now + LOOK_SECONDS
            for connection in self.connections:
                connection.end_overdue(now)
        while len(self.active_channels) > MOST_CONNECTIONS:
            closed = first_to_close(self.connections)
            if closed is None:
                break  # all are being served
            closed.refused = False
            closed.handle_close()
        if self.unlooked >= LOOK_BYTES:
            self.unlooked = 0
            self.shrink()

    def shrink(self) -> None:
        """Has the largest give way where too much is held in memory."""
        for connection in list(first_to_shrink(self.connections, MOST_HELD)):
            if connection.request is not None:
                connection.refuse(NoRoom(""))
            else:
                connection.handle_close()

    def stop(self) -> None:
        """Takes no more in; closes all that wait for a next request."""
        self.stopping = True
        self.accepting = False
        self.del_channel()
        self.socket.close()
        for connection in self.connections:
            if connection.request is None and not connection.serving and not connection.total_outbufs_len:
                connection.handle_close()

    def unfinished(self) -> bool:
        """Whether something is still being answered."""
        return any(one.serving or one.total_outbufs_len for one in self.connections)

    def end(self) -> None:
        """Closes whatever is left."""
        self.task_dispatcher.shutdown(timeout=1)
        wasyncore.close_all(self._map)


def listen(application: Any, sock: socket.socket, threads: ThreadedTaskDispatcher) -> Listener:
    """The listener on a bound socket, with an event loop of its own."""
    most = settings.LARGE_BODY_BYTES + 1
    adjustments = Adjustments(
        ident=None,
        clear_untrusted_proxy_headers=False,  # api.origin reads them, by PROXIES
        recv_bytes=128 * 2**10,
        inbuf_overflow=2**40,  # never to a file: MOST_HELD bounds the memory, and a disk may be full
        outbuf_overflow=2**40,
        outbuf_high_watermark=2**40,  # a thread never waits for a client to take its answer
        max_request_header_size=LONGEST_HEAD,
        max_request_body_size=most,
        log_socket_errors=False,
    )
    sock.setblocking(False)
    name = (sock.family, sock.type, sock.proto, sock.getsockname())
    return Listener(application, {}, True, sock, dispatcher=threads, adj=adjustments, sockinfo=name, bind_socket=False)
