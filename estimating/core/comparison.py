"""Two schedules line by line: which lines match, and what kind of change each is.

Matching: by stable id, then by mark, elevation and storey, then as a person has decided, then by kind and place, then
by size and place (a renumbered line: a proposal). What is decided takes both lines of a proposal out together, so the
other proposals stay what they were.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from estimating.core.schedule import Schedule
from estimating.core.schedule_lines import Line

Key = Callable[[Line, Schedule], Hashable | None]
Decided = Mapping[tuple[int, int], bool]  # line indexes before and after: whether a person says that they are one
NOTHING_DECIDED: Decided = MappingProxyType({})


@dataclass(frozen=True)
class Match:
    """Line indexes before and after (None: added or removed) and the classes of change, empty where there is none.

    proposed: kind or size, count and place alone say so, and no person has decided.
    """

    before: int | None
    after: int | None
    classes: tuple[str, ...]
    proposed: bool = False


def by_id(line: Line, schedule: Schedule) -> Hashable | None:
    """A line's stable id."""
    return line.id


def by_mark(line: Line, schedule: Schedule) -> Hashable | None:
    """Mark and place."""
    return line.mark_key, line.elevation, line.storey


def by_kind(line: Line, schedule: Schedule) -> Hashable | None:
    """Everything but the mark, for lines that were renumbered."""
    return None if line.kind is None else (schedule.kinds[line.kind], line.elevation, line.storey, line.quantity)


def by_size(line: Line, schedule: Schedule) -> Hashable | None:
    """Size, count and place: an answer about the access of the old mark never reaches the new one."""
    if line.kind is None:
        return None
    kind = schedule.kinds[line.kind]
    return kind.kind, kind.shape, line.elevation, line.storey, line.quantity


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


KindPair = tuple[int | None, int | None]


def kind_classes(before: Schedule, after: Schedule, pair: KindPair) -> list[str]:
    """What changed between the kinds of two matched lines."""
    kind_a, kind_b = (None if k is None else of.kinds[k] for of, k in zip((before, after), pair, strict=True))
    found: list[str] = []
    if kind_a != kind_b:
        if kind_a is None or kind_b is None or kind_a.shape != kind_b.shape:
            found.append("size")
        if kind_a is not None and kind_b is not None and replace(kind_a, shape=kind_b.shape) != kind_b:
            found.append("factors")
    return found


def classes(before: Schedule, i: int, after: Schedule, j: int, known: dict[KindPair, list[str]]) -> tuple[str, ...]:
    """What changed between two matched lines; known: between kinds, of the lines before."""
    a, b = before.lines[i], after.lines[j]
    found = []
    if a.mark_key != b.mark_key:
        found.append("renumbered")
    if (a.alternate, a.offer) != (b.alternate, b.offer):
        found.append("alternate")
    if a.reason != b.reason:
        found.append("excluded")
    if (a.elevation, a.storey) != (b.elevation, b.storey):
        found.append("moved")  # set-up and the time between coats go by it
    pair = (a.kind, b.kind)
    if pair not in known:
        known[pair] = kind_classes(before, after, pair)
    found += known[pair]
    if a.quantity != b.quantity:
        found.append("quantity")
    if (a.building, a.phase) != (b.building, b.phase):
        found.append("place")
    if not found and a.source != b.source:
        found.append("source")
    return tuple(found)


def settle(decided: Decided, left: dict[int, None], right: dict[int, None]) -> tuple[dict[int, int], list[int]]:
    """(after -> before of what is one, before lines that are no other's), taken out of the open lines.

    A decision on a line that id or mark have settled is passed over.
    """
    partner, alone = {}, []
    for (i, j), same in decided.items():
        if i not in left or j not in right:
            continue
        left.pop(i)
        right.pop(j)
        if same:
            partner[j] = i
        else:
            alone.append(i)
    return partner, alone


def match(before: Schedule, after: Schedule, decided: Decided = NOTHING_DECIDED) -> tuple[Match, ...]:
    """Every line of both schedules once, in the order of the later one, removed lines last."""
    left, right = dict.fromkeys(range(len(before.lines))), dict.fromkeys(range(len(after.lines)))
    partner: dict[int, int] = {}

    def take(key: Key) -> set[int]:
        pairs = pair_up(before, after, left, right, key)
        for i, j in pairs:
            partner[j] = i
            left.pop(i)
            right.pop(j)
        return {j for _, j in pairs}

    take(by_id)
    take(by_mark)
    told, alone = settle(decided, left, right)
    partner.update(told)
    proposed = take(by_kind) | take(by_size)
    matches, known = [], dict[KindPair, list[str]]()
    for j in range(len(after.lines)):
        found = partner.get(j)
        classed = ("added",) if found is None else classes(before, found, after, j, known)
        matches.append(Match(found, j, classed, j in proposed))
    return (*matches, *(Match(i, None, ("removed",)) for i in sorted((*left, *alone))))
