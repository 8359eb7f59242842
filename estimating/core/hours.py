"""Standard hours of a part: touch minutes of all work, learning over it, set-up by cause, idle time between coats.

All hours are standard: of one fully productive worker. Set-up is of the whole crew, and no factor multiplies it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.crew import CrewCost
from estimating.core.figures.figure import MINUTES_IN_AN_HOUR, Step, called, constant, figure, figures
from estimating.core.figures.printing import DAYS, HOURS, MINUTES, NUMBER, TEXT
from estimating.core.figures.rules import (
    ceiling,
    given,
    one,
    product,
    proportion,
    quotient,
    sum_of_products,
    total,
    zero,
)
from estimating.core.learning import LEARNING
from estimating.core.places import count_distinct, count_zones, storey_changes
from estimating.core.schedule_lines import Place
from estimating.core.worked import Worked
from estimating.core.zones import Zone
from rates.core.production_rows import CoatsRow

OPENING_EQUIVALENT = constant("minutes of one opening-equivalent", 30)


def seen_places(view: Any, places: Sequence[Place]) -> list[tuple[Any, Any]]:
    """Elevation and storey of the first line at each place, as the schedule has them."""
    lines = view.subject.request.schedule.lines
    found = []
    for place in places:
        told = [(name, getattr(lines[place.line], name)) for name in ("elevation", "storey")]
        found.append(tuple(view.lined(place.line, name, name, text, TEXT) for name, text in told))
    return found


@dataclass(eq=False, repr=False)
class Hours(PartSubject):
    """works: every kind, and the joints; stated: mobilisations of the part; earlier: hours of the parts before it.

    places_from: the places that are worked from each access which is set up zone by zone.
    """

    conditions: Conditions
    crew: CrewCost
    works: Sequence[Worked]
    places: Sequence[Place]
    places_from: Mapping[str, Sequence[Place]]
    zones: tuple[Zone, ...]
    stated: int
    earlier: Sequence[Hours]

    @figure("Base minutes of the part", MINUTES)
    def base_minutes(self) -> Step:
        terms = [work.times(work.base_minutes) for work in self.works]
        return sum_of_products, "Σ quantity × minutes of one, over kinds and joints", *terms

    @figure("Touch minutes of the part", MINUTES)
    def touch_minutes(self) -> Step:
        terms = [work.times(work.touch_minutes) for work in self.works]
        return sum_of_products, "Σ quantity × minutes of one, over kinds and joints", *terms

    @figure("Opening-equivalents", NUMBER, label="opening-equivalents")
    def opening_equivalents(self) -> Step:
        return quotient, "base minutes ÷ 30", self.base_minutes, OPENING_EQUIVALENT

    @property
    def learns(self) -> bool:
        """Whether the crew is new to the work."""
        return self.request.crew.done_before is not None

    @figure("Learning factor", NUMBER)
    def learning_factor(self) -> Step:
        if not self.learns or not self.opening_equivalents:
            why, word = "the crew is experienced", "experienced"
            if self.learns:
                why, word = "nothing is done", "no openings"
            return one, f"1: {why}", self.request_says("crew/experience", word)
        row, crews = self.production.learning, self.request.crew.crews
        stated = [value for value in (row.first, row.tau, called("slope", row.slope_percent)) if value is not None]
        rule = LEARNING[str(row.model)]
        return rule, rule.words, row.model, *stated, self.opening_equivalents, crews, self.start

    @figure("Openings that each crew has done before", NUMBER, step="learning.start", when=lambda s: s.learns)
    def start(self) -> Step:
        done = called("done before", self.request.crew.done_before)
        return total, "done before the job + share of the earlier parts", done, *([self.each] if self.earlier else [])

    @figure(
        "Opening-equivalents of the earlier parts",
        NUMBER,
        step="learning.earlier",
        label="earlier parts",
        when=lambda s: s.learns and s.earlier,
    )
    def before(self) -> Step:
        return total, "Σ over the earlier parts", *(hours.opening_equivalents for hours in self.earlier)

    @figure(
        "Of them, each crew's",
        NUMBER,
        step="learning.earlier_each",
        label="in earlier parts",
        when=lambda s: s.learns and s.earlier,
    )
    def each(self) -> Step:
        return quotient, "opening-equivalents ÷ crews", self.before, self.request.crew.crews

    @figure("Mobilisations", NUMBER, step="setup.mobilisations")
    def mobilisations(self) -> Step:
        if not self.works:
            return zero, "0: nothing is worked, so nothing is set up", self.mobilised("nothing is worked")
        split = bool(self.request.parts)
        return given, "each part of a split is one" if split else "as the request says", self.mobilised(self.stated)

    def mobilised(self, value: int | str) -> Any:
        """A count of mobilisations as the request states it, or why there is none."""
        field = f"mobilisations/{self.conditions.place}" if self.request.parts else "mobilisations"
        return called("mobilisations", self.request_says(field, value))

    def request_says(self, field: str, value: int | str) -> Any:
        """A value of the request, or what stands where it says nothing."""
        return value

    def told_request_says(view: Any) -> Any:
        """The same, with its place."""
        return lambda field, value: view.request.stated(field, value, TEXT if isinstance(value, str) else NUMBER)

    def pays(self, counted: str) -> bool:
        """Whether a row of the part's overheads pays an amount for each of them."""
        return any(row.on == counted for row in self.card.overheads)

    @figure("Return trips", NUMBER, step="return_trips", when=lambda s: s.pays("return_trips"))
    def return_trips(self) -> Step:
        if not self.works or self.conditions.place:
            why = "nothing is worked" if not self.works else "counted in the first part"
            return zero, f"0: {why}", called("return trips", self.request_says("return_trips", why))
        return given, "as the request says", self.request.return_trips

    @figure("Elevations", NUMBER, step="setup.elevations")
    def elevations(self) -> Step:
        return count_distinct, "distinct names, blank ones left out", *(elevation for elevation, _ in self.places)

    @figure("Storey changes", NUMBER, step="setup.storey_changes")
    def storey_changes(self) -> Step:
        return storey_changes, storey_changes.words, *self.places

    def told_places(view: Any) -> list[tuple[Any, Any]]:
        """Elevation and storey of the first line at each."""
        return seen_places(view, view.subject.places)

    def told_places_from(view: Any) -> dict[str, list[tuple[Any, Any]]]:
        """The same of each access."""
        return {access: seen_places(view, places) for access, places in view.subject.places_from.items()}

    @figures(
        lambda s, k: f"Zones worked from the {k.replace('_', ' ')}",
        NUMBER,
        lambda s: s.places_from,
        "setup.zones.{}",
        label=lambda s, k: f"zones worked from the {k.replace('_', ' ')}",
    )
    def zones_from(self, access: str) -> Step:
        return count_zones, count_zones.words, *self.places_from[access]

    @figure("Set-up hours", HOURS, step="hours.setup", label="setup")
    def setup(self) -> Step:
        rates, words = self.production.setup_hours, "Σ count × worker-hours each, never multiplied by a factor"
        elevations = (self.elevations, rates.elevation)
        changes = (self.storey_changes, rates.storey_change)
        zones = [(count, self.production.entry("setup_hours/zone", k)) for k, count in self.zones_from.items()]
        return sum_of_products, words, (self.mobilisations, rates.mobilisation), elevations, changes, *zones

    @property
    def coats(self) -> CoatsRow | None:
        """The table's row of coats, where idle time is charged."""
        row = self.production.coats
        return row if row is not None and row.charge_idle else None

    @figure("Idle minutes charged", MINUTES)
    def idle_minutes(self) -> Step:
        if self.coats is None:
            return zero, "0: the table does not charge idle time", self.not_charged
        return total, "Σ over zones", *(zone.idle_minutes for zone in self.zones)

    @property
    def not_charged(self) -> str:
        """Why idle time costs nothing."""
        return "no"

    def told_not_charged(view: Any) -> Any:
        """As the production table says."""
        return called("idle time charged", view.production.stated("coats/charge_idle", "no", TEXT))

    @figure("Touch hours", HOURS, step="hours.touch")
    def touch(self) -> Step:
        return quotient, "minutes ÷ 60", self.touch_minutes, MINUTES_IN_AN_HOUR

    @figure("Idle hours charged", HOURS, step="hours.idle")
    def idle(self) -> Step:
        return quotient, "minutes ÷ 60", self.idle_minutes, MINUTES_IN_AN_HOUR

    @figure("Standard hours", HOURS, step="hours.standard", label="standard hours")
    def standard(self) -> Step:
        return total, "touch + charged idle + set-up hours", self.touch, self.idle, self.setup

    @figure("Paid hours", HOURS, step="hours.paid", label="paid hours")
    def paid(self) -> Step:
        words = "standard hours × workers ÷ standard hours in a crew hour"
        return proportion, words, self.standard, self.crew.workers, self.crew.shares

    @figure("Crew-days before rounding up", DAYS, step="crew_days.exact", label="exact days")
    def exact_days(self) -> Step:
        return quotient, "standard hours ÷ standard hours in a day", self.standard, self.crew.daily_hours

    @figure("Crew-days", DAYS, label="crew-days")
    def crew_days(self) -> Step:
        return ceiling, "rounded up once", self.exact_days

    @figure("Worker-days", DAYS, label="worker-days", when=lambda s: s.pays("worker_days"))
    def worker_days(self) -> Step:
        return product, "crew-days × workers", self.crew_days, self.crew.workers
