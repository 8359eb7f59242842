"""Two revisions of a schedule line by line: what changed, what is only a proposal, what changed but is not clouded.

lines of both > core match, with what is decided > changes with sentences > clouds of the drawing issue compared
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.compared.lines import line_sentence, sides_of
from estimating.compared.values import Reader
from estimating.core.comparison import NOTHING_DECIDED, Decided, Match, match
from estimating.core.schedule import Schedule
from estimating.core.schedule_lines import mark_key
from estimating.core.schedule_reading import Reading, read_lines
from estimating.intake.said import Show
from rates.core.feet_inches import print_feet_inches


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of one revision that can be read, and where each stands in it."""

    schedule: Schedule
    places: tuple[int, ...]
    unread: int

    @property
    def count(self) -> int:
        """How many lines the revision has."""
        return len(self.places) + self.unread


@dataclass(frozen=True, slots=True)
class LineChange:
    """One line that changed. before and after: its places in the revisions, None where it was added or removed.

    classes: added, removed, renumbered, alternate, excluded, place, size, factors, quantity, source. proposal: matched
    by size and place alone, waiting for a person to confirm it. clouded: whether the drawing issue clouds its mark,
    None where it lists no clouds.
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
class Pair:
    """Two lines that size and place match: their places in the revisions and their marks."""

    before: int
    after: int
    mark_before: str
    mark_after: str


@dataclass(frozen=True, slots=True)
class Changes:
    """All changes of the later revision, all proposals, decided or not; what its clouds say that its lines don't."""

    lines: tuple[LineChange, ...]
    proposals: tuple[Pair, ...]
    unchanged: int
    not_clouded: tuple[str, ...]  # marks that changed outside every cloud
    clouded_unchanged: tuple[str, ...]  # marks in a cloud of which no line changed
    unread: int  # lines with an open question about their size or count, compared with nothing
    matched: tuple[tuple[int, int], ...]  # the places of each line that stands in both


def read_revision(rows: Sequence[Mapping[str, Any]], length_unit: str) -> Lines:
    """The readable lines of a stored revision."""
    reading = Reading(length_unit or "in", False)
    found = read_lines(reading, list(rows), "")
    schedule = Schedule(tuple(line for _, line in found), tuple(reading.kinds))
    return Lines(schedule, tuple(index for index, _ in found), len(rows) - len(found))


def proposals(before: Lines, after: Lines) -> tuple[Pair, ...]:
    """The lines that size and place alone match, in the order of the later revision: what is decided changes none."""
    return pairs(match(before.schedule, after.schedule), before, after)


def pairs(matches: Sequence[Match], before: Lines, after: Lines) -> tuple[Pair, ...]:
    """The proposals among matches."""
    found = []
    for one in matches:
        if one.proposed and one.before is not None and one.after is not None:
            marks = before.schedule.lines[one.before].mark, after.schedule.lines[one.after].mark
            found.append(Pair(before.places[one.before], after.places[one.after], *marks))
    return tuple(found)


def by_line(before: Lines, after: Lines, decided: Decided) -> Decided:
    """What is decided of places in the revisions, told of their readable lines."""
    old, new = ({place: index for index, place in enumerate(lines.places)} for lines in (before, after))
    return {(old[i], new[j]): same for (i, j), same in decided.items() if i in old and j in new}


def compare_revisions(
    before: Lines,
    after: Lines,
    clouds: Sequence[str] = (),
    *,
    show: Show = print_feet_inches,
    decided: Decided = NOTHING_DECIDED,
) -> Changes:
    """The changes between two revisions; `clouds` are the marks that the later drawing issue clouds.

    `decided` are places in the revisions: a proposal that a person has confirmed is a renumbered line, one that was
    rejected a removed and an added line. Sentences print lengths by `show`.
    """
    clouded = frozenset(mark_key(mark) for mark in clouds if mark.strip())
    plain = match(before.schedule, after.schedule)
    matches = match(before.schedule, after.schedule, by_line(before, after, decided)) if decided else plain
    changed = [change(found, before, after, clouded, show) for found in matches if found.classes]
    marks = {mark_key(line.mark) for line in changed}
    missed = dict.fromkeys(line.mark for line in changed if line.clouded is False and line.classes != ("source",))
    return Changes(
        lines=tuple(changed),
        proposals=pairs(plain, before, after),
        unchanged=len(matches) - len(changed),
        not_clouded=tuple(missed),
        clouded_unchanged=tuple(sorted(clouded - marks)),
        unread=before.unread + after.unread,
        matched=tuple(
            (before.places[one.before], after.places[one.after])
            for one in matches
            if one.before is not None and one.after is not None
        ),
    )


def change(found: Match, before: Lines, after: Lines, clouded: frozenset[str], show: Show) -> LineChange:
    """One match as a change."""
    sides = sides_of(found, before.schedule, after.schedule)
    line, old, new = sides.line, sides.old, sides.new
    keys = {one.mark_key for one in (old, new) if one is not None}
    return LineChange(
        before=before.places[found.before] if found.before is not None else None,
        after=after.places[found.after] if found.after is not None else None,
        mark=line.mark,
        storey=line.storey,
        elevation=line.elevation,
        classes=found.classes,
        sentence=line_sentence(sides, Reader(show)),
        proposal=found.proposed,
        clouded=bool(keys & clouded) if clouded else None,
    )
