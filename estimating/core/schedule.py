"""The opening schedule: raw lines -> lines and distinct kinds, with every fault at once.

A line's raw values are cached as written, so that 100,000 lines of 200 kinds read 200 kinds. Nothing is guessed:
what is unknown stays None, and one mark of two sizes is a fault.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from operator import itemgetter
from typing import NamedTuple

from estimating.core.kind_reading import build_kind, kind_fields, missing_dimensions
from estimating.core.kinds import Kind
from estimating.core.schedule_columns import FEW, read_columns, stretches, upper
from estimating.core.shapes import Shape
from rates.core.fields import Faults, Field, Reader, Record, choice, note_unknown, shown, text, whole
from rates.core.problems import MOST_FAULTS, Problem, more_faults

MOST_LINES = 200_000
MOST_QUANTITY = 1_000_000
DASHES = re.compile("[\u2010-\u2015\u2212\ufe58\ufe63\uff0d]")

EXCLUDED = Record(lambda reason: reason, (Field("reason", text(300), "why it is not priced", required=True),))
SOURCE = Record(
    lambda **v: tuple(v.items()),
    (
        Field("sheet", text(100), "drawing sheet"),
        Field("detail", text(100), "detail"),
        Field("revision", text(100), "revision"),
        Field("date", text(40), "date"),
        Field("counted_by", text(100), "who counted"),
    ),
)
ANY_LENGTH = Reader(lambda raw: raw if isinstance(raw, int | str) else str(raw), {"type": ["string", "number"]})
LINE_FIELDS = (
    Field("id", text(80), "a stable id of the line"),
    Field("mark", text(80), "the opening's label as drawn", required=True),
    Field("quantity", whole(0, MOST_QUANTITY), "how many", required=True),
    Field("elevation", text(80, blank=True), "elevation", default=""),
    Field("storey", text(80, blank=True), "storey", default=""),
    Field("building", text(80, blank=True), "building; kept, not priced"),
    Field("storey_elevation", ANY_LENGTH, "height of the storey's floor; kept, not priced"),
    Field("excluded", EXCLUDED, "stays visible, priced 0"),
    Field("alternate", text(40), "number of the alternate it belongs to; priced 0 in the base"),
    Field("source", SOURCE, "where it was read"),
    Field("confidence", choice("counted", "scaled", "assumed"), "how sure the count is"),
    Field("note", text(1000, blank=True), "a note"),
)
LINE_NAMES = tuple(f.name for f in LINE_FIELDS)
INTERIOR = "interior"


class Line(NamedTuple):
    """One line: `kind` indexes Schedule.kinds (None: excluded without a size); reason: why it is not priced."""

    mark: str
    mark_key: str
    quantity: int
    elevation: str
    storey: str
    kind: int | None
    reason: str | None
    alternate: str | None
    source: tuple[tuple[str, str], ...] | None
    id: str | None

    @property
    def priced(self) -> bool:
        """Whether the line counts in the base price."""
        return self.reason is None and self.alternate is None


@dataclass(frozen=True)
class Schedule:
    """Lines in document order and the distinct kinds they are of."""

    lines: tuple[Line, ...]
    kinds: tuple[Kind, ...]

    @cached_property
    def priced(self) -> tuple[int, ...]:
        """Indexes of the lines that count in the base price."""
        return tuple([i for i, line in enumerate(self.lines) if line.reason is None and line.alternate is None])

    def priced_among(self, indexes: Sequence[int]) -> Sequence[int]:
        """Those of the lines at these indexes that count in the base price."""
        if len(indexes) == len(self.lines):
            return self.priced
        return [i for i in indexes if self.lines[i].priced]


@lru_cache(maxsize=20_000)
def mark_key(mark: str) -> str:
    """A mark for comparing: upper case, trimmed, dashes unified; `01` never becomes `1`."""
    return DASHES.sub("-", " ".join(mark.upper().split()))


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
        self.line_record = Record(lambda **v: v, LINE_FIELDS)
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
        columns = (found.marks, upper(found.marks), *found[1:4], of_lines, reasons, nothing, nothing, nothing)
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
        elevation, storey = row.get("elevation", ""), row.get("storey", "")
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
        ):
            reason = INTERIOR if kind in self.interior else None
            return Line(mark, mark.upper(), quantity, elevation, storey, kind, reason, None, None, None)
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
        reason = v["excluded"] or (INTERIOR if kind in self.interior else None)
        places = (v["elevation"], v["storey"])
        return Line(
            v["mark"], mark_key(v["mark"]), v["quantity"], *places, kind, reason, v["alternate"], v["source"], v["id"]
        )


UNUSUAL = frozenset(LINE_NAMES) - {"mark", "quantity", "elevation", "storey"}
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
    total = sum(line.quantity for _, line in read)
    if total > 10 * MOST_QUANTITY:
        reading.faults.append(
            Problem(pointer, "too_many_openings", f"at most {10 * MOST_QUANTITY:,} openings are taken")
        )
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
