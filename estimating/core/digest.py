"""A digest of what was read, not of how it was written: 36 in, 3'-0" and 36.0 in give the same.

It covers the values that decide an estimate and its remarks; titles, notes and ids (of lines, of editions) do not
count, so the same documents give the same digest in every database. The first word is its version.
"""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from typing import Any

from estimating.core.request import Request
from rates.core.card import Card
from rates.core.fraction import Fraction

VERSION = "v1"
UNTOLD = frozenset({"schedule", "source", "note", "supply", "finer_supply"})


def is_told(of: Field[Any], value: Any) -> bool:
    """Whether a field counts: one with a default came later, and where it has it the digest stays what it was."""
    return of.name not in UNTOLD and (of.default is MISSING or value != of.default)


def canonical(value: Any) -> Any:
    """A value of the core as JSON that is the same for equal values."""
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}" if value.denominator != 1 else str(value.numerator)
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, tuple | list):
        return [canonical(item) for item in value]
    if isinstance(value, Mapping):
        return {str(k): canonical(v) for k, v in sorted(value.items())}
    if is_dataclass(value) and not isinstance(value, type):
        told = {f.name: canonical(getattr(value, f.name)) for f in fields(value) if is_told(f, getattr(value, f.name))}
        return {"is": type(value).__name__} | told
    raise TypeError(f"a {type(value).__name__} has no canonical form")


def digest(value: Any) -> str:
    """`v1:` and the SHA-256 of a value's canonical form, in hexadecimal."""
    text = json.dumps(canonical(value), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return f"{VERSION}:{hashlib.sha256(text.encode()).hexdigest()}"


def input_digest(request: Request, cards: tuple[Card, ...]) -> str:
    """The digest of a request with its openings, and of the rate cards that it is costed with."""
    told = canonical(request) | {"kinds": canonical(request.schedule.kinds)}
    told["cards"] = canonical(cards)
    hashed = hashlib.sha256(json.dumps(told, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode())
    # Lines are tuples, the id last: of texts, whole numbers and kind indexes already: no need to walk 100,000 of them.
    hashed.update(
        json.dumps([line[:-1] for line in request.schedule.lines], separators=(",", ":"), ensure_ascii=False).encode()
    )
    return f"{VERSION}:{hashed.hexdigest()}"
