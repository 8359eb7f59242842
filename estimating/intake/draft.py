"""An opening line on its way from a file to the schedule."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(slots=True)
class Draft:
    """One opening line: its values, the row that it was read from, and where a value is not as it was written."""

    values: dict[str, Any]
    table: int
    row: int
    written: dict[str, str] = field(default_factory=dict)
    places: dict[str, str] = field(default_factory=dict)  # field -> place, where no table says it
    asked: set[str] = field(default_factory=set)  # fields that a question of the line's own is about
