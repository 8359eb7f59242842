"""Whether the process lives, and whether the service can do its work: database, migrations, worker, broker."""

from __future__ import annotations

import time
from functools import lru_cache

import redis
from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, HttpResponse, JsonResponse

from api.errors import RETRY_SECONDS
from estimating.queries.runs import workers
from estimating.work.beats import try_writing

LOOK_SECONDS = 2
_migrated = False


def alive(request: HttpRequest) -> HttpResponse:
    """GET /healthz: 200 while the process answers."""
    return JsonResponse({"status": "ok"})


def ready(request: HttpRequest) -> HttpResponse:
    """GET /readyz: 200 when the worker too is ready, else 503 and what is missing."""
    checks = {"database": check_database(), "worker": "unknown", "broker": check_broker()}
    if checks["database"] == "ready":
        checks["worker"] = workers()
    good = all(state in ("ready", "none") for state in checks.values())
    if good:
        return JsonResponse({"status": "ready", "checks": checks})
    return JsonResponse({"status": "not ready", "checks": checks}, status=503, headers={"Retry-After": RETRY_SECONDS})


def check_database() -> str:
    """ "ready", "away", "not_migrated" or "not_writable"."""
    global _migrated
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
        if not _migrated:
            executor = MigrationExecutor(connection)
            if executor.migration_plan(executor.loader.graph.leaf_nodes()):
                return "not_migrated"
            _migrated = True
    except DatabaseError:
        return "away"
    return check_writing(int(time.monotonic()) // LOOK_SECONDS)


@lru_cache(maxsize=1)
def check_writing(moment: int) -> str:
    """ "ready" or "not_writable"; looked at once a moment, however often anybody asks."""
    try:
        try_writing()
    except DatabaseError:
        return "not_writable"
    return "ready"


def check_broker() -> str:
    """ "none" where there is no broker, "ready", or "away"."""
    if not settings.REDIS_URL:
        return "none"
    try:
        client = redis.Redis.from_url(settings.REDIS_URL, socket_connect_timeout=1, socket_timeout=1)
        with client:
            client.ping()
    except redis.RedisError:
        return "away"
    return "ready"
