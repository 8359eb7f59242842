"""Two schedules line by line: which lines match, and what kind of change each is.

Matching: by stable id, then by mark, elevation and storey, then by kind and place (a renumbered line: a proposal).
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, replace

from estimating.core.schedule import Line, Schedule

Key = Callable[[Line, Schedule], Hashable | None]


@dataclass(frozen=True)
class Match:
    """Line indexes before and after (None: added or removed) and the classes of change, empty where there is none."""

    before: int | None
    after: int | None
    classes: tuple[str, ...]


def by_id(line: Line, schedule: Schedule) -> Hashable | None:
    """A line's stable id."""
    return line.id


def by_mark(line: Line, schedule: Schedule) -> Hashable | None:
    """Mark and place."""
    return line.mark_key, line.elevation, line.storey


def by_kind(line: Line, schedule: Schedule) -> Hashable | None:
    """Everything but the mark, for lines that were renumbered."""
    return None if line.kind is None else (schedule.kinds[line.kind], line.elevation, line.storey, line.quantity)


def pair_up(
    before: Schedule, after: Schedule, left: Iterable[int], right: Iterable[int], key: Key
) -> list[tuple[int, int]]:
    """Lines with the same key, in document order."""
    waiting: dict[Hashable, list[int]] = {}
    for i in left:
        found = key(before.lines[i], before)
        if found is not None:
            waiting.setdefault(found, []).append(i)
    for queue in waiting.values():
        queue.reverse()
    pairs = []
    for j in right:
        found = key(after.lines[j], after)
        open_lines = waiting.get(found) if found is not None else None
        if open_lines:
            pairs.append((open_lines.pop(), j))
    return pairs


def classes(before: Schedule, i: int, after: Schedule, j: int) -> tuple[str, ...]:
    """What changed between two matched lines."""
    a, b = before.lines[i], after.lines[j]
    found = []
    if a.mark_key != b.mark_key:
        found.append("renumbered")
    if (a.alternate is None) != (b.alternate is None) or a.alternate != b.alternate:
        found.append("alternate")
    if (a.reason is None) != (b.reason is None):
        found.append("excluded")
    kind_a = None if a.kind is None else before.kinds[a.kind]
    kind_b = None if b.kind is None else after.kinds[b.kind]
    if kind_a != kind_b:
        if kind_a is None or kind_b is None or kind_a.shape != kind_b.shape:
            found.append("size")
        if kind_a is not None and kind_b is not None and replace(kind_a, shape=kind_b.shape) != kind_b:
            found.append("factors")
    if a.quantity != b.quantity:
        found.append("quantity")
    if not found and a.source != b.source:
        found.append("source")
    return tuple(found)


def match(before: Schedule, after: Schedule) -> tuple[Match, ...]:
    """Every line of both schedules once, in the order of the later one, removed lines last."""
    left, right = dict.fromkeys(range(len(before.lines))), dict.fromkeys(range(len(after.lines)))
    partner: dict[int, int] = {}
    for key in (by_id, by_mark, by_kind):
        for i, j in pair_up(before, after, left, right, key):
            partner[j] = i
            left.pop(i)
            right.pop(j)
    matches = []
    for j in range(len(after.lines)):
        found = partner.get(j)
        classed = ("added",) if found is None else classes(before, found, after, j)
        matches.append(Match(found, j, classed))
    return (*matches, *(Match(i, None, ("removed",)) for i in left))
