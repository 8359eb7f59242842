"""Two revisions of a schedule line by line: what changed, what is only a proposal, what changed but is not clouded.

lines of both > core match > changes with sentences > clouds of the drawing issue compared
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.comparison import Match, match
from estimating.core.schedule import Line, Reading, Schedule, mark_key, read_lines
from estimating.intake.checks import size_text

METRIC = frozenset({"mm", "cm", "m"})


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of one revision that can be read, and where each stands in it."""

    schedule: Schedule
    places: tuple[int, ...]
    unread: int


@dataclass(frozen=True, slots=True)
class LineChange:
    """One line that changed. before and after: its places in the revisions, None where it was added or removed.

    classes: added, removed, renumbered, alternate, excluded, size, factors, quantity, source. proposal: matched by size
    and place alone, to be confirmed by a person. clouded: whether the drawing issue clouds its mark, None where it
    lists no clouds.
    """

    before: int | None
    after: int | None
    mark: str
    storey: str
    elevation: str
    classes: tuple[str, ...]
    sentence: str
    proposal: bool
    clouded: bool | None


@dataclass(frozen=True, slots=True)
class Changes:
    """All changes of the later revision, and what its clouds say that its lines don't."""

    lines: tuple[LineChange, ...]
    unchanged: int
    not_clouded: tuple[str, ...]  # marks that changed outside every cloud
    clouded_unchanged: tuple[str, ...]  # marks in a cloud of which no line changed
    unread: int  # lines with an open question about their size or count, compared with nothing


def read_revision(rows: Sequence[Mapping[str, Any]], length_unit: str) -> Lines:
    """The readable lines of a stored revision."""
    reading = Reading(length_unit or "in", False)
    found = read_lines(reading, list(rows), "")
    schedule = Schedule(tuple(line for _, line in found), tuple(reading.kinds))
    return Lines(schedule, tuple(index for index, _ in found), len(rows) - len(found))


def compare_revisions(before: Lines, after: Lines, clouds: Sequence[str] = (), *, metric: bool = False) -> Changes:
    """The changes between two revisions; `clouds` are the marks that the later drawing issue clouds."""
    clouded = frozenset(mark_key(mark) for mark in clouds if mark.strip())
    matches = match(before.schedule, after.schedule)
    changed = [change(found, before, after, clouded, metric) for found in matches if found.classes]
    marks = {mark_key(line.mark) for line in changed}
    missed = dict.fromkeys(line.mark for line in changed if line.clouded is False and line.classes != ("source",))
    return Changes(
        lines=tuple(changed),
        unchanged=len(matches) - len(changed),
        not_clouded=tuple(missed),
        clouded_unchanged=tuple(sorted(clouded - marks)),
        unread=before.unread + after.unread,
    )


def change(found: Match, before: Lines, after: Lines, clouded: frozenset[str], metric: bool) -> LineChange:
    """One match as a change."""
    old = before.schedule.lines[found.before] if found.before is not None else None
    new = after.schedule.lines[found.after] if found.after is not None else None
    line = new or old
    assert line is not None
    keys = {one.mark_key for one in (old, new) if one is not None}
    same_id = old is not None and new is not None and old.id is not None and old.id == new.id
    return LineChange(
        before=before.places[found.before] if found.before is not None else None,
        after=after.places[found.after] if found.after is not None else None,
        mark=line.mark,
        storey=line.storey,
        elevation=line.elevation,
        classes=found.classes,
        sentence=describe(found, old, new, before.schedule, after.schedule, metric),
        proposal="renumbered" in found.classes and not same_id,
        clouded=bool(keys & clouded) if clouded else None,
    )


def describe(
    found: Match, old: Line | None, new: Line | None, before: Schedule, after: Schedule, metric: bool
) -> str:  # fmt: skip
    """A change in one sentence."""
    if old is None and new is not None:
        return f"{new.mark}{where(new)} was added: {new.quantity} of {size(new, after, metric)}."
    if new is None and old is not None:
        return f"{old.mark}{where(old)} was removed: {old.quantity} of {size(old, before, metric)}."
    assert old is not None and new is not None
    parts = {
        "renumbered": f"was {old.mark}",
        "quantity": f"quantity {old.quantity} to {new.quantity}",
        "size": f"size {size(old, before, metric)} to {size(new, after, metric)}",
        "factors": "depth, sill, substrate, access or another factor changed",
        "alternate": f"{'alternate ' + old.alternate if old.alternate else 'base'} to "
        f"{'alternate ' + new.alternate if new.alternate else 'base'}",
        "excluded": f"excluded: {new.reason}" if new.reason else "no longer excluded",
        "source": "only its source changed",
    }
    return f"{new.mark}{where(new)}: {', '.join(parts[name] for name in found.classes)}."


def where(line: Line) -> str:
    """The line's place as a sentence has it."""
    place = ", ".join(part for part in (line.storey, line.elevation) if part)
    return f" ({place})" if place else ""


def size(line: Line, schedule: Schedule, metric: bool) -> str:
    """The line's size as a sentence has it."""
    return size_text(schedule.kinds[line.kind].shape, metric) if line.kind is not None else "unknown size"
