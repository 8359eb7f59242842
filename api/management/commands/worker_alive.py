"""`manage.py worker_alive`: status 0 while a worker lives and hears its messages; the health check of its container."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from estimating.queries.runs import workers


class Command(BaseCommand):
    help = "Status 0 while a worker is ready."

    def handle(self, *args: Any, **options: Any) -> None:
        state = workers()
        if state != "ready":
            raise CommandError(f"No worker is ready: {state}.")
