"""Logs as lines of JSON, without secrets: what looks like a key or a password never gets out."""

from __future__ import annotations

import logging.config
import re
from collections.abc import MutableMapping
from typing import Any

import structlog

KEY = re.compile(r"\b(sw_[0-9a-z]{1,16})_[A-Za-z0-9_-]+")
URL_PASSWORD = re.compile(r"(\w+://[^\s:/@]*):[^\s@/]+@")
SECRET_NAMES = frozenset({"authorization", "cookie", "secret", "password", "access_key", "secret_key", "token"})
HIDDEN = "(hidden)"


def hide(value: Any) -> Any:
    """The value with keys and passwords in its texts hidden."""
    if isinstance(value, str):
        return URL_PASSWORD.sub(rf"\1:{HIDDEN}@", KEY.sub(rf"\1_{HIDDEN}", value))
    if isinstance(value, dict):
        return {name: HIDDEN if str(name).lower() in SECRET_NAMES else hide(item) for name, item in value.items()}
    if isinstance(value, list | tuple):
        return [hide(item) for item in value]
    return value


def hide_secrets(logger: Any, method: str, event: MutableMapping[str, Any]) -> MutableMapping[str, Any]:
    """A processor: the event without secrets."""
    return hide(dict(event))


SHARED: list[Any] = [
    structlog.contextvars.merge_contextvars,
    structlog.stdlib.add_log_level,
    structlog.stdlib.add_logger_name,
    structlog.stdlib.ExtraAdder(),
    structlog.processors.TimeStamper(fmt="iso", utc=True),
    structlog.processors.format_exc_info,
]


def logging_settings(level: str) -> dict[str, Any]:
    """Settings of the standard library's logging, through which everything goes."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "json": {
                "()": structlog.stdlib.ProcessorFormatter,
                "foreign_pre_chain": SHARED,
                "processors": [
                    structlog.stdlib.ProcessorFormatter.remove_processors_meta,
                    hide_secrets,
                    structlog.processors.JSONRenderer(sort_keys=True),
                ],
            }
        },
        "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "json"}},
        "root": {"handlers": ["stderr"], "level": level},
        "loggers": {"django.request": {"level": "CRITICAL"}, "django.security": {"level": "ERROR"}},
    }


def set_up(settings: dict[str, Any]) -> None:
    """Puts the logging of this process in place."""
    logging.config.dictConfig(settings)
    structlog.configure(
        processors=[
            structlog.contextvars.merge_contextvars,
            structlog.stdlib.filter_by_level,
            structlog.stdlib.add_logger_name,
            structlog.stdlib.add_log_level,
            structlog.processors.TimeStamper(fmt="iso", utc=True),
            structlog.processors.format_exc_info,
            structlog.stdlib.ProcessorFormatter.wrap_for_formatter,
        ],
        logger_factory=structlog.stdlib.LoggerFactory(),
        wrapper_class=structlog.stdlib.BoundLogger,
        cache_logger_on_first_use=True,
    )
