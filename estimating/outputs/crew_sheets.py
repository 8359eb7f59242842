"""Crew sheets: what a crew does in one zone, in its order, with what it loads, how long it takes and when it stops.

A sheet for each zone of the calendar (and for the sheathing joints). Its pieces are the bundles of the cut plan. No
money stands on any.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from typing import Any

from estimating.compared.values import Reader, value_text
from estimating.core.estimate import Estimate
from estimating.core.materials import MaterialLine
from estimating.core.roll_needs import ROLES
from estimating.core.schedule_lines import place_key
from estimating.core.scheduling.plan import PlannedPart
from estimating.core.scheduling.tasks import Task
from estimating.core.shapes import SIDES
from estimating.outputs.calendar_answer import clock, names_of, planned_parts
from estimating.outputs.cautions import Site, cautions_of, lines_high
from estimating.outputs.coat_clock import coat_row
from estimating.outputs.cut_plan import bundle_rows, planned
from estimating.outputs.measures import measures_of
from estimating.outputs.weather_rules import weather_rules
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.length_styles import LengthStyle

Row = dict[str, Any]
ZERO = Fraction(0)
ORDER = (
    "sill",
    "jambs",
    "head",
)  # and then the diagonals; each upper piece laps the lower (common practice, no source)
RANK = {"sill": 0, "jamb": 1, "side": 1, "head": 2, "arch head": 2, "collar": 3}
LAST = 4  # diagonals and corners


Where = tuple[int, bool, str, str]  # place of the part, whether it is the joints, elevation and storey as compared


def bundles_by_zone(estimate: Estimate) -> dict[Where, list[Row]]:
    """The bundles of the cut plan by part and zone; those of the sheathing joints apart."""
    found: dict[Where, list[Row]] = {}
    for of in planned(estimate):
        for row in bundle_rows(of):
            joints = of.part.joints is not None and row["mark"] == "joints"
            place = (place_key(row["elevation"] or ""), place_key(row["storey"] or ""))
            found.setdefault((of.part.conditions.place, joints, *place), []).append(row)
    return found


def where(task: Task) -> Where:
    """What its bundles are found by."""
    return task.part.conditions.place, task.is_joints, place_key(task.elevation), place_key(task.storey)


def in_working_order(task: Task) -> list[int]:
    """The lines of a zone, those of one access together; otherwise as in the schedule."""
    lines, works = task.part.conditions.request.schedule.lines, task.part.works
    accesses = list(dict.fromkeys(works[kind_of(lines[i].kind)].access for i in task.lines))
    return sorted(task.lines, key=lambda i: accesses.index(works[kind_of(lines[i].kind)].access))


def kind_of(kind: int | None) -> int:
    """The kind of a line that is worked, which always has one."""
    assert kind is not None
    return kind


def opening_rows(task: Task, style: LengthStyle) -> Iterator[Row]:
    """The openings of a zone in working order, with the minutes that each should take."""
    lines, works = task.part.conditions.request.schedule.lines, task.part.works
    reader = Reader(style.show)
    for place, index in enumerate(in_working_order(task), 1):
        line, work = lines[index], works[kind_of(lines[index].kind)]
        each = work.touch_minutes * task.learning
        sides = [side for side in SIDES if side in work.kind.sides]
        yield {
            "order": place,
            "line": index + 1,
            "mark": line.mark,
            "quantity": line.quantity,
            "kind": work.kind.kind,
            "size": value_text("shape", work.kind.shape, reader),
            "sides": "all" if len(sides) == len(SIDES) else ", ".join(sides),
            "access": work.access,
            "method": work.method,
            "minutes_each": print_quantity(each),
            "minutes": print_quantity(each * line.quantity),
            "boxes": line.quantity,
        }


def piece_rows(task: Task, bundles: Sequence[Row]) -> list[Row]:
    """The pieces of a zone by mark in working order, of each mark sill, jambs, head, then the corners."""
    lines = task.part.conditions.request.schedule.lines
    marks = list(dict.fromkeys(lines[i].mark for i in in_working_order(task)))
    place = {mark: i for i, mark in enumerate(marks)}

    def key(row: Row) -> tuple[int, int]:
        return place.get(row["mark"], len(marks)), RANK.get(row["piece"], LAST)

    names = ("mark", "piece", "length", "width", "count", "material", "joined")
    titles = {line.row.code: line.row.title for line in task.part.materials}
    rows = sorted(bundles, key=key)
    return [{name: row[name] for name in names} | {"title": titles[row["material"]]} for row in rows]


def share_of_days(task: Task, of: PlannedPart) -> Fraction:
    """The zone's share of the days of the crew: of those that begin in it, where what is used by the day is loaded."""
    first = {stint.day.date: stint.task.number for stint in reversed(of.stints)}
    return Fraction(sum(number == task.number for number in first.values()), len(first)) if first else ZERO


def pack_rows(task: Task, of: PlannedPart, estimate: Estimate) -> Iterator[Row]:
    """What to load beside the bundles: the zone's share of each material with its waste, in packs that are bought."""
    m, works = measures_of(estimate), task.works
    for line in task.part.materials:
        if line.row.role in ROLES or not line.net:
            continue
        code = line.row.code
        net = sum((work.use[code] * count for work, count in works if code in work.used), ZERO)
        net = line.net * share_of_days(task, of) if line.by_crew_day else net
        if not net:
            continue
        wanted, dimension = line.gross * net / line.net, line.row.packs[0].dimension
        yield {
            "material": code,
            "title": line.row.title,
            "quantity": m.print_stock(dimension, wanted),
            "unit": m.unit_of(dimension),
            "packs": [{"size": size, "count": count} for size, count in fewest_packs(line, wanted)],
        }


def fewest_packs(line: MaterialLine, wanted: Fraction) -> Iterator[tuple[str, int]]:
    """The fewest packs of the sizes that are bought (else sold) to carry a quantity; the last one is begun."""
    bought = [pack for pack, _ in line.mix.counts] or list(line.packs)
    sizes = sorted(bought, key=lambda pack: pack.size, reverse=True)
    largest, left = sizes[0], wanted
    whole = int(left // largest.size)
    left -= whole * largest.size
    rest = min((pack for pack in sizes if pack.size >= left), key=lambda pack: pack.size) if left else None
    counts = {largest.label: whole}
    if rest is not None:
        counts[rest.label] = counts.get(rest.label, 0) + 1
    yield from ((label, count) for label, count in counts.items() if count)


def zone_site(task: Task, of: PlannedPart) -> Site:
    """What the cautions of a zone depend on; the climate of its months stands beside the temperature of the price."""
    works, codes = [work for work, _ in task.works], task.materials
    named = {task.part.conditions.temperature} - {None}
    for month in {stint.day.date.month for stint in of.by_task.get(task.number, ())}:
        normal, limits = of.days.month(month), of.limits
        if normal is not None and normal.low_fahrenheit < limits.lowest_fahrenheit:
            named.add("cold")
        if normal is not None and limits.highest_fahrenheit and normal.high_fahrenheit > limits.highest_fahrenheit:
            named.add("hot")
    return Site(
        frozenset(work.access for work in works),
        frozenset(line.row.role for line in task.part.materials if line.row.code in codes),
        frozenset(work.substrate for work in works if work.substrate),
        frozenset(name for name in named if name),
        task.is_joints or lines_high(task.part, task.lines),
    )


def day_rows(task: Task, of: PlannedPart) -> list[Row]:
    """The days that are planned for a zone."""
    found: dict[datetime.date, Row] = {}
    for stint in of.by_task.get(task.number, ()):
        shift = stint.day.shift
        row = {"date": stint.day.date.isoformat(), "starts": clock(shift.first), "ends": clock(shift.last)}
        found[stint.day.date] = row
    return list(found.values())


def sheet(task: Task, of: PlannedPart, bundles: Sequence[Row], estimate: Estimate, style: LengthStyle) -> Row:
    """One zone."""
    site = zone_site(task, of)
    return names_of(of, task, estimate) | {
        "openings": task.openings,
        "days": day_rows(task, of),
        "crew": [{"title": rate.row.title, "count": count} for count, rate in of.part.crew.members],
        "setup_minutes": print_quantity(task.setup * 60),
        "target_minutes": print_quantity(task.work * 60),
        "crew_hours": print_quantity(task.hours / of.part.crew.shares),
        "order": list(ORDER),
        "lines": list(opening_rows(task, style)),
        "pieces": piece_rows(task, bundles),
        "coats": coat_row(task, of.limits),
        "weather": weather_rules(task, of, estimate.request.units),
        "packs": list(pack_rows(task, of, estimate)),
        "cautions": cautions_of(site),
    }


def crew_sheets(estimate: Estimate, style: LengthStyle, first: int = 1, last: int | None = None) -> list[Row]:
    """A sheet for each zone in working order, from the first to the last number that is wanted."""
    bundles = bundles_by_zone(estimate)
    found = []
    for of in planned_parts(estimate):
        for task in of.tasks:
            number = of.before + task.number
            if first <= number and (last is None or number <= last):
                found.append(sheet(task, of, bundles.get(where(task), []), estimate, style))
    return found
