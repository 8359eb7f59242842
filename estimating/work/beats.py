"""Signs of life of the workers, and what they say about readiness."""

from __future__ import annotations

import datetime
import os
import secrets
import socket

from django.conf import settings
from django.db import connection, transaction
from django.db.models.functions import Now

from estimating.models import WorkerBeat
from rates.deletion import delete_some

KEPT_FOR = datetime.timedelta(days=1)

LONG_AGO = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)


def worker_name() -> str:
    """This worker among all: host and, in a shared deployment's pool, the process that owns the pool."""
    return os.environ.get("WORKER_NAME") or f"{socket.gethostname()}-{os.getppid()}"


def note_poll() -> None:
    """Notes that this worker has looked for work just now."""
    if not WorkerBeat.objects.filter(name=worker_name()).update(polled_at=Now()):
        WorkerBeat.objects.bulk_create([WorkerBeat(name=worker_name(), polled_at=Now())], ignore_conflicts=True)


def hear() -> None:
    """Notes that a message reached this worker just now."""
    if not WorkerBeat.objects.filter(name=worker_name()).update(heard_at=Now()):
        rows = [WorkerBeat(name=worker_name(), polled_at=Now(), heard_at=Now())]
        WorkerBeat.objects.bulk_create(rows, ignore_conflicts=True)


def try_writing() -> None:
    """Writes a sign of life that counts for nobody, and takes it away: DatabaseError where nothing can be stored."""
    name = f"try-{os.getpid()}-{secrets.token_hex(4)}"
    WorkerBeat.objects.bulk_create([WorkerBeat(name=name, polled_at=LONG_AGO)])
    WorkerBeat.objects.filter(name=name).delete()
    if connection.vendor == "postgresql":
        try_room()


def try_room() -> None:
    """DatabaseError where the disk has no room: there a small row still fits into a page that the table has.

    A sort beyond the memory that it may take writes some 200 KiB where the database lies, and takes them away.
    """
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("SET LOCAL work_mem = '64kB'")
        cursor.execute(
            "SELECT max(place) FROM (SELECT row_number() OVER (ORDER BY md5(n::text)) AS place"
            " FROM generate_series(1, 4000) AS n) AS sorted"
        )


def readiness() -> str:
    """ "ready", or what is missing: "no_worker" polls, or the workers are "deaf" to the broker's messages."""
    alive = datetime.timedelta(seconds=settings.WORKER_SILENCE_SECONDS)
    living = WorkerBeat.objects.filter(polled_at__gt=Now() - alive)
    if not living.exists():
        return "no_worker"
    if settings.REDIS_URL and not living.filter(heard_at__gt=Now() - 2 * alive).exists():
        return "deaf"
    return "ready"


def forget_old(*, now: datetime.datetime, most: int) -> int:
    """How many beats of workers long gone were deleted, `most` at most."""
    return delete_some(WorkerBeat.objects.filter(polled_at__lt=now - KEPT_FOR), most)
