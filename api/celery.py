"""The Celery application of a shared deployment; its settings are Django's, under CELERY_.

Its one task says "poll now". Beside the pool each worker keeps a watch: it sweeps, says that it lives, and where no
message gets through it works off the queue by itself.
"""

from __future__ import annotations

import os
import socket
import threading
from importlib import import_module
from typing import Any

from celery import Celery
from celery.signals import setup_logging, worker_init, worker_ready, worker_shutting_down
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured

from estimating.work.stopping import Stopping

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")

try:
    settings.SECRET_KEY  # noqa: B018  # read, with all the others
except ImproperlyConfigured as fault:
    raise SystemExit(f"Not started: {fault}") from None

app = Celery("sillwright")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(["estimating"])
stop = Stopping()


@setup_logging.connect
def keep_logging(**_: Any) -> None:
    """Leaves logging as the service has set it up."""


@worker_init.connect
def name_worker(**_: Any) -> None:
    """One name for the worker and all processes of its pool; a role that is too strong ends it."""
    os.environ.setdefault("WORKER_NAME", f"{socket.gethostname()}-{os.getpid()}")
    try:
        import_module("api.isolation").guard()
    except ImproperlyConfigured as fault:
        raise SystemExit(f"Not started: {fault}") from None


@worker_ready.connect
def start_watch(**_: Any) -> None:
    """Starts the watch beside the pool."""
    watch = import_module("estimating.tasks").watch  # models can be imported only once Django is set up
    threading.Thread(target=watch, args=(stop,), name="watch", daemon=True).start()


@worker_shutting_down.connect
def stop_watch(**_: Any) -> None:
    """Ends the watch with the worker."""
    stop.set()
