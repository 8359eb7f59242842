"""Ids of rows: UUID version 7 (RFC 9562 section 5.7), so that the order of ids is the order of making."""

from __future__ import annotations

import secrets
import threading
import time
import uuid

_lock = threading.Lock()
_last = 0


def new_id() -> uuid.UUID:
    """A fresh UUIDv7; within one process each is greater than the one before.

    The 12 bits after the milliseconds hold a fraction of the millisecond (RFC 9562 section 6.2, method 3),
    pushed on by one where two ids would fall together; the other 62 bits are random.
    """
    global _last
    with _lock:
        nanoseconds = time.time_ns()
        moment = (nanoseconds // 1_000_000) << 12 | (nanoseconds % 1_000_000) * 4096 // 1_000_000
        _last = moment = max(moment, _last + 1)
    value = (moment >> 12) << 80 | 0x7 << 76 | (moment & 0xFFF) << 64 | 0b10 << 62 | secrets.randbits(62)
    return uuid.UUID(int=value & (1 << 128) - 1)


def read_id(text: str) -> uuid.UUID | None:
    """The id that a path or a body names in its usual form, or None for anything else."""
    if len(text) != 36:
        return None
    try:
        value = uuid.UUID(text)
    except ValueError:
        return None
    return value if str(value) == text.lower() else None
