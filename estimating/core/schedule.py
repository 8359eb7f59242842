"""The opening schedule: raw lines -> lines and distinct kinds, with every fault at once.

A line's raw values are cached as written, so that 100,000 lines of 200 kinds read 200 kinds. Nothing is guessed:
what is unknown stays None, and one mark of two sizes is a fault.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import itemgetter
from typing import Any, NamedTuple

from estimating.core.kind_reading import build_kind, kind_fields, missing_dimensions
from estimating.core.kinds import Kind
from estimating.core.schedule_columns import FEW, read_columns, stretches, upper
from estimating.core.schedule_lines import (
    ADD,
    DEDUCT,
    LINE_NAMES,
    MOST_QUANTITY,
    Alternate,
    Line,
    LinesOfZone,
    Place,
    check_alternates,
    line_fields,
    mark_key,
    places_of,
    quantities,
    zoned,
)
from estimating.core.shapes import Shape
from rates.core.fields import Faults, Record, note_unknown, shown
from rates.core.problems import MOST_FAULTS, Problem, more_faults

MOST_LINES = 200_000
INTERIOR = "interior"


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


class Plan(NamedTuple):
    """How lines with the same field names are read."""

    values: Callable[[Mapping[str, object]], object]
    known: tuple[str, ...]
    unknown: tuple[str, ...]
    short: bool


class Reading:
    """One pass over raw lines: caches by raw text, collects faults."""

    def __init__(self, length_unit: str | None, only_external: bool) -> None:
        self.only_external = only_external
        self.fields = kind_fields(length_unit)
        self.kind_record = Record(lambda **v: v, self.fields)
        self.line_record = Record(lambda **v: v, line_fields(length_unit))
        self.kind_names = frozenset(f.name for f in self.fields)
        self.plans: dict[tuple[str, ...], Plan] = {}
        self.cache: dict[tuple[tuple[str, ...], str], tuple[int | None, Faults]] = {}
        self.kinds: dict[Kind, int] = {}
        self.interior: set[int | None] = set()
        self.places: set[str] = {""}
        self.faults: Faults = []

    def plan(self, names: tuple[str, ...]) -> Plan:
        """The plan for lines with these fields."""
        known = tuple(n for n in names if n in self.kind_names)
        unknown = tuple(n for n in names if n not in self.kind_names and n not in LINE_NAMES)
        getter = itemgetter(*known) if known else tuple[object, ...]
        short = not UNUSUAL & set(names)
        self.plans[names] = found = Plan(getter, known, unknown, short)
        return found

    def read_kind(self, row: Mapping[str, object]) -> tuple[int | None, Faults]:
        """(kind index or None, faults with pointers in the line)."""
        faults: Faults = []
        values = self.kind_record.values(row, "", faults)
        if faults:
            missing_dimensions(row, values, faults)
        kind = None if faults else build_kind(values, "", faults)
        if kind is None:
            return None, faults
        index = self.kinds.setdefault(kind, len(self.kinds))
        if self.only_external and kind.external is False:
            self.interior.add(index)
        return index, faults

    def kind_of(self, row: Mapping[str, object], plan: Plan) -> tuple[int | None, Faults]:
        """As read_kind, once for lines that say the same."""
        key = (plan.known, repr(plan.values(row)))
        hit = self.cache.get(key)
        if hit is None:
            hit = self.cache[key] = self.read_kind({n: row[n] for n in plan.known})
        return hit

    def together(self, rows: Sequence[Mapping[str, object]], names: tuple[str, ...]) -> list[Line] | None:
        """Lines with the same fields at once, None where any of them is unusual or at fault."""
        plan = self.plans.get(names) or self.plan(names)
        if len(rows) < FEW or not plan.short or plan.unknown or not {"mark", "quantity"} <= set(names):
            return None
        found = read_columns(rows, plan.known, MOST_QUANTITY)
        if found is None:
            return None
        kinds: dict[tuple[object, ...], int | None] = dict.fromkeys(found.values)
        for values in kinds:
            kinds[values], faults = self.kind_of(dict(zip(plan.known, values, strict=True)), plan)
            if faults:
                return None
        of_lines = [kinds[values] for values in found.values]
        reasons = [INTERIOR if kind in self.interior else None for kind in of_lines]
        nothing = [None] * len(rows)
        places = (found.buildings, found.phases, nothing)
        columns = (found.marks, upper(found.marks), *found[1:4], of_lines, reasons, nothing, nothing, nothing, *places)
        return [Line._make(line) for line in zip(*columns, strict=True)]

    def line(self, row: object, at: int, base: str) -> Line | None:
        """One line, or None with its faults noted: the short way where nothing is unusual."""
        if not isinstance(row, dict):
            detail = f"a line is an object of fields, not {shown(row)}"
            self.faults.append(Problem(f"{base}/{at}", "not_an_object", detail))
            return None
        names = tuple(row)
        plan = self.plans.get(names) or self.plan(names)
        kind, faults = self.kind_of(row, plan)
        mark, quantity = row.get("mark"), row.get("quantity")
        elevation, storey, building, phase = [row.get(name, "") for name in PLACES]
        if (
            plan.short
            and not faults
            and not plan.unknown
            and type(quantity) is int
            and 0 <= quantity <= MOST_QUANTITY
            and type(mark) is str
            and SIMPLE.fullmatch(mark)
            and self.place(elevation)
            and self.place(storey)
            and self.place(building)
            and self.place(phase)
        ):
            reason = INTERIOR if kind in self.interior else None
            apart = (building, phase)
            return Line(mark, mark.upper(), quantity, elevation, storey, kind, reason, None, None, None, *apart)
        return self.any_line(row, kind, faults, plan.unknown, f"{base}/{at}")

    def place(self, raw: object) -> bool:
        """Whether an elevation or storey needs no cleaning."""
        if type(raw) is not str:
            return False
        if raw in self.places:
            return True
        if SIMPLE.fullmatch(raw):
            self.places.add(raw)
            return True
        return False

    def any_line(
        self, row: Mapping[str, object], kind: int | None, faults: Faults, unknown: Sequence[str], at: str
    ) -> Line | None:
        """Any line, through the field table."""
        before = len(self.faults)
        if unknown:
            note_unknown(unknown, (*LINE_NAMES, *(f.name for f in self.fields)), at, self.faults)
        if faults and row.get("excluded") is not None:
            faults = [f for f in faults if f.code != "missing"]
        self.faults.extend(f.within(at) for f in faults)
        v = self.line_record.values({n: row[n] for n in LINE_NAMES if n in row}, at, self.faults)
        if len(self.faults) > before:
            return None
        return whole_line(v, kind, v["excluded"] or (INTERIOR if kind in self.interior else None))


def whole_line(v: Mapping[str, Any], kind: int | None, reason: str | None) -> Line:
    """The line of its values; an alternate that is no plain add stands beside as it says."""
    said: Alternate | None = v["alternate"]
    offer = said if said is not None and said.kind != ADD else None
    out = said.name if said is not None and said.kind != DEDUCT else None
    return Line(
        mark=v["mark"],
        mark_key=mark_key(v["mark"]),
        quantity=v["quantity"],
        elevation=v["elevation"],
        storey=v["storey"],
        kind=kind,
        reason=reason,
        alternate=out,
        source=v["source"],
        id=v["id"],
        building=v["building"],
        phase=v["phase"],
        offer=offer,
    )


PLACES = ("elevation", "storey", "building", "phase")
UNUSUAL = frozenset(LINE_NAMES) - {"mark", "quantity", *PLACES}
SIMPLE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._/-]{0,79}", re.ASCII)


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


def read_lines(reading: Reading, rows: Iterable[object], pointer: str) -> list[tuple[int, Line]]:
    """(index, line) of each line without a fault; stops adding when there are far too many faults."""
    read: list[tuple[int, Line]] = []
    at = 0
    for names, stretch in stretches(rows):
        together = reading.together(stretch, names)
        lines = together or (reading.line(row, i, pointer) for i, row in enumerate(stretch, at))
        read += [(i, line) for i, line in enumerate(lines, at) if line is not None]
        at += len(stretch)
        if len(reading.faults) > 20 * MOST_FAULTS:
            break
    return read


def first_faults(faults: Faults, pointer: str) -> Faults:
    """The first faults, and one that says how many more there are."""
    if len(faults) <= MOST_FAULTS:
        return faults
    return [*faults[:MOST_FAULTS], more_faults(pointer, sum(fault.count for fault in faults[MOST_FAULTS:]))]
