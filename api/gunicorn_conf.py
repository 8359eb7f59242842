"""How gunicorn serves, alone or under `manage.py start`: threads, limits, and problem documents of its own refusals."""

from __future__ import annotations

import http
import os
import socket
from typing import Any

import orjson
from gunicorn import util

from api.supervisor import end_with_parent
from rates.identity import new_id

bind = os.environ.get("BIND", "127.0.0.1:8000")
workers = int(os.environ.get("WEB_PROCESSES", "1"))
threads = int(os.environ.get("WEB_THREADS", "8"))
worker_class = "api.threads.Worker"
wsgi_app = "api.wsgi:application"
timeout = 120
graceful_timeout = 25
keepalive = 15
limit_request_line = 8190
limit_request_fields = 60
control_socket_disable = True
accesslog = None  # the service logs its requests itself, without their queries
loglevel = "warning"


def write_problem(client: socket.socket, status: int, reason: str, detail: str) -> None:
    """The problem document of a request that never became one: a bad request line, header fields without end."""
    title = reason or http.HTTPStatus(status).phrase
    kind = "fault" if status >= 500 else "uri_too_long" if status == 414 else "malformed"
    request_id = str(new_id())
    told = "the request line or a header field is not acceptable" if status < 500 else "something went wrong here"
    body = orjson.dumps(
        {
            "type": f"/v1/docs#problem-{kind}",
            "title": title,
            "status": status,
            "detail": told,
            "instance": "",
            "request_id": request_id,
            "errors": [
                {"pointer": "", "line": None, "column": None, "code": kind, "detail": told, "document": "request"}
            ],
        }
    )
    head = (
        f"HTTP/1.1 {status} {title}\r\nConnection: close\r\nContent-Type: application/problem+json\r\n"
        f"X-Request-Id: {request_id}\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    util.write_nonblock(client, head.encode("latin1") + body)


def post_fork(server: Any, worker: Any) -> None:
    """Called by gunicorn in each worker: it ends with its master, so that the next master finds the address free."""
    end_with_parent()


def post_worker_init(worker: Any) -> None:
    """Called by gunicorn in each worker: its own pages of errors give way to problem documents."""
    util.write_error = write_problem
