"""Fields that many operations share, and faults of an edition told as those of the content that held it."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import replace

from rates.core.fields import Field, Reader, choice, clean_text, shown, text, whole
from rates.core.problems import Refused, Unreadable
from rates.identity import read_id


def parse_id(raw: object) -> uuid.UUID:
    """An id as it is written everywhere here."""
    value = read_id(raw) if isinstance(raw, str) else None
    if value is None:
        raise Unreadable("not_an_id", f"an id is expected, not {shown(raw)}")
    return value


def parse_moment(raw: object) -> datetime.datetime:
    """An RFC 3339 time with its zone."""
    try:
        moment = datetime.datetime.fromisoformat(raw.strip()) if isinstance(raw, str) else None
        if moment is not None and moment.tzinfo is not None:
            return moment.astimezone(datetime.UTC)
    except (ValueError, OverflowError):
        pass
    raise Unreadable("not_a_time", f"a time with its zone is expected, not {shown(raw)}")


def parse_lines(limit: int) -> Reader:
    """Reader of text that may have several lines."""

    def parse(raw: object) -> str:
        if not isinstance(raw, str):
            raise Unreadable("not_text", f"text is expected, not {shown(raw)}")
        for line in raw.splitlines():
            clean_text(line, limit)
        if len(raw) > limit:
            raise Unreadable("too_long", f"at most {limit} characters are taken; this has {len(raw)}")
        return raw.strip()

    return Reader(parse, {"type": "string", "maxLength": limit})


id_text = Reader(parse_id, {"type": "string", "format": "uuid"})
moment = Reader(parse_moment, {"type": "string", "format": "date-time"})
note = parse_lines(2000)
reason = Field("reason", text(2000), "why", required=True)


def as_sent(refusal: Refused, start: str = "") -> Refused:
    """Faults of an edition, or of what stands in it at `start`, as faults of the content that was sent."""
    return Refused([replace(p, pointer=p.pointer.removeprefix(start), document="request") for p in refusal.problems])


def count(high: int) -> Reader:
    """Reader of a whole number from 1 up in a query."""
    return Reader(whole(1, high).parse, {"type": "integer", "minimum": 1, "maximum": high})


PAGE = (
    Field("limit", count(500), "how many items a page has; 100 if absent"),
    Field("cursor", text(1000), "where the page starts: `next` of the page before"),
)


def ordering(*names: str) -> Field:
    """The query field that chooses an order; "-" before a name turns it round."""
    every = tuple(sign + name for name in names for sign in ("", "-"))
    return Field("ordering", choice(*every), f"order of the items; {names[0]} if absent")
