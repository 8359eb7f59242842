"""Fields that a later revision says and an earlier one left to their default: no count, size or price moves by them.

An answer such as "all four sides" is one. Compared as openings both lines are alike, yet somebody decided something.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.schedule_reading import Reading, read_lines

Rows = Sequence[Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class NewlySaid:
    """A field of a line. before, after: the line's places in both revisions; value: what the later one says."""

    before: int
    after: int
    field: str
    value: Any


def newly_said(before: Rows, after: Rows, pairs: Iterable[tuple[int, int]], length_unit: str) -> tuple[NewlySaid, ...]:
    """The fields of the later lines that the earlier ones lack and that say what counts without them."""
    fields = Reading(length_unit or None, False).defaults
    found = [
        NewlySaid(old, new, name, after[new][name])
        for old, new in pairs
        for name in after[new]
        if name in fields and name not in before[old]
    ]
    rows = [after[said.after] for said in found]
    bare = [{k: v for k, v in row.items() if k != said.field} for row, said in zip(rows, found, strict=True)]
    reading = Reading(length_unit or "in", False)
    lines = dict(read_lines(reading, [*rows, *bare], ""))
    count = len(found)
    return tuple(said for i, said in enumerate(found) if i in lines and lines[i] == lines.get(i + count))
