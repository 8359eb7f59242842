"""What answers would do, before they are given: the lines that change, their least and greatest sizes before and after.

lines of a revision and of a reading of the same file > pairs by row > those that differ > sizes, a few of them in full
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.schedule_reading import Reading, read_lines
from estimating.intake.checks import sides_of
from estimating.intake.report import cell_of
from estimating.intake.said import Said, size_said
from rates.core.fraction import Fraction

MOST_EXAMPLES = 20
Report = Mapping[str, Any]
Rows = Sequence[Mapping[str, Any]]
Shown = dict[str, Any]


@dataclass(frozen=True)
class Sized:
    """A line's size, its lengths apart."""

    line: int
    mark: str
    size: Said


@dataclass(frozen=True)
class Extremes:
    """The least and the greatest size of some lines, None where none of them can be read."""

    smallest: Sized | None
    largest: Sized | None


@dataclass(frozen=True)
class Touched:
    """Lines that answers would change: how many, their openings, sizes before and after, the first in full."""

    lines: int
    openings: int  # after it
    openings_before: int
    before: Extremes
    after: Extremes
    examples: tuple[Shown, ...]


def touched(before: Rows, old: Report, after: Rows, new: Report, units: tuple[str, str]) -> Touched:
    """The lines that differ between a revision and another reading of its file; units of their bare numbers."""
    was, now = by_row(before, old), by_row(after, new)
    changed = [key for key in dict.fromkeys((*was, *now)) if line_at(was, before, key) != line_at(now, after, key)]
    indexes = [was[key] for key in changed if key in was], [now[key] for key in changed if key in now]
    return Touched(
        len(changed),
        openings_of(after, indexes[1]),
        openings_of(before, indexes[0]),
        extremes(before, indexes[0], units[0]),
        extremes(after, indexes[1], units[1]),
        tuple(example(key, was, before, now, after, new, old) for key in changed[:MOST_EXAMPLES]),
    )


def openings_of(rows: Rows, indexes: Sequence[int]) -> int:
    """How many openings lines count; those whose count can't be read count none."""
    counts = (rows[index].get("quantity") for index in indexes)
    return sum(count for count in counts if isinstance(count, int))


def by_row(rows: Rows, report: Report) -> dict[tuple[Any, ...], int]:
    """Index of each line by where it was read, and which of that row's lines it is."""
    found: dict[tuple[Any, ...], int] = {}
    times: dict[tuple[Any, ...], int] = {}
    for index in range(len(rows)):
        entry = report["lines"][index] if index < len(report["lines"]) else [index]
        where = tuple(entry[:2]) if report["tables"] else (entry[0],)
        times[where] = times.get(where, 0) + 1
        found[(*where, times[where])] = index
    return found


def line_at(places: Mapping[Any, int], rows: Rows, key: tuple[Any, ...]) -> Mapping[str, Any] | None:
    """The line at a place, None for none."""
    return rows[places[key]] if key in places else None


def example(
    key: tuple[Any, ...], was: Mapping[Any, int], before: Rows, now: Mapping[Any, int], after: Rows, new: Report,
    old: Report,
) -> Shown:  # fmt: skip
    """One line with the fields that differ."""
    left, right = line_at(was, before, key) or {}, line_at(now, after, key) or {}
    names = [name for name in dict.fromkeys((*left, *right)) if left.get(name) != right.get(name)]
    report, index = (new, now[key]) if key in now else (old, was[key])
    entry = report["lines"][index] if index < len(report["lines"]) else [f"/openings/{index}"]
    return {
        "line": now.get(key),
        "mark": str((right or left).get("mark", "")),
        "cell": cell_of(report, entry, None),
        "before": {name: left[name] for name in names if name in left},
        "after": {name: right[name] for name in names if name in right},
    }


def extremes(rows: Rows, indexes: Iterable[int], unit: str) -> Extremes:
    """The least and the greatest size among lines, by their least and greatest side."""
    wanted = list(indexes)
    reading = Reading(unit or None, False)
    found: list[tuple[Fraction, Fraction, Sized]] = []
    lines = read_lines(reading, [rows[index] for index in wanted], "")
    kinds = list(reading.kinds)
    for place, line in lines:
        kind = kinds[line.kind] if line.kind is not None else None
        sides = [nm for _, nm in sides_of(kind.shape)] if kind is not None else []
        if kind is not None and sides:
            found.append((min(sides), max(sides), Sized(wanted[place], line.mark, size_said(kind.shape))))
    if not found:
        return Extremes(None, None)
    return Extremes(min(found, key=lambda one: one[0])[2], max(found, key=lambda one: one[1])[2])
