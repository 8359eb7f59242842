"""What is to be done, zone by zone in working order: hours of set-up, of work and of waiting between coats.

Hours are standard worker-hours, those of the price: over a part they sum to its touch and set-up hours, and to the idle
minutes of its zones, charged or not. Only how learning spreads differs: in the price one average factor stands on every
opening, here the first zones take longer than the last.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from estimating.core.checks.access import storey_number
from estimating.core.hours import OPENING_EQUIVALENT
from estimating.core.learning import mean
from estimating.core.part import Part
from estimating.core.schedule_lines import LinesOfZone, place_key, zoned
from estimating.core.worked import Worked
from estimating.core.zones import Zone
from rates.core.fraction import Fraction

ZERO = Fraction(0)
MOST_LEARNT = 2_000  # zones of a part that are told apart by what is learnt; of more each has the average


@dataclass(frozen=True)
class Task:
    """A zone of a part (or its sheathing joints: no lines), in standard worker-hours.

    number: from 1 in the part; lines: places of its priced lines in the schedule; zone: its coats, None without any;
    learning: what its touch minutes are multiplied by beside the factor of the price.
    """

    part: Part
    number: int
    elevation: str
    storey: str
    lines: tuple[int, ...]
    openings: int
    setup: Fraction
    work: Fraction
    idle: Fraction
    zone: Zone | None
    learning: Fraction

    @property
    def hours(self) -> Fraction:
        """All of it."""
        return self.setup + self.work + self.idle

    @property
    def is_joints(self) -> bool:
        """Whether it is the sheathing joints."""
        return not self.lines

    @property
    def works(self) -> list[tuple[Worked, int]]:
        """What is worked in it, and how many of each kind."""
        part, lines = self.part, self.part.conditions.request.schedule.lines
        if self.is_joints:
            return [] if part.joints is None else [(part.joints, 1)]
        counts: dict[int, int] = {}
        for line in (lines[i] for i in self.lines):
            if line.kind is not None:
                counts[line.kind] = counts.get(line.kind, 0) + line.quantity
        return [(part.works[kind], count) for kind, count in counts.items()]

    @property
    def materials(self) -> set[str]:
        """The codes of the materials that it uses."""
        return {code for work, _ in self.works for code in work.used}


def in_order(part: Part) -> list[LinesOfZone]:
    """The zones of a part: elevation by elevation as the schedule has them, each from the ground up.

    Storeys without a number go before those with one (common practice, no source).
    """
    lines = part.conditions.request.schedule.lines
    worked = [
        i
        for i in part.conditions.request.schedule.priced_among(part.plan.lines)
        if lines[i].quantity and lines[i].kind in part.works
    ]
    found = zoned(lines, worked)
    firsts: dict[str, int] = {}
    for place, zone in enumerate(found):
        firsts.setdefault(place_key(lines[zone.lines[0]].elevation), place)

    def key(zone: LinesOfZone) -> tuple[int, int]:
        first = lines[zone.lines[0]]
        return firsts[place_key(first.elevation)], storey_number(first.storey) or 0

    return sorted(found, key=key)


def setups(part: Part, zones: Sequence[LinesOfZone]) -> Iterator[Fraction]:
    """Set-up of each zone, in order: mobilisation with the first, elevation and storey change where they begin."""
    rates, lines = part.conditions.production.setup_hours, part.conditions.request.schedule.lines
    accesses = dict(rates.zone)
    storeys: dict[str, set[str]] = {}
    for place, zone in enumerate(zones):
        first = lines[zone.lines[0]]
        elevation, storey = place_key(first.elevation), place_key(first.storey)
        hours = Fraction(part.hours.mobilisations) * rates.mobilisation if place == 0 else ZERO
        if elevation and elevation not in storeys:
            hours += rates.elevation
        seen = storeys.setdefault(elevation, set())
        if storey and storey not in seen:
            hours += rates.storey_change if seen else ZERO
            seen.add(storey)
        from_access = {part.works[kind].access for kind in zone.counts}
        yield hours + sum((accesses[access] for access in from_access if access in accesses), ZERO)


def learnt(part: Part, equivalents: Sequence[Fraction]) -> list[Fraction]:
    """The factor of each block of opening-equivalents beside the average one, as the crew works through them."""
    hours, row = part.hours, part.conditions.production.learning
    if not hours.learns or row.model == "none" or not sum(equivalents) or len(equivalents) > MOST_LEARNT:
        return [Fraction(1)] * len(equivalents)
    crews, second = part.conditions.request.crew.crews, row.tau if row.model == "exponential" else row.slope_percent
    assert row.first is not None and second is not None
    done, found = Fraction(hours.start), []
    for block in equivalents:
        found.append(mean(str(row.model), row.first, second, block, crews, done) / hours.learning_factor)
        done += block / crews
    return found


def tasks_of(part: Part) -> list[Task]:
    """The tasks of a part; the sheathing joints last."""
    found = in_order(part)
    coats = {tuple(zone.lines): zone for zone in part.hours.zones}
    by_first = {zone.lines[0]: zone for zone in coats.values()}
    touch, base = touch_and_base(part, found)
    joints = part.joints
    if joints is not None:
        touch.append(joints.touch_minutes)
        base.append(joints.base_minutes)
    factors = learnt(part, [minutes / OPENING_EQUIVALENT for minutes in base])
    spread = sum((minutes * factor for minutes, factor in zip(touch, factors, strict=True)), ZERO)
    scale = sum(touch, ZERO) / spread if spread else Fraction(1)  # so that the hours stay those of the price
    factors = [factor * scale for factor in factors]
    lines, tasks = part.conditions.request.schedule.lines, list[Task]()
    for place, (zone, setup) in enumerate(zip(found, setups(part, found), strict=True)):
        first, own = lines[zone.lines[0]], next((by_first[i] for i in zone.lines if i in by_first), None)
        idle = Fraction(own.idle_minutes) / 60 if own is not None else ZERO
        work, count = touch[place] * factors[place] / 60, sum(zone.counts.values())
        where = (place + 1, first.elevation, first.storey, tuple(zone.lines), count)
        tasks.append(Task(part, *where, setup, work, idle, own, factors[place]))
    if joints is not None:
        setup = ZERO if found else Fraction(part.hours.setup)
        work = touch[-1] * factors[-1] / 60
        tasks.append(Task(part, len(found) + 1, "", "", (), 0, setup, work, ZERO, None, factors[-1]))
    return tasks


def touch_and_base(part: Part, zones: Sequence[LinesOfZone]) -> tuple[list[Fraction], list[Fraction]]:
    """(touch, base) minutes of each zone, all its openings together."""
    each: Mapping[int, tuple[Fraction, Fraction]] = {
        kind: (Fraction(work.touch_minutes), Fraction(work.base_minutes)) for kind, work in part.works.items()
    }
    found = [[n * each[kind][k] for kind, n in zone.counts.items()] for k in (0, 1) for zone in zones]
    sums = [sum(minutes, ZERO) for minutes in found]
    return sums[: len(zones)], sums[len(zones) :]
