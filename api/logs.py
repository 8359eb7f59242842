"""Logs as lines of JSON on stderr, without secrets: what looks like a key or a password never gets out."""

from __future__ import annotations

import datetime
import logging
import logging.config
import re
import sys
from collections.abc import Callable, MutableMapping
from contextlib import suppress
from typing import Any

import orjson
import structlog

SECRETS = re.compile(
    # in JSON already: a key may follow an escape such as \\n, a password may hold an escaped quotation mark
    rb"(?:(?<=\\[bfnrt])|\b)(sw_[0-9a-z]{1,16}_)[A-Za-z0-9_-]+|(\w+://[^\s:/@\"]*:)(?:[^\s@/\"\\]|\\.)+@"
)
SECRET_NAMES = frozenset({"authorization", "cookie", "secret", "password", "access_key", "secret_key", "token"})
HIDDEN = "(hidden)"

_write_request: Callable[[bytes], None] | None = None  # to stderr; None where the level leaves requests out


def hide_names(logger: Any, method: str, event: MutableMapping[str, Any]) -> MutableMapping[str, Any]:
    """A processor: fields whose names speak of secrets say nothing."""
    for name in event:
        if name in SECRET_NAMES:
            event[name] = HIDDEN
    return event


def hide_texts(line: bytes) -> bytes:
    """A line of the log with the secret part of access keys, and passwords in addresses, hidden."""
    if b"sw_" not in line and b"://" not in line:
        return line
    return SECRETS.sub(lambda m: m[1] + HIDDEN.encode() if m[1] else m[2] + HIDDEN.encode() + b"@", line)


def render(logger: Any, method: str, event: MutableMapping[str, Any]) -> bytes:
    """The last processor: the event as one line of JSON without secrets."""
    return hide_texts(orjson.dumps(event, default=repr, option=orjson.OPT_SORT_KEYS | orjson.OPT_NON_STR_KEYS))


def render_text(logger: Any, method: str, event: MutableMapping[str, Any]) -> str:
    """As render, for the standard library's logging."""
    return render(logger, method, event).decode()


SHARED: list[Any] = [
    structlog.contextvars.merge_contextvars,
    structlog.stdlib.add_log_level,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
    structlog.processors.format_exc_info,
    hide_names,
]


def logging_settings(level: str) -> dict[str, Any]:
    """Settings of the standard library's logging: libraries and the inner parts write through it."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "json": {
                "()": structlog.stdlib.ProcessorFormatter,
                "foreign_pre_chain": [structlog.stdlib.add_logger_name, structlog.stdlib.ExtraAdder(), *SHARED],
                "processors": [structlog.stdlib.ProcessorFormatter.remove_processors_meta, render_text],
            }
        },
        "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "json"}},
        "root": {"handlers": ["stderr"], "level": level},
        "loggers": {
            "django.request": {"level": "CRITICAL"},
            "django.security": {"level": "ERROR"},
            "waitress": {"level": "WARNING"},
            "waitress.queue": {"level": "ERROR"},  # would say of each request that waits for a thread that it does
        },
    }


def set_up(settings: dict[str, Any]) -> None:
    """Puts the logging of this process in place; the service's own lines go to stderr on the shortest way."""
    logging.config.dictConfig(settings)
    level = logging.getLevelNamesMapping().get(settings["root"]["level"], logging.INFO)
    make_logger = structlog.BytesLoggerFactory(getattr(sys.stderr, "buffer", None))
    global _write_request
    _write_request = make_logger().info if level <= logging.INFO else None
    structlog.configure(
        processors=[*SHARED, render],
        logger_factory=make_logger,
        wrapper_class=structlog.make_filtering_bound_logger(level),
        cache_logger_on_first_use=True,
    )


def note_request(**fields: Any) -> None:
    """The line that every request leaves, as the processors write it, without those that it has no use for."""
    if _write_request is None:
        return
    now = datetime.datetime.now(datetime.UTC).isoformat().replace("+00:00", "Z")
    line = render(None, "info", {"event": "request", "level": "info", "timestamp": now} | fields)
    with suppress(OSError):  # a full disk under the log stops no answer; the standard library's logging does the same
        _write_request(line)
