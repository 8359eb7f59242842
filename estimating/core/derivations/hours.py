"""Standard hours of a part: touch minutes of all works, set-up by cause, idle time between coats by zone."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property, partial

from estimating.core.derivations.nodes import Book, Input, Node, constant, zero
from estimating.core.derivations.printing import HOURS, MINUTES, NUMBER, TEXT
from estimating.core.derivations.scope import PartScope
from estimating.core.labour import Zone, place_key
from estimating.core.schedule import Line
from rates.core.fraction import Fraction


def work_terms(scope: PartScope, figure: str) -> list[Input]:
    """Quantity × a figure of each kind, and that of the joints once."""
    found = []
    for place, kind in enumerate(scope.part.works):
        found.append(scope.ref(f"kind {kind}, how many", f"kind.{kind}.quantity", place))
        found.append(scope.ref("each", f"kind.{kind}.{figure}", place))
    if scope.part.joints is not None:
        found.append(scope.ref("joints", f"joints.{figure}", len(scope.part.works)))
    return found


def minutes_book(scope: PartScope) -> Book:
    """Base and touch minutes of the whole part."""
    part = scope.part
    base = sum((w.quantity * w.minutes.base for w in part.works.values()), Fraction(0))
    base += part.joints.minutes.base if part.joints is not None else 0
    words = "Σ quantity × minutes of one, over kinds and joints"
    return {
        "base_minutes": lambda: Node(
            "Base minutes of the part",
            words,
            "sum_of_products",
            base,
            MINUTES,
            partial(work_terms, scope, "base_minutes"),
        ),
        "touch_minutes": lambda: Node(
            "Touch minutes of the part",
            words,
            "sum_of_products",
            part.hours.touch_minutes,
            MINUTES,
            partial(work_terms, scope, "touch_minutes"),
        ),
    }


def places(scope: PartScope) -> list[tuple[int, Line]]:
    """The first worked line of each distinct elevation and storey."""
    found: dict[tuple[str, str], tuple[int, Line]] = {}
    for i, line in scope.worked_lines:
        found.setdefault((line.elevation, line.storey), (i, line))
    return list(found.values())


def elevation_inputs(scope: PartScope) -> list[Input]:
    """The elevations as the lines name them."""
    return [scope.lined(i, "elevation", "elevation", line.elevation, TEXT) for i, line in places(scope)]


def storey_inputs(scope: PartScope) -> list[Input]:
    """Elevation and storey of each place."""
    found = []
    for term, (i, line) in enumerate(places(scope)):
        found.append(scope.lined(i, "elevation", "elevation", line.elevation, TEXT, term))
        found.append(scope.lined(i, "storey", "storey", line.storey, TEXT, term))
    return found


def mobilisations_node(scope: PartScope) -> Node:
    """How many mobilisations the part sets up for."""
    count, title = scope.part.hours.setup.mobilisations, "Mobilisations"
    split = bool(scope.request.parts)
    pointer = f"/mobilisations/{scope.index}" if split else "/mobilisations"
    if count != scope.part.plan.mobilisations:
        reason = scope.asked("mobilisations", pointer, "nothing is worked", TEXT)
        return zero(title, "nothing is worked, so nothing is set up", NUMBER, reason)
    words = "each part of a split is one" if split else "as the request says"
    stated = scope.asked("mobilisations", pointer, count, NUMBER)
    return Node(title, words, "given", count, NUMBER, lambda: [stated])


def setup_inputs(scope: PartScope) -> list[Input]:
    """Count × hours of each cause."""
    rates, found = scope.card.production.setup_hours, []
    causes = (
        ("mobilisations", "mobilisation", rates.mobilisation),
        ("elevations", "elevation", rates.elevation),
        ("storey_changes", "storey_change", rates.storey_change),
    )
    for term, (figure, field, hours) in enumerate(causes):
        found.append(scope.ref(figure.replace("_", " "), f"setup.{figure}", term))
        found.append(scope.production("worker-hours each", f"setup_hours/{field}", hours, HOURS, term))
    return found


def setup_book(scope: PartScope) -> Book:
    """Set-up: counts and hours."""
    setup = scope.part.hours.setup
    return {
        "setup.mobilisations": partial(mobilisations_node, scope),
        "setup.elevations": lambda: Node(
            "Elevations",
            "distinct names, blank ones left out",
            "count_distinct",
            setup.elevations,
            NUMBER,
            partial(elevation_inputs, scope),
        ),
        "setup.storey_changes": lambda: Node(
            "Storey changes",
            "Σ over elevations of (distinct storeys − 1)",
            "storey_changes",
            setup.storey_changes,
            NUMBER,
            partial(storey_inputs, scope),
        ),
        "hours.setup": lambda: Node(
            "Set-up hours",
            "Σ count × worker-hours each, never multiplied by a factor",
            "sum_of_products",
            setup.hours,
            HOURS,
            partial(setup_inputs, scope),
        ),
    }


class Zones:
    """The lines of each zone of a part, found once."""

    def __init__(self, scope: PartScope) -> None:
        self.scope = scope
        self.zones: Sequence[Zone] = scope.part.hours.zones

    @cached_property
    def lines(self) -> Mapping[tuple[str, str], Sequence[tuple[int, Line]]]:
        """(index, line) of the fluid lines at each elevation and storey, told apart as places are."""
        found: dict[tuple[str, str], list[tuple[int, Line]]] = {self.key(z): [] for z in self.zones}
        works = self.scope.part.works
        for i, line in self.scope.worked_lines:
            if line.kind is not None and works[line.kind].kind.method == "fluid":
                found[self.key(line)].append((i, line))
        return found

    def key(self, at: Zone | Line) -> tuple[str, str]:
        """A place for comparing."""
        return place_key(at.elevation), place_key(at.storey)

    def name(self, place: int) -> str:
        """A zone's place in words."""
        return f"{self.zones[place].elevation} {self.zones[place].storey}".strip() or "no elevation"

    def of(self, place: int) -> Sequence[tuple[int, Line]]:
        """The lines of one zone."""
        return self.lines[self.key(self.zones[place])]


def zone_counts(zones: Zones, place: int) -> list[Input]:
    """The quantity of each line of a zone."""
    lined = zones.scope.lined
    return [lined(i, f"line {i + 1}", "quantity", line.quantity, NUMBER) for i, line in zones.of(place)]


def zone_terms(zones: Zones, place: int) -> list[Input]:
    """Quantity × base minutes of each line of a zone."""
    scope, found = zones.scope, []
    for term, (i, line) in enumerate(zones.of(place)):
        found.append(scope.lined(i, f"line {i + 1}", "quantity", line.quantity, NUMBER, term))
        found.append(scope.ref("base minutes", f"kind.{line.kind}.base_minutes", term))
    return found


def zone_count_book(zones: Zones, place: int, share: Fraction) -> Book:
    """Openings and base minutes of one zone."""
    zone, name, where = zones.zones[place], f"zone.{place}", zones.name(place)
    base = zone.first_coat_minutes * zone.openings / share
    return {
        f"{name}.openings": lambda: Node(
            f"Openings of {where} that take coats",
            "Σ quantity",
            "sum",
            zone.openings,
            NUMBER,
            partial(zone_counts, zones, place),
        ),
        f"{name}.base_minutes": lambda: Node(
            f"Base minutes of {where}",
            "Σ quantity × base minutes",
            "sum_of_products",
            base,
            MINUTES,
            partial(zone_terms, zones, place),
        ),
    }


def zone_book(zones: Zones, place: int) -> Book:
    """Idle time of one zone between coats."""
    scope, zone, name, where = zones.scope, zones.zones[place], f"zone.{place}", zones.name(place)
    coats = scope.card.production.coats
    if coats is None or coats.first_coat_share is None:
        raise KeyError(name)
    share = coats.first_coat_share

    def first_coat() -> list[Input]:
        stated = scope.production("share of the first coat", "coats/first_coat_share", share, NUMBER)
        return [scope.ref("base minutes", f"{name}.base_minutes"), stated, scope.ref("openings", f"{name}.openings")]

    def idle() -> list[Input]:
        wait = scope.production("interval", "coats/interval_minutes", coats.interval_minutes, MINUTES)
        return [wait, scope.ref("openings", f"{name}.openings"), scope.ref("first coat", f"{name}.first_coat_minutes")]

    return zone_count_book(zones, place, share) | {
        f"{name}.first_coat_minutes": lambda: Node(
            f"First coat of one opening of {where}",
            "base minutes × share of the first coat ÷ openings",
            "proportion",
            zone.first_coat_minutes,
            MINUTES,
            first_coat,
        ),
        f"{name}.idle_minutes": lambda: Node(
            f"Idle minutes of {where}",
            "interval − (openings − 1) × first coat, at least 0",
            "idle",
            zone.idle_minutes,
            MINUTES,
            idle,
        ),
    }


def idle_node(scope: PartScope) -> Node:
    """Idle minutes that are charged."""
    coats, hours, title = scope.card.production.coats, scope.part.hours, "Idle minutes charged"
    charged = coats is not None and coats.charge_idle
    if not charged:
        reason = scope.production("idle time charged", "coats/charge_idle", "no", TEXT)
        return zero(title, "the table does not charge idle time", MINUTES, reason)

    def inputs() -> list[Input]:
        return [scope.ref(f"zone {z}", f"zone.{z}.idle_minutes") for z in range(len(hours.zones))]

    return Node(title, "Σ over zones", "sum", hours.idle_charged_minutes, MINUTES, inputs)


def hours_node(scope: PartScope, title: str, figure: str, minutes: Fraction) -> Node:
    """Minutes in hours."""

    def inputs() -> list[Input]:
        return [scope.ref("minutes", figure), constant("minutes in an hour", 60)]

    return Node(title, "minutes ÷ 60", "quotient", minutes / 60, HOURS, inputs)


def hours_book(scope: PartScope) -> Book:
    """Every figure of the part's hours but those of the crew and of learning."""
    hours = scope.part.hours

    def standard() -> list[Input]:
        return [scope.ref(name, f"hours.{name}") for name in ("touch", "idle", "setup")]

    book: Book = {
        "hours.standard": lambda: Node(
            "Standard hours", "touch + charged idle + set-up hours", "sum", hours.standard, HOURS, standard
        ),
        "hours.touch": partial(hours_node, scope, "Touch hours", "touch_minutes", hours.touch_minutes),
        "hours.idle": partial(hours_node, scope, "Idle hours charged", "idle_minutes", hours.idle_charged_minutes),
        "idle_minutes": partial(idle_node, scope),
    }
    return book | minutes_book(scope) | setup_book(scope)
