"""One pass over the raw lines of a schedule: plain ones together, any other one by one, each distinct kind once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from operator import itemgetter
from typing import Any, NamedTuple, cast

from estimating.core.kind_reading import build_kind, kind_fields, missing_dimensions
from estimating.core.kinds import Kind
from estimating.core.schedule_columns import FEW, NEEDED, TAKEN, Columns, Row, by_names, read_columns, stretches
from estimating.core.schedule_lines import ADD, DEDUCT, LINE_NAMES, Alternate, Line, line_fields, mark_key
from rates.core.fields import Faults, Record, note_unknown, shown
from rates.core.problems import MOST_FAULTS, Problem

INTERIOR = "interior"


class Plan(NamedTuple):
    """How lines with the same field names are read; `plain`: whether they may be read together."""

    values: Callable[[Mapping[str, object]], object]
    known: tuple[str, ...]
    unknown: tuple[str, ...]
    plain: bool


KindRead = tuple[int | None, Faults]
OfValues = dict[tuple[object, ...], KindRead]


class Part(NamedTuple):
    """Lines that are read together: their places in a stretch, their columns, the kinds by what decides them."""

    places: Sequence[int]
    plan: Plan
    columns: Columns
    kinds: OfValues


class Reading:
    """One pass over raw lines: caches by raw text, collects faults."""

    def __init__(self, length_unit: str | None, only_external: bool) -> None:
        self.only_external = only_external
        self.fields = kind_fields(length_unit)
        self.kind_record = Record(lambda **v: v, self.fields)
        self.line_record = Record(lambda **v: v, line_fields(length_unit))
        self.defaults = {f.name: f.default for f in self.fields}
        self.plans: dict[tuple[str, ...], Plan] = {}
        self.texts: dict[tuple[str, str], Any] = {}
        self.of_values: dict[tuple[tuple[str, ...], tuple[type, ...]], OfValues] = {}
        self.of_lines: dict[tuple[tuple[str, ...], str], KindRead] = {}
        self.kinds: dict[Kind, int] = {}
        self.interior: set[int | None] = set()
        self.faults: Faults = []

    def plan(self, names: tuple[str, ...]) -> Plan:
        """The plan for lines with these fields."""
        found = self.plans.get(names)
        if found is None:
            known = tuple(n for n in names if n in self.defaults)
            unknown = tuple(n for n in names if n not in self.defaults and n not in LINE_NAMES)
            getter = itemgetter(*known) if known else tuple[object, ...]
            self.plans[names] = found = Plan(getter, known, unknown, NEEDED <= set(names) <= TAKEN | set(known))
        return found

    def lines(self, rows: Sequence[object], start: int, base: str) -> list[Line | None]:
        """Lines one after another, None for those whose faults are noted, in their order."""
        parts, alone = self.parts(rows)
        self.read_kinds(rows, parts, alone)
        found: list[Line | None] = [None] * len(rows)
        for part in parts:
            for place, line in zip(part.places, self.together(part), strict=True):
                found[place] = line
                if line.kind is None:
                    alone.append(place)
        for place in sorted(alone):
            found[place] = self.line(rows[place], start + place, base)
        return found

    def parts(self, rows: Sequence[object]) -> tuple[list[Part], list[int]]:
        """What can be read together, by halves where something in it is unusual, and the places of all other lines."""
        parts: list[Part] = []
        alone: list[int] = []
        for names, all_of_them in by_names(rows).items():
            plan = self.plan(names)
            waiting = [all_of_them]
            while waiting:
                places = waiting.pop()
                several = plan.plain and len(places) >= FEW
                columns = read_columns([cast(Row, rows[i]) for i in places], plan.known) if several else None
                if columns is not None:
                    kinds = self.of_values.setdefault((plan.known, columns.types), {})
                    parts.append(Part(places, plan, columns, kinds))
                elif several:
                    waiting += [places[: len(places) // 2], places[len(places) // 2 :]]
                else:
                    alone += places
        return parts, alone

    def read_kinds(self, rows: Sequence[object], parts: Sequence[Part], alone: Sequence[int]) -> None:
        """Reads each kind once, in the order in which the lines first have them."""
        waiting: list[tuple[int, Part | None, tuple[object, ...]]] = [(place, None, ()) for place in alone]
        for part in parts:
            first = dict(zip(reversed(part.columns.values), reversed(part.places), strict=True))
            waiting += [(place, part, values) for values, place in first.items() if values not in part.kinds]
        for place, of_part, values in sorted(waiting, key=itemgetter(0)):
            row = rows[place]
            if of_part is not None:
                of_part.kinds[values] = self.read_kind(dict(zip(of_part.plan.known, values, strict=True)))
            elif isinstance(row, dict):
                self.kind_of(row, self.plan(tuple(row)))

    def together(self, part: Part) -> Iterable[Line]:
        """The lines of a part; one without a kind has a fault."""
        kinds = [part.kinds[values][0] for values in part.columns.values]
        reasons = [INTERIOR if kind in self.interior else None for kind in kinds] if self.interior else None
        nothing = [None] * len(kinds)
        marks, keys, quantities, elevations, storeys, buildings, phases, ids, _, _ = part.columns
        columns = (marks, keys, quantities, elevations, storeys, kinds, reasons or nothing, nothing, nothing, ids)
        return map(Line._make, zip(*columns, buildings, phases, nothing, strict=True))

    def read_kind(self, row: Mapping[str, object]) -> KindRead:
        """(kind index or None, faults with pointers in the line)."""
        faults: Faults = []
        values = self.kind_values(row, faults)
        if faults:
            missing_dimensions(row, values, faults)
        kind = None if faults else build_kind(values, "", faults)
        if kind is None:
            return None, faults
        index = self.kinds.setdefault(kind, len(self.kinds))
        if self.only_external and kind.external is False:
            self.interior.add(index)
        return index, faults

    def kind_values(self, row: Mapping[str, object], faults: Faults) -> dict[str, Any]:
        """The values of a kind's fields by name, a text that stood there before as it was read then."""
        values = self.defaults.copy()
        for name, raw in row.items():
            if type(raw) is str and (name, raw) in self.texts:
                values[name] = self.texts[name, raw]
            elif raw is not None:
                values[name] = self.kind_record.by_name[name].reader.read(raw, "", faults)
                if faults:  # to be noted in the order of the fields
                    faults.clear()
                    return self.kind_record.values(row, "", faults)
                if type(raw) is str:
                    self.texts[name, raw] = values[name]
        return values

    def kind_of(self, row: Mapping[str, object], plan: Plan) -> KindRead:
        """As read_kind, once for lines that say the same."""
        key = (plan.known, repr(plan.values(row)))
        hit = self.of_lines.get(key)
        if hit is None:
            hit = self.of_lines[key] = self.read_kind({n: row[n] for n in plan.known})
        return hit

    def line(self, row: object, at: int, base: str) -> Line | None:
        """One line through the field table, or None with its faults noted."""
        if not isinstance(row, dict):
            detail = f"a line is an object of fields, not {shown(row)}"
            self.faults.append(Problem(f"{base}/{at}", "not_an_object", detail))
            return None
        plan = self.plan(tuple(row))
        return self.any_line(row, *self.kind_of(row, plan), plan.unknown, f"{base}/{at}")

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


def read_lines(reading: Reading, rows: Iterable[object], pointer: str) -> list[tuple[int, Line]]:
    """(index, line) of each line without a fault; stops adding when there are far too many faults."""
    read: list[tuple[int, Line]] = []
    at = 0
    for stretch in stretches(rows):
        read += [(i, line) for i, line in enumerate(reading.lines(stretch, at, pointer), at) if line is not None]
        at += len(stretch)
        if len(reading.faults) > 20 * MOST_FAULTS:
            break
    return read
