"""Rate limits: so many requests a window and key, told in the RateLimit fields of every answer.

Counted in Redis where the deployment has one, so that all processes count together; else in this process. A Redis
that is away never refuses anybody: counting goes on here.
"""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass
from functools import cache

import redis
from django.conf import settings

_lock = threading.Lock()
_windows: dict[tuple[str, int], int] = {}


@dataclass(frozen=True)
class Quota:
    """What is left of a window after one more request."""

    limit: int
    window: int  # seconds
    left: int  # below 0: refused
    reset: int  # seconds until the next window

    @property
    def refused(self) -> bool:
        return self.left < 0

    @property
    def fields(self) -> dict[str, str]:
        """The RateLimit header fields."""
        fields = {
            "RateLimit-Policy": f'"default";q={self.limit};w={self.window}',
            "RateLimit": f'"default";r={max(self.left, 0)};t={self.reset}',
        }
        return fields | ({"Retry-After": str(self.reset)} if self.refused else {})


def spend(who: str, limit: int, window: int) -> Quota:
    """Counts one request of `who` and tells what is left."""
    now = int(time.time())
    slot = now // window
    used = count_shared(f"rate:{who}:{slot}", window) if settings.REDIS_URL else None
    if used is None:
        used = count_here(who, slot)
    return Quota(limit, window, limit - used, (slot + 1) * window - now)


def count_here(who: str, slot: int) -> int:
    """The count in this process; windows gone by are dropped."""
    with _lock:
        if len(_windows) > 10_000:
            for key in [key for key in _windows if key[1] < slot]:
                del _windows[key]
        _windows[who, slot] = used = _windows.get((who, slot), 0) + 1
    return used


@cache
def client() -> redis.Redis:
    """The connection pool of the counters."""
    return redis.Redis.from_url(settings.REDIS_URL, socket_connect_timeout=0.2, socket_timeout=0.2)


_away_until = 0.0


def count_shared(name: str, window: int) -> int | None:
    """The count in Redis, None while it is away; then it is left alone for a few seconds."""
    global _away_until
    if time.monotonic() < _away_until:
        return None
    try:
        pipeline = client().pipeline()
        pipeline.incr(name)
        pipeline.expire(name, 2 * window)
        return int(pipeline.execute()[0])
    except redis.RedisError:
        _away_until = time.monotonic() + 5
        return None
