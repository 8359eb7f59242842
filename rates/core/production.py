"""Field table of the production table: minutes, factors, set-up, learning, working time, piece geometry."""

from __future__ import annotations

from typing import Any

from rates.core.fields import Faults, Field, ListOf, MapOf, Record, boolean, choice, decimal
from rates.core.fraction import Fraction
from rates.core.labour_table import OVERTIME
from rates.core.piece_geometry import GEOMETRY, NO_GEOMETRY, factor
from rates.core.problems import Problem
from rates.core.production_rows import (
    CoatsRow,
    DepthOver,
    HeightRow,
    JointRow,
    LearningRow,
    OpeningMinutes,
    PairRow,
    PerLength,
    Production,
    SetupHours,
)
from rates.core.reach_table import REACH
from rates.core.rows import by_fields
from rates.core.tables import ACCESS, length, length_or_zero

SHAPES = (
    "rectangle",
    "round",
    "half_round_top",
    "segmental_top",
    "ellipse",
    "polygon",
    "outline",
    "pipe",
)
SILLS = ("flat", "sloped", "pan", "threshold", "none")
minutes = decimal(0, 10**5)


def per_length(foot: Fraction | None, metre: Fraction | None) -> PerLength | None:
    """Minutes per foot or per metre, whichever is written."""
    if foot is not None:
        return PerLength(foot, "ft")
    return PerLength(metre, "m") if metre is not None else None


PER = (
    Field("per_foot", minutes, "minutes per foot of perimeter"),
    Field("per_metre", minutes, "minutes per metre of perimeter"),
)
MINUTES_PER = (
    Field("minutes_per_foot", minutes, "minutes per foot"),
    Field("minutes_per_metre", minutes, "minutes per metre"),
)


class _Both:
    """Marks a record in which a foot and a metre rate were both or neither given."""


def one_of(values: dict[str, Any], foot: str, metre: str) -> PerLength | type[_Both] | None:
    """The rate per length; _Both where the two forms are both given."""
    if values[foot] is not None and values[metre] is not None:
        return _Both
    return per_length(values[foot], values[metre])


def check_per(built: Any, pointer: str, faults: Faults) -> None:
    """Exactly one of the foot and metre forms."""
    if built.per is _Both:
        faults.append(Problem(pointer, "one_of", "give minutes per foot or per metre, not both"))
    elif built.per is None and not isinstance(built, JointRow):
        faults.append(Problem(pointer, "one_of", "minutes per foot (or per metre) are needed"))


def opening_minutes(**v: Any) -> OpeningMinutes:
    """Built from its fields."""
    per: Any = one_of(v, "per_foot", "per_metre")
    return OpeningMinutes(v["minimum"], v["fixed"], per, v.get("below_perimeter"))


FIXED = Field("fixed", minutes, "minutes that every opening takes, whatever its size", default=Fraction(0))
MINIMUM = Field("minimum", minutes, "the fewest minutes that any opening takes", default=Fraction(0))
OPENING_MINUTES = Record(opening_minutes, (MINIMUM, FIXED, *PER), check_per)
BELOW = Field("below_perimeter", length, "an opening of a shorter outline takes these minutes, whatever its kind")
PENETRATION_MINUTES = Record(opening_minutes, (MINIMUM, FIXED, *PER, BELOW), check_per)


def depth_over(**v: Any) -> DepthOver:
    """Built from its fields."""
    inch, millimetre = v["minutes_per_inch"], v["minutes_per_mm"]
    per = _Both if None not in (inch, millimetre) else None
    rate = (
        PerLength(inch, "in") if inch is not None else PerLength(millimetre, "mm") if millimetre is not None else None
    )
    return DepthOver(v["from"], per or rate)  # type: ignore[arg-type]


DEPTH_OVER = Record(
    depth_over,
    (
        Field("from", length_or_zero, "depth past which minutes are added", required=True),
        Field("minutes_per_inch", minutes, "minutes for each inch past it"),
        Field("minutes_per_mm", minutes, "minutes for each millimetre past it"),
    ),
    check_per,
)


def check_learning(row: LearningRow, pointer: str, faults: Faults) -> None:
    """Each model has its own parameters."""
    needed = {"none": set(), "exponential": {"first", "tau"}}.get(row.model, {"first", "slope_percent"})
    given = {n for n, v in (("first", row.first), ("tau", row.tau), ("slope_percent", row.slope)) if v is not None}
    for name in sorted(needed - given):
        faults.append(Problem(f"{pointer}/{name}", "missing", f"the {row.model} model needs {name}"))
    for name in sorted(given - needed):
        faults.append(Problem(f"{pointer}/{name}", "not_for_model", f"the {row.model} model has no {name}"))


LEARNING = Record(
    lambda model, first, tau, slope_percent: LearningRow(model, first, tau, slope_percent),
    (
        Field(
            "model", choice("none", "exponential", "unit_curve", "cumulative_average"), "learning model", required=True
        ),
        Field("first", decimal(1, 10), "factor of the first opening of a new crew"),
        Field("tau", decimal(0, 10**4, above=True), "openings over which the extra time falls to 1/e, about 37 %"),
        Field("slope_percent", decimal(50, 100, scale=100), "percent of the minutes left each time the count doubles"),
    ),
    check_learning,
)


def production(**v: Any) -> Production:
    """Built from its fields."""
    named = {"seal_per": "perimeter_seal", "extra_strip_minutes": "tape"}
    built: Production = by_fields(Production)(**{to: v.pop(of) for to, of in named.items()}, **v)
    return built


def seal_rate(**v: Any) -> Any:
    """The seal's minutes for its length."""
    return one_of(v, "minutes_per_foot", "minutes_per_metre")


def check_seal(per: Any, pointer: str, faults: Faults) -> None:
    """Exactly one of the two forms."""
    if not isinstance(per, PerLength):
        faults.append(Problem(pointer, "one_of", "give minutes_per_foot or minutes_per_metre"))


def names(doc_names: tuple[str, ...] | None) -> MapOf:
    """Factors or minutes by name."""
    return MapOf(decimal(0, 10**4), doc_names)


PRODUCTION = Record(
    production,
    (
        Field("opening_minutes", OPENING_MINUTES, "base minutes of an opening", required=True),
        Field("penetration_minutes", PENETRATION_MINUTES, "base minutes of a pipe, and of other small openings"),
        Field("access", MapOf(factor, ACCESS), "factors by access", default=()),
        *REACH,
        Field("shape", MapOf(minutes, SHAPES), "minutes added by shape", default=()),
        Field("sill", MapOf(minutes, SILLS), "minutes added by sill", default=()),
        Field("depth_over", DEPTH_OVER, "minutes added past a depth"),
        Field(
            "height",
            ListOf(
                Record(
                    lambda over, factor: HeightRow(over, factor),
                    (
                        Field("over", length_or_zero, "height above grade", required=True),
                        Field("factor", factor, "factor", required=True),
                    ),
                )
            ),
            "factors by height above grade",
            default=(),
        ),
        Field("temperature", MapOf(factor), "factors by temperature", default=()),
        Field("congestion", MapOf(factor), "factors by congestion", default=()),
        Field("rework", MapOf(factor), "factors by rework", default=()),
        Field(
            "setup_hours",
            Record(
                lambda zone, **hours: SetupHours(**hours, zone=zone or ()),
                (
                    Field("mobilisation", decimal(0, 10**4), "worker-hours for each mobilisation", default=Fraction(0)),
                    Field("elevation", decimal(0, 10**4), "worker-hours for each elevation", default=Fraction(0)),
                    Field(
                        "storey_change", decimal(0, 10**4), "worker-hours for each storey change", default=Fraction(0)
                    ),
                    Field("zone", MapOf(decimal(0, 10**4), ACCESS), "worker-hours by access, once for each zone"),
                ),
            ),
            "worker-hours of the whole crew",
            default=SetupHours(Fraction(0), Fraction(0), Fraction(0)),
        ),
        Field("learning", LEARNING, "learning model", default=LearningRow("none", None, None, None)),
        Field(
            "pair",
            Record(
                lambda factor, from_width: PairRow(factor, from_width),
                (
                    Field("factor", factor, "factor on worker-hours", required=True),
                    Field("from_width", length, "openings this wide and wider; all if absent"),
                ),
            ),
            "two people working together",
        ),
        Field(
            "coats",
            Record(
                CoatsRow,
                (
                    Field("interval_minutes", minutes, "the fewest minutes between coats", default=Fraction(30)),
                    Field("dry_hours", decimal(0, 1000), "hours to dry", default=Fraction(2)),
                    Field("first_coat_share", decimal(0, 1, above=True), "share of base minutes in the first coat"),
                    Field("charge_idle", boolean(), "whether idle time between coats is charged", default=False),
                ),
                lambda row, pointer, faults: (
                    faults.append(Problem(pointer + "/first_coat_share", "missing", "charging idle time needs it"))
                    if row.charge_idle and row.first_coat_share is None
                    else None
                ),
            ),
            "coats and drying",
        ),
        Field(
            "tape",
            Record(
                lambda extra_strip_minutes: extra_strip_minutes,
                (Field("extra_strip_minutes", minutes, "minutes for each strip past the first", default=Fraction(0)),),
            ),
            "strips",
            default=Fraction(0),
        ),
        Field("perimeter_seal", Record(seal_rate, MINUTES_PER, check_seal), "minutes of perimeter seal"),
        Field(
            "sheathing_joint",
            Record(
                lambda width, **v: JointRow(width, one_of(v, "minutes_per_foot", "minutes_per_metre")),  # type: ignore[arg-type]
                (Field("width", length, "width treated", required=True), *MINUTES_PER),
                check_per,
            ),
            "sheathing joints",
        ),
        Field("hours_per_day", decimal(0, 24, above=True), "hours worked a day", default=Fraction(8)),
        Field("days_per_week", decimal(0, 7, above=True), "days worked a week", default=Fraction(5)),
        Field("days_per_month", decimal(0, 31, above=True), "days worked a month", default=Fraction(20)),
        Field("overtime", OVERTIME, "the week that is worked; without, no overtime is counted"),
        Field("geometry", GEOMETRY, "how pieces are cut", default=NO_GEOMETRY),
    ),
)
