"""How gunicorn keeps the server's processes, alone or under `manage.py start`."""

from __future__ import annotations

import os
from typing import Any

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured

from api.server.birth import hold_signals, let_signals_through
from api.supervisor import end_with_parent

bind = os.environ.get("BIND", "127.0.0.1:8000")
workers = int(os.environ.get("WEB_PROCESSES", "1"))
threads = int(os.environ.get("WEB_THREADS", "8"))
worker_class = "api.server.worker.Worker"
wsgi_app = "api.wsgi:application"
timeout = 120
graceful_timeout = 25
control_socket_disable = True
accesslog = None  # the service logs its requests itself, without their queries
loglevel = "warning"


def on_starting(server: Any) -> None:
    """Called by gunicorn before anything else: a wrong configuration ends with one sentence, not in every worker."""
    os.register_at_fork(after_in_parent=let_signals_through)
    if server.app.app_uri != wsgi_app:
        return
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    try:
        settings.SECRET_KEY  # noqa: B018  # read, with all the others
    except ImproperlyConfigured as fault:
        raise SystemExit(f"Not started: {fault}") from None


def pre_fork(server: Any, worker: Any) -> None:
    """Called by gunicorn before each fork: signals wait until the worker has handlers of its own.

    Until then it has its master's, which would only note them where nobody looks: told to end in that moment, it would
    live until gunicorn kills it.
    """
    hold_signals()


def post_fork(server: Any, worker: Any) -> None:
    """Called by gunicorn in each worker: it ends with its master, so that the next master finds the address free."""
    end_with_parent(worker.ppid)
