"""What opening lines say field by field: each value with the priced openings that it holds for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.kinds import Kind
from estimating.core.schedule import Schedule
from estimating.core.schedule_lines import Line
from estimating.core.schedule_reading import Reading, read_lines
from estimating.core.shapes import ALL_SIDES, SIDES
from estimating.intake.file_scope import ANY_UNIT
from rates.core.fraction import Fraction

Show = Callable[[Fraction], str]


@dataclass(frozen=True)
class Said:
    """One value of a field, None where lines leave it out, and how many priced openings it holds for."""

    value: str | None
    openings: int


@dataclass(frozen=True)
class SaidOf:
    """What lines say for a field; of the openings of one kind alone where `kind` names it."""

    field: str
    kind: str
    values: tuple[Said, ...]


def sides_of(kind: Kind) -> str:
    """The treated sides of an opening, one word where that is all of them."""
    return "all_sides" if kind.sides == ALL_SIDES else ", ".join(side for side in SIDES if side in kind.sides)


def readers(show: Show) -> Mapping[str, Callable[[Kind], str | None]]:
    """How each field is read from a kind of opening; lengths as `show` writes them."""
    return {
        "access": lambda kind: kind.access,
        "method": lambda kind: kind.method,
        "wall_barrier": lambda kind: kind.barrier,
        "treated_depth": lambda kind: show(kind.depth_nm) if kind.depth_nm is not None else None,
        "substrate": lambda kind: kind.substrate,
        "sill": lambda kind: kind.sill.kind if kind.sill is not None else None,
    }


def line_values(rows: Sequence[Mapping[str, Any]], unit: str, *, show: Show, only_external: bool) -> list[SaidOf]:
    """What the priced lines say: access always, the sides by kind of opening, other fields where any line has them.

    unit: of bare lengths. A line that can't be read yet says nothing.
    """
    reading = Reading(unit or ANY_UNIT, only_external)
    counts = openings_by_kind(line for _, line in read_lines(reading, rows, ""))
    kinds = list(reading.kinds)
    found = [SaidOf(name, "", counted(counts, kinds, read)) for name, read in readers(show).items()]
    access, *rest = found
    rest = [one for one in rest if any(said.value is not None for said in one.values)]
    with_sill = {index: n for index, n in counts.items() if kinds[index].shape.has_sill}
    sides = [
        SaidOf("sides", name, counted({i: n for i, n in with_sill.items() if kinds[i].kind == name}, kinds, sides_of))
        for name in dict.fromkeys(kinds[index].kind for index in with_sill)
    ]
    return [access, *sides, *rest] if counts else []


def openings_by_access(schedule: Schedule) -> tuple[Said, ...]:
    """What the priced lines of a schedule say of access."""
    return counted(openings_by_kind(schedule.lines), schedule.kinds, lambda kind: kind.access)


def openings_by_kind(lines: Iterable[Line]) -> dict[int, int]:
    """The priced openings by the index of their kind."""
    counts: dict[int, int] = {}
    for line in lines:
        if line.priced and line.kind is not None and line.quantity:
            counts[line.kind] = counts.get(line.kind, 0) + line.quantity
    return counts


def counted(counts: Mapping[int, int], kinds: Sequence[Kind], read: Callable[[Kind], str | None]) -> tuple[Said, ...]:
    """The openings by value, the most first, what is left out last."""
    found: dict[str | None, int] = {}
    for index, openings in counts.items():
        value = read(kinds[index])
        found[value] = found.get(value, 0) + openings
    return tuple(Said(value, n) for value, n in sorted(found.items(), key=lambda item: (item[0] is None, -item[1])))
