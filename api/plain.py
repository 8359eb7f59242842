"""Values of queries as plain JSON values."""

from __future__ import annotations

import dataclasses
import datetime
import uuid
from collections.abc import Mapping
from enum import Enum
from typing import Any

from estimating.queries.comparisons import Comparison
from estimating.queries.estimates import Estimate
from rates.queries.books import WholeEdition

HIDDEN = frozenset({"version"})  # the ETag tells it


def plain(value: Any) -> Any:
    """The value in JSON's terms: dataclasses as objects, ids and times as text."""
    if isinstance(value, Estimate | Comparison):
        return value.document
    if isinstance(value, WholeEdition):
        return plain(value.edition) | value.document | {"note": value.edition.note}
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        names = [field.name for field in dataclasses.fields(value) if field.name not in HIDDEN]
        return {name: plain(getattr(value, name)) for name in names}
    if isinstance(value, uuid.UUID):
        return str(value)
    if isinstance(value, datetime.datetime):
        return value.astimezone(datetime.UTC).isoformat().replace("+00:00", "Z")
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {name: plain(item) for name, item in value.items()}
    if isinstance(value, list | tuple):
        return [plain(item) for item in value]
    return value.value if isinstance(value, Enum) else value
