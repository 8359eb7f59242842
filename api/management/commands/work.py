"""`manage.py work`: a worker without a broker; looks for runs and works them off until told to stop."""

from __future__ import annotations

import os
import socket
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from api.isolation import guard
from estimating.work.loop import serve
from estimating.work.stopping import stopping_by_signal


class Command(BaseCommand):
    help = "Works on runs until SIGTERM or SIGINT; a run at work is finished first."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--pause", type=float, default=0.05, help="seconds between two looks at an empty queue")

    def handle(self, *args: Any, **options: Any) -> None:
        guard()
        os.environ.setdefault("WORKER_NAME", f"{socket.gethostname()}-{os.getpid()}")
        serve(stopping_by_signal(), pause_seconds=options["pause"])
