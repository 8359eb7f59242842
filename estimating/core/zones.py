"""Idle time between coats: each elevation and storey waits, max(0, interval − (n − 1) c₁), once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.figures.figure import Step, figure
from estimating.core.figures.printing import MINUTES, NUMBER
from estimating.core.figures.rules import proportion, rule, sum_of_products, total
from estimating.core.schedule_lines import zoned
from estimating.core.worked import Worked
from rates.core.fraction import Fraction


@rule("first − (second − 1) × third, at least 0")
def idle(interval: Fraction, openings: Fraction, first_coat: Fraction) -> Fraction:
    """How long the crew waits before the second coat, having coated every opening once."""
    return max(Fraction(0), interval - (openings - 1) * first_coat)


@dataclass(eq=False, repr=False)
class Zone(PartSubject):
    """Openings of one elevation and storey that take coats; counts: how many of each kind; lines: their indexes."""

    conditions: Conditions
    place: int
    elevation: str
    storey: str
    works: Mapping[int, Worked]
    counts: Mapping[int, int]
    lines: Sequence[int]

    @property
    def path(self) -> str:
        """zone.<z>"""
        return f"{self.prefix}zone.{self.place}"

    @property
    def name(self) -> str:
        """The place in words."""
        return f"{self.elevation} {self.storey}".strip() or "no elevation"

    @property
    def quantities(self) -> Any:
        """How many openings, kind by kind."""
        return [(n, self.works[kind].base_minutes) for kind, n in self.counts.items()]

    def told_quantities(view: Any) -> Any:
        """How many openings, line by line, with the figure of one."""
        lines, works = view.subject.request.schedule.lines, view.works
        return [
            (view.lined(i, f"line {i + 1}", "quantity", lines[i].quantity, NUMBER), works[lines[i].kind].base_minutes)
            for i in view.subject.lines
        ]

    @figure("Openings of {s.name} that take coats", NUMBER)
    def openings(self) -> Step:
        return total, "Σ quantity", *(count for count, _ in self.quantities)

    @figure("Base minutes of {s.name}", MINUTES)
    def base_minutes(self) -> Step:
        return sum_of_products, "Σ quantity × base minutes", *self.quantities

    @figure("First coat of one opening of {s.name}", MINUTES, label="first coat")
    def first_coat_minutes(self) -> Step:
        share = self.production.coats.first_coat_share  # type: ignore[union-attr]
        return proportion, "base minutes × share of the first coat ÷ openings", self.base_minutes, share, self.openings

    @figure("Idle minutes of {s.name}", MINUTES, label=lambda zone: f"zone {zone.name}")
    def idle_minutes(self) -> Step:
        interval = self.production.coats.interval_minutes  # type: ignore[union-attr]
        words = "interval − (openings − 1) × first coat, at least 0"
        return idle, words, interval, self.openings, self.first_coat_minutes


def zones(conditions: Conditions, works: Mapping[int, Worked], worked: Sequence[int]) -> tuple[Zone, ...]:
    """The zones of the fluid lines that are worked, in order of first appearance; none without a first-coat share."""
    coats = conditions.card.production.coats
    if coats is None or coats.first_coat_share is None:
        return ()
    fluid = {kind for kind, work in works.items() if work.method == "fluid"}
    schedule = conditions.request.schedule
    lines = schedule.lines
    if worked is schedule.worked and fluid.issuperset(schedule.quantities):
        found = schedule.zones
    else:
        found = zoned(lines, (i for i in worked if lines[i].kind in fluid)) if fluid else ()
    firsts = [lines[zone.lines[0]] for zone in found]
    return tuple(
        Zone(conditions, place, first.elevation, first.storey, works, zone.counts, zone.lines)
        for place, (first, zone) in enumerate(zip(firsts, found, strict=True))
    )
