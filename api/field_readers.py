"""Readers of single fields that tables of both faces have: ids, notes, times, percentages as they were written."""

from __future__ import annotations

import datetime
import uuid
from typing import Any
from zoneinfo import available_timezones

from rates.core.fields import Reader, clean_text, number_text, percent, shown
from rates.core.problems import Unreadable
from rates.core.texts import is_text
from rates.identity import read_id


def as_given(**values: Any) -> dict[str, Any]:
    """The values that were given."""
    return {name: value for name, value in values.items() if value is not None}


def parse_id(raw: object) -> uuid.UUID:
    """An id as it is written everywhere here."""
    value = read_id(raw) if isinstance(raw, str) else None
    if value is None:
        raise Unreadable("not_an_id", f"an id is expected, not {shown(raw)}")
    return value


def parse_lines(limit: int) -> Reader:
    """Reader of text that may have several lines."""

    def parse(raw: object) -> str:
        if not isinstance(raw, str) or not is_text(raw):
            raise Unreadable("not_text", f"text is expected, not {shown(raw)}")
        for line in raw.splitlines():
            clean_text(line, limit)
        if len(raw) > limit:
            raise Unreadable("too_long", f"at most {limit} characters are taken; this has {len(raw)}")
        return raw.strip()

    return Reader(parse, {"type": "string", "maxLength": limit})


def percent_as_written(most: int) -> Reader:
    """Reader of a percentage as it was written."""

    def parse(raw: object) -> str:
        percent(most).parse(raw)
        return number_text(raw)

    return Reader(parse, dict(percent(most).schema))


def parse_moment(raw: object) -> datetime.datetime:
    """An RFC 3339 time with its zone."""
    try:
        moment = datetime.datetime.fromisoformat(raw.strip()) if isinstance(raw, str) else None
        if moment is not None and moment.tzinfo is not None:
            return moment.astimezone(datetime.UTC)
    except (ValueError, OverflowError):
        pass
    raise Unreadable("not_a_time", f"a time with its zone is expected, not {shown(raw)}")


def parse_time_zone(raw: object) -> str:
    """The name of a time zone."""
    if isinstance(raw, str) and raw in available_timezones():
        return raw
    raise Unreadable("unknown_choice", f"a time zone such as America/Chicago is expected, not {shown(raw)}")


id_text = Reader(parse_id, {"type": "string", "format": "uuid"})
moment = Reader(parse_moment, {"type": "string", "format": "date-time"})
time_zone = Reader(parse_time_zone, {"type": "string"})
note = parse_lines(2000)
percent_text = percent_as_written(100)
