"""Minutes: base for one opening, every factor on it, learning over the whole job, set-up and idle time apart.

Touch minutes = quantity × base × access × height × temperature × congestion × rework × pair × learning.
All minutes and hours are standard: of one fully productive worker.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import lcm
from typing import NamedTuple

from estimating.core import learning
from estimating.core.kinds import Kind
from estimating.core.request import Request
from estimating.core.schedule import Line
from estimating.core.takeoff import Takeoff
from rates.core.fraction import Fraction
from rates.core.rows import LearningRow, Production

MINUTES_A_UNIT = 30


class Term(NamedTuple):
    """One addend or factor: its name in words, its value, and the field of the production table behind it."""

    name: str
    value: Fraction
    field: str


@dataclass(frozen=True)
class Minutes:
    """One opening's base minutes by addend and the factors on them (learning apart)."""

    addends: tuple[Term, ...]
    factors: tuple[Term, ...]

    @property
    def base(self) -> Fraction:
        """Base minutes."""
        return sum((t.value for t in self.addends), Fraction(0))

    @property
    def factor(self) -> Fraction:
        """The product of all factors but learning."""
        product = Fraction(1)
        for term in self.factors:
            product *= term.value
        return product


def plain_minutes(kind: Kind, takeoff: Takeoff, production: Production) -> Term:
    """max(minimum, fixed + per length × P), of an opening or a penetration."""
    pipe = kind.is_pipe and production.penetration_minutes is not None
    rule = production.penetration_minutes if pipe else None
    field = "penetration_minutes" if rule else "opening_minutes"
    rule = rule or production.opening_minutes
    minutes = max(rule.minimum, rule.fixed + rule.per.for_length(takeoff.measure.perimeter_nm))
    return Term(field.replace("_", " "), minutes, field)


def addends(kind: Kind, takeoff: Takeoff, production: Production) -> tuple[Term, ...]:
    """The addends of base minutes: plain, shape, depth, sill, extra strips, seal; those of 0 left out."""
    terms = [plain_minutes(kind, takeoff, production)]
    name = kind.shape.name
    terms.append(Term(f"shape {name}", dict(production.shape).get(name, Fraction(0)), f"shape/{name}"))
    over = production.depth_over
    if over is not None and not kind.is_pipe:
        past = max(Fraction(0), (kind.depth_nm or Fraction(0)) - over.from_nm)
        terms.append(Term("depth", over.per.for_length(past), "depth_over"))
    if kind.sill is not None and "sill" in kind.sides:
        sill = kind.sill.kind
        terms.append(Term(f"{sill} sill", dict(production.sill).get(sill, Fraction(0)), f"sill/{sill}"))
    extra = takeoff.choice.extra_strips if takeoff.choice else 0
    terms.append(Term("extra strips", extra * production.extra_strip_minutes, "tape/extra_strip_minutes"))
    if production.seal_per is not None and takeoff.bead_nm:
        terms.append(Term("perimeter seal", production.seal_per.for_length(takeoff.bead_nm), "perimeter_seal"))
    return tuple(t for i, t in enumerate(terms) if i == 0 or t.value)


def height_factor(height_nm: Fraction | None, production: Production) -> Term | None:
    """The factor of the highest height row strictly passed."""
    passed = [row for row in production.height if height_nm is not None and height_nm > row.over_nm]
    if not passed:
        return None
    best = max(passed, key=lambda row: row.over_nm)
    return Term("height above grade", best.factor, f"height/{production.height.index(best)}")


def job_factors(request: Request, production: Production) -> list[Term]:
    """Temperature, congestion and rework, which the request names once for all."""
    named = (
        ("temperature", request.temperature, production.temperature),
        ("congestion", request.congestion, production.congestion),
        ("rework", request.rework, production.rework),
    )
    return [Term(f"{n} {word}", dict(table)[word], f"{n}/{word}") for n, word, table in named if word in dict(table)]


def pair_factor(width_nm: Fraction | None, workers: int, production: Production) -> Term | None:
    """The factor of two or more working together; None width is work that is no opening."""
    pair = production.pair
    if pair is None or workers < 2:
        return None
    if pair.from_width_nm is not None and (width_nm is None or width_nm < pair.from_width_nm):
        return None
    return Term("pair", pair.factor, "pair/factor")


def factors(
    access: str, height_nm: Fraction | None, width_nm: Fraction | None, request: Request, production: Production
) -> tuple[Term, ...]:
    """Every factor but learning; those of 1 left out."""
    terms: list[Term | None] = [
        Term(f"access {access}", dict(production.access).get(access, Fraction(1)), f"access/{access}"),
        height_factor(height_nm, production),
        *job_factors(request, production),
        pair_factor(width_nm, request.crew.workers, production),
    ]
    return tuple(t for t in terms if t is not None and t.value != 1)


def minutes(kind: Kind, takeoff: Takeoff, request: Request, production: Production) -> Minutes:
    """The minutes of one opening of a settled kind."""
    access = kind.access or "ground"
    return Minutes(
        addends(kind, takeoff, production),
        factors(access, kind.height_above_grade_nm, kind.shape.width_nm, request, production),
    )


def learning_model(row: LearningRow) -> learning.Model:
    """The learning model of the production table."""
    if row.model == "exponential" and row.first is not None and row.tau is not None:
        return learning.Exponential(row.first, row.tau)
    if row.model == "unit_curve" and row.first is not None and row.slope is not None:
        return learning.UnitCurve(row.first, row.slope)
    if row.model == "cumulative_average" and row.first is not None and row.slope is not None:
        return learning.CumulativeAverage(row.first, row.slope)
    return learning.NoLearning()


def learning_factor(request: Request, production: Production, equivalents: Fraction, before: Fraction) -> Fraction:
    """One average factor on all marks: 1 for an experienced crew.

    equivalents: opening-equivalents (base minutes / 30) of this part; before: those of earlier parts of the job.
    """
    done = request.crew.done_before
    if done is None or equivalents == 0:
        return Fraction(1)
    crews = request.crew.crews
    return learning.average_factor(learning_model(production.learning), equivalents, crews, done + before / crews)


@dataclass(frozen=True)
class Setup:
    """Set-up hours of the whole crew, never multiplied: counts and hours of each cause."""

    mobilisations: int
    elevations: int
    storey_changes: int
    hours: Fraction


def place_key(name: str) -> str:
    """An elevation or storey for comparing."""
    return " ".join(name.split()).casefold()


def setup(lines: Iterable[Line], mobilisations: int, production: Production) -> Setup:
    """Mobilisations, distinct named elevations, and Σ over elevations of (distinct storeys − 1), priced lines only."""
    storeys: dict[str, set[str]] = {}
    for elevation, storey in {(line.elevation, line.storey) for line in lines}:
        found = storeys.setdefault(place_key(elevation), set())
        if storey:
            found.add(place_key(storey))
    elevations = len([name for name in storeys if name])
    changes = sum(max(0, len(found) - 1) for found in storeys.values())
    rates = production.setup_hours
    hours = mobilisations * rates.mobilisation + elevations * rates.elevation + changes * rates.storey_change
    return Setup(mobilisations, elevations, changes, hours)


@dataclass(frozen=True)
class Zone:
    """Openings of one elevation and storey: how many, their mean first-coat minutes, the idle minutes between coats."""

    elevation: str
    storey: str
    openings: int
    first_coat_minutes: Fraction
    idle_minutes: Fraction


def zones(lines: Sequence[Line], base_minutes: Sequence[Fraction | None], production: Production) -> tuple[Zone, ...]:
    """Idle time of each zone, max(0, interval − (n − 1) c₁) once; c₁ is the mean of base × first-coat share.

    base_minutes by kind index, None for kinds that take no second coat. Empty without a first-coat share.
    """
    coats = production.coats
    if coats is None or coats.first_coat_share is None:
        return ()
    counts: dict[tuple[str, str], dict[int, int]] = {}
    same: dict[tuple[str, str], tuple[str, str]] = {}
    for line in lines:
        if line.kind is not None and line.quantity and base_minutes[line.kind] is not None:
            written = (line.elevation, line.storey)
            if written not in same:
                folded = (place_key(line.elevation), place_key(line.storey))
                same[written] = next((w for w in same if (place_key(w[0]), place_key(w[1])) == folded), written)
            of_zone = counts.setdefault(same[written], {})
            of_zone[line.kind] = of_zone.get(line.kind, 0) + line.quantity
    common = lcm(*(base.denominator for base in base_minutes if base is not None))
    whole = [0 if base is None else base.numerator * (common // base.denominator) for base in base_minutes]
    result = []
    for (elevation, storey), of_zone in counts.items():
        openings = sum(of_zone.values())
        minutes = Fraction(sum(whole[k] * n for k, n in of_zone.items()), common)
        mean = minutes * coats.first_coat_share / openings
        idle = max(Fraction(0), coats.interval_minutes - (openings - 1) * mean)
        result.append(Zone(elevation, storey, openings, mean, idle))
    return tuple(result)
