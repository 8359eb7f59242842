"""A digest of what was read, not of how it was written: 36 in, 3'-0" and 36.0 in give the same.

It covers the values that decide an estimate and its remarks; titles, notes and ids (of lines, of editions) do not
count, so the same documents give the same digest in every database. The first word is its version.
"""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Mapping
from dataclasses import fields
from functools import lru_cache
from types import NoneType
from typing import Any

from estimating.core.request import Request
from estimating.core.schedule_lines import Line
from rates.core.card import Card
from rates.core.fraction import Fraction

VERSION = "v1"
ID = Line._fields.index("id")
PLAIN = tuple(Line._field_defaults[name] for name in Line._fields[ID + 1 :])
AS_THEY_ARE = frozenset({str, int, bool, NoneType})
UNTOLD = frozenset({"schedule", "source", "note", "supply", "finer_supply"})


@lru_cache(maxsize=200)
def told_fields(of: Any) -> tuple[tuple[str, Any], ...]:
    """The fields of a dataclass that count, each with its default or dataclasses.MISSING."""
    return tuple((f.name, f.default) for f in fields(of) if f.name not in UNTOLD)


def told(value: Any) -> dict[str, Any]:
    """The fields that count in canonical form: one with a default came later, and where it has it it is not told."""
    of: Any = type(value)
    shown: dict[str, Any] = {"is": of.__name__}
    for name, default in told_fields(of):
        found = getattr(value, name)
        if found is not default and found != default:
            shown[name] = found if type(found) in AS_THEY_ARE else canonical(found)
    return shown


def canonical(value: Any) -> Any:
    """A value of the core as JSON that is the same for equal values."""
    of = type(value)
    if of in AS_THEY_ARE:  # the most frequent ones first, by their very type: there are many of each kind of opening
        return value
    if of is Fraction:
        return str(value)
    if hasattr(of, "__dataclass_fields__"):
        return told(value)
    if isinstance(value, str | int):
        return value
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, tuple | list):
        return [canonical(item) for item in value]
    if isinstance(value, Mapping):
        return {str(k): canonical(v) for k, v in sorted(value.items())}
    raise TypeError(f"a {of.__name__} has no canonical form")


def digest(value: Any) -> str:
    """`v1:` and the SHA-256 of a value's canonical form, in hexadecimal."""
    text = json.dumps(canonical(value), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return f"{VERSION}:{hashlib.sha256(text.encode()).hexdigest()}"


def input_digest(request: Request, cards: tuple[Card, ...]) -> str:
    """The digest of a request with its openings, and of the rate cards that it is costed with."""
    document = canonical(request) | {"kinds": canonical(request.schedule.kinds), "cards": canonical(cards)}
    hashed = hashlib.sha256(json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode())
    # Lines are tuples of texts, whole numbers and kind indexes already: no need to walk 100,000 of them. The id doesn't
    # count; what stands behind it came later, and is not told where none of it is there.
    lines = [line[:ID] if line[ID + 1 :] == PLAIN else line[:ID] + line[ID + 1 :] for line in request.schedule.lines]
    hashed.update(json.dumps(lines, separators=(",", ":"), ensure_ascii=False).encode())
    return f"{VERSION}:{hashed.hexdigest()}"
