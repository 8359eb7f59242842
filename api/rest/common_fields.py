"""Fields that many operations share, and faults of an edition told as those of the content that held it."""

from __future__ import annotations

from dataclasses import replace

from api.field_readers import id_text as id_text
from api.field_readers import moment as moment
from api.field_readers import note as note
from api.field_readers import parse_lines as parse_lines
from rates.core.fields import Field, Reader, choice, text, whole
from rates.core.problems import Refused

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
