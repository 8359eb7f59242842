"""The opening schedule: raw lines -> lines and distinct kinds, with every fault at once.

A line's raw values are cached as written, so that 100,000 lines of 200 kinds read 200 kinds. Nothing is guessed:
what is unknown stays None, and one mark of two sizes is a fault.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from estimating.core.kinds import Kind
from estimating.core.schedule_lines import (
    MOST_QUANTITY,
    Line,
    LinesOfZone,
    Place,
    check_alternates,
    places_of,
    quantities,
    zoned,
)
from estimating.core.schedule_reading import Reading, read_lines
from estimating.core.shapes import Shape
from rates.core.fields import Faults, shown
from rates.core.problems import MOST_FAULTS, Problem, more_faults

MOST_LINES = 200_000


@dataclass(frozen=True)
class Schedule:
    """Lines in document order and the distinct kinds they are of."""

    lines: tuple[Line, ...]
    kinds: tuple[Kind, ...]

    @cached_property
    def priced(self) -> tuple[int, ...]:
        """Indexes of the lines that count in the base price."""
        return tuple([i for i, line in enumerate(self.lines) if line.reason is None and line.alternate is None])

    @cached_property
    def worked(self) -> tuple[int, ...]:
        """Those of them that ask for an opening."""
        return tuple([i for i in self.priced if self.lines[i].quantity and self.lines[i].kind is not None])

    @cached_property
    def quantities(self) -> Mapping[int, int]:
        """How many priced openings of each kind."""
        return quantities(self.lines, self.worked)

    @cached_property
    def places(self) -> Sequence[Place]:
        """Where they are, each place once."""
        return places_of(self.lines, self.worked)

    @cached_property
    def zones(self) -> Sequence[LinesOfZone]:
        """The same by elevation and storey."""
        return zoned(self.lines, self.worked)

    def priced_among(self, indexes: Sequence[int]) -> Sequence[int]:
        """Those of the lines at these indexes that count in the base price."""
        if len(indexes) == len(self.lines):
            return self.priced
        return [i for i in indexes if self.lines[i].priced]


def check_sizes(lines: Sequence[tuple[int, Line]], kinds: Sequence[Kind], base: str, faults: Faults) -> None:
    """One mark has one size."""
    if len({line.mark_key for _, line in lines}) == len(lines):
        return
    sizes: dict[str, tuple[Shape, int]] = {}
    seen: set[tuple[str, int]] = set()
    for index, line in lines:
        if line.kind is None or (line.mark_key, line.kind) in seen:
            continue
        seen.add((line.mark_key, line.kind))
        shape = kinds[line.kind].shape
        first, where = sizes.setdefault(line.mark_key, (shape, index))
        if first is not shape and first != shape:
            detail = f'the mark "{line.mark}" has another size on opening line {where + 1}; one mark has one size'
            faults.append(Problem(f"{base}/{index}", "mark_of_two_sizes", detail))


def read_schedule(
    rows: object, length_unit: str | None, *, only_external: bool, pointer: str, faults: Faults
) -> Schedule | None:
    """The schedule from raw lines, bare numbers in `length_unit`; None with the faults noted, the first thousand."""
    if not isinstance(rows, list | tuple):
        faults.append(Problem(pointer, "not_a_list", f"a list of opening lines is expected, not {shown(rows)}"))
        return None
    if len(rows) > MOST_LINES:
        faults.append(Problem(pointer, "too_many_lines", f"at most {MOST_LINES:,} lines are taken, not {len(rows):,}"))
        return None
    reading = Reading(length_unit, only_external)
    read = read_lines(reading, rows, pointer)
    check_sizes(read, list(reading.kinds), pointer, reading.faults)
    check_alternates(read, pointer, reading.faults)
    total = sum(line.quantity for _, line in read)
    if total > 10 * MOST_QUANTITY:
        detail = f"at most {10 * MOST_QUANTITY:,} openings are taken"
        reading.faults.append(Problem(pointer, "too_many_openings", detail))
    if reading.faults:
        faults.extend(first_faults(reading.faults, pointer))
        return None
    return Schedule(tuple(line for _, line in read), tuple(reading.kinds))


def first_faults(faults: Faults, pointer: str) -> Faults:
    """The first faults, and one that says how many more there are."""
    if len(faults) <= MOST_FAULTS:
        return faults
    return [*faults[:MOST_FAULTS], more_faults(pointer, sum(fault.count for fault in faults[MOST_FAULTS:]))]
