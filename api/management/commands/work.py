"""`manage.py work`: a worker without a broker; looks for runs and works them off until told to stop."""

from __future__ import annotations

import os
import signal
import socket
import threading
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from api.isolation import guard
from estimating.work.loop import serve


class Command(BaseCommand):
    help = "Works on runs until SIGTERM or SIGINT; a run at work is finished first."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--pause", type=float, default=0.05, help="seconds between two looks at an empty queue")

    def handle(self, *args: Any, **options: Any) -> None:
        guard()
        os.environ.setdefault("WORKER_NAME", f"{socket.gethostname()}-{os.getpid()}")
        stop = threading.Event()
        for number in (signal.SIGTERM, signal.SIGINT):
            signal.signal(number, lambda *_: stop.set())
        serve(stop, pause_seconds=options["pause"])
