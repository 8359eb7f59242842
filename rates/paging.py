"""Pages of rows by cursor: each page starts after the last row of the one before, so inserts shift nothing."""

from __future__ import annotations

import base64
import binascii
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar, cast

import orjson
from django.core.exceptions import ValidationError
from django.db.models import Field, Model, Q, QuerySet

from rates.core.problems import Problem, Refused

Item = TypeVar("Item")
LIMIT = 100
MOST = 500


@dataclass(frozen=True)
class Wanted:
    """Which page is asked for: at most `limit` items after `cursor`, in `ordering` ("-" first: the other way)."""

    limit: int = LIMIT
    cursor: str | None = None
    ordering: str | None = None


@dataclass(frozen=True)
class Page(Generic[Item]):
    """Items and the cursor of the next page, None on the last."""

    items: tuple[Item, ...]
    next: str | None


def refuse_cursor(name: str = "cursor") -> Refused:
    """The fault of a cursor that this list did not give, at the field of the query that holds it."""
    return Refused(
        [Problem(f"/query/{name}", "bad_cursor", "this cursor was not given by this list; start without one")]
    )


def write_cursor(*place: object) -> str:
    """A cursor for a place in a list."""
    return base64.urlsafe_b64encode(orjson.dumps(place)).decode().rstrip("=")


def read_cursor(cursor: str, length: int, name: str = "cursor") -> list[Any]:
    """The place that the query's cursor of this name stands for; Refused when it is none of ours."""
    try:
        place = orjson.loads(base64.b64decode(cursor + "=" * (-len(cursor) % 4), altchars=b"-_", validate=True))
    except (binascii.Error, ValueError):
        raise refuse_cursor(name) from None
    if not isinstance(place, list) or len(place) != length:
        raise refuse_cursor(name)
    if not all(isinstance(part, int) or (isinstance(part, str) and part.isprintable()) for part in place):
        raise refuse_cursor(name)
    return place


def page(
    rows: QuerySet[Any], wanted: Wanted, *, orderings: Mapping[str, str], show: Callable[[Any], Item]
) -> Page[Item]:
    """One page of `rows`; `orderings` maps the names that clients use to columns, the first is the default."""
    name = wanted.ordering or next(iter(orderings))
    column = orderings.get(name.removeprefix("-"))
    if column is None:
        known = ", ".join(orderings)
        raise Refused(
            [Problem("/query/ordering", "unknown_choice", f"one of {known} is expected, or the same after -")]
        )
    backward = name.startswith("-")
    if wanted.cursor is not None:
        rows = rows.filter(after(rows.model, wanted.cursor, name, column, backward))
    sign = "-" if backward else ""
    found = list(rows.order_by(f"{sign}{column}", f"{sign}pk")[: wanted.limit + 1])
    shown, more = found[: wanted.limit], len(found) > wanted.limit
    last = write_cursor(name, str(getattr(shown[-1], column)), str(shown[-1].pk)) if more else None
    return Page(tuple(show(row) for row in shown), last)


def after(model: type[Model], cursor: str, name: str, column: str, backward: bool) -> Q:
    """The condition that a row stands after the cursor's place."""
    ordering, value, key = read_cursor(cursor, 3)
    if ordering != name:
        raise refuse_cursor()
    try:
        place = cast("Field[Any, Any]", model._meta.get_field(column)).to_python(value)
        last = model._meta.pk.to_python(key)
    except (ValidationError, ValueError, OverflowError):
        raise refuse_cursor() from None
    side = "lt" if backward else "gt"
    if column == model._meta.pk.attname:
        return Q(**{f"pk__{side}": last})
    return Q(**{f"{column}__{side}": place}) | Q(**{column: place, f"pk__{side}": last})
