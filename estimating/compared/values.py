"""A value of a request, a line or a rate as people read it, with its unit; exactly where that would hide a change."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from estimating.core.derivations.rows import UNITS_OF
from estimating.core.differences import field_names
from estimating.core.figures.printing import AREA, COVERAGE, OF_DIMENSION, exact_text, print_value
from estimating.core.kinds import Override, Sill
from estimating.core.open_questions import OpenQuestions
from estimating.core.request import Member, SheetWall
from estimating.core.request_reading import SCOPES
from estimating.core.shapes import SIDES, Arched, Cornered, Ellipse, Pipe, Rectangle, Round, Shape
from rates.core.exact import print_quantity, with_commas
from rates.core.fraction import Fraction
from rates.core.labour_rows import Determination
from rates.core.length_styles import print_length
from rates.core.money import ROUNDINGS
from rates.core.price_moves import print_price
from rates.core.production import SHAPES, SILLS
from rates.core.production_rows import LearningRow, PerLength
from rates.core.rows import PackRow, RentalRow, Waste
from rates.core.steps import ALL_BASES, ORDER
from rates.core.tables import ACCESS, ROLES, SUBSTRATES
from rates.core.units import LENGTH_NM

MONEY = frozenset({"price", "delivery", "amount", "unit_price", "up_to", "stated_rate"})
MONEY_FOR = {"wage": "an hour", "fringe": "an hour", "basic_rate": "an hour", "yearly_limit": "a year"}
RATES = frozenset({"rate"})  # shares that the table writes as percentages
PERCENT = frozenset({"solids_percent"})
HOURS = frozenset({"mobilisation", "elevation", "storey_change", "dry_hours", "zone"})
MINUTES_BY_NAME = frozenset({"shape", "sill"})  # groups of the production table that hold minutes
FILM = frozenset({"wet_film_nm"})
# words of the API that people read with spaces; names and codes that an office chose stay as they are
CHOICES = frozenset((*ACCESS, *SUBSTRATES, *SHAPES, *SILLS, *SCOPES, *ALL_BASES, *ORDER, *ROLES, *ROUNDINGS)) | {
    "touch_minutes", "own_use", "crew_day", "bonded_area", "straight_wage", "cash_wage", "unit_curve", "by_line",
    "cumulative_average", "cut_plan",
}  # fmt: skip


@dataclass(frozen=True)
class Reader:
    """Who reads: how lengths are printed, the units and the currency of the job, the title of a labour row."""

    show: Callable[[Fraction], str]
    units: str = "imperial"
    places: int = 2
    title_of: Callable[[str], str] = str


def two_texts(attribute: str, before: Any, after: Any, reader: Reader) -> tuple[str, str]:
    """Both values of a difference; where people would read them alike, exactly."""
    texts = value_text(attribute, before, reader), value_text(attribute, after, reader)
    if texts[0] != texts[1]:
        return texts
    exact = Reader(exactly, reader.units, 12, reader.title_of)
    return value_text(attribute, before, exact), value_text(attribute, after, exact)


def exactly(nm: Fraction) -> str:
    """A length in millimetres, every digit of it."""
    return print_length(nm, "mm") if nm.denominator == 1 else f"{exact_text(nm / 10**6)} mm"


def value_text(attribute: str, value: Any, reader: Reader) -> str:
    """A value that stands somewhere, as people read it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return f"{value:,}"
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, str):
        return value.replace("_", " ") if value in CHOICES else value
    if isinstance(value, Fraction):
        return number_text(attribute, value, reader)
    if isinstance(value, frozenset):
        return ", ".join(side for side in SIDES if side in value)
    if type(value) is tuple:
        return tuple_text(attribute, value, reader)
    return record_text(value, reader)


def number_text(attribute: str, value: Fraction, reader: Reader) -> str:
    """An exact number with the unit that its attribute tells."""
    exact = reader.show is exactly
    number = exact_text if exact else print_quantity
    if attribute in MONEY or attribute in MONEY_FOR:
        amount = exact_text(value) if exact else with_commas(print_price(value, reader.places))
        return f"{amount} {MONEY_FOR[attribute]}" if attribute in MONEY_FOR else amount
    if attribute in RATES:
        return f"{number(value * 100)} %"
    if attribute in PERCENT:
        return f"{number(value)} %"
    if attribute == "coverage_per_nm":
        return exact_text(value) if exact else print_value(value, COVERAGE, reader.units, "")
    if attribute == "wall_area_nm2":
        return f"{exact_text(value)} nm2" if exact else print_value(value, AREA, reader.units, "")
    if attribute in FILM:
        unit = "mil" if reader.units == "imperial" else "um"
        return f"{number(value / LENGTH_NM[unit])} {unit}"
    if attribute.endswith("_nm"):
        return reader.show(value)
    if attribute in MINUTES_BY_NAME or attribute.endswith("_minutes"):
        return f"{number(value)} minutes"
    unit_words = "hours" if attribute in HOURS else UNITS_OF[attribute].text if attribute in UNITS_OF else ""
    return f"{number(value)} {unit_words.replace('/', ' a ')}".rstrip()


def tuple_text(attribute: str, value: tuple[Any, ...], reader: Reader) -> str:
    """A list that is told as one: the crew's members, the coats of a film, names."""
    if not value:
        return "none"
    if len(value) == 2 and value[0] in OF_DIMENSION and isinstance(value[1], Fraction):  # of a stock or a pack
        return print_value(value[1], OF_DIMENSION[value[0]], reader.units, "")
    if all(type(item) is tuple and len(item) == 2 and isinstance(item[0], str) for item in value):
        stated = [(name, item) for name, item in value if item is not None]
        return ", ".join(f"{label(name)} {value_text(attribute, item, reader)}" for name, item in stated)
    texts = [value_text(attribute, item, reader) for item in value]
    if all(isinstance(item, Member) for item in value):
        workers = sum(member.count for member in value)
        return f"{workers:,} {'worker' if workers == 1 else 'workers'} ({', '.join(texts)})"
    return " + ".join(texts) if attribute in FILM else ", ".join(texts)


def record_text(value: Any, reader: Reader) -> str:
    """A record that is told as one."""
    say = SAYINGS.get(type(value)) or (say_shape if isinstance(value, Shape) else say_fields)
    return say(value, reader)


def say_shape(shape: Shape, reader: Reader) -> str:
    """A size, and the shape where it is no plain rectangle."""
    show = reader.show
    if isinstance(shape, Round):
        lap = shape.lap_on_pipe if isinstance(shape, Pipe) else None
        tail = f", {show(lap)} lap on the pipe" if lap is not None else ""
        return f"{'pipe' if isinstance(shape, Pipe) else 'round'}, {show(shape.diameter)} across{tail}"
    if isinstance(shape, Arched):
        rise = f", rise {show(shape.rise)}" if hasattr(shape, "rise") else ""
        words = shape.name.replace("_", " ")
        return f"{words}, {show(shape.width)} wide, springline at {show(shape.springline)}{rise}"
    if isinstance(shape, Cornered):
        corners = " ".join(f"({show(x)}, {show(y)})" for x, y in shape.points)
        return f"{shape.name} with corners {corners}"
    if isinstance(shape, Rectangle | Ellipse):
        size = f"{show(shape.width)} x {show(shape.height)}"
        return size if isinstance(shape, Rectangle) else f"{shape.name}, {size}"
    return ", ".join([label(shape.name), *(f"{label(name)} {show(nm)}" for name, nm in shape.sizes.items())])


def say_fields(record: Any, reader: Reader) -> str:
    """Any other record: what its fields say, one after the other."""
    told = [(name, getattr(record, name)) for name in field_names(record)]
    texts = [f"{label(name)} {value_text(name, item, reader)}" for name, item in told if item not in (None, ())]
    return ", ".join(texts) or "nothing stated"


def say_sill(sill: Sill, reader: Reader) -> str:
    """The kind of sill, then what else it states."""
    others = [name for name in field_names(sill) if name != "kind" and getattr(sill, name) is not None]
    told = [f"{label(name)} {value_text(name, getattr(sill, name), reader)}" for name in others]
    return ", ".join([value_text("kind", sill.kind, reader), *told])


def say_waste(waste: Waste, reader: Reader) -> str:
    """The percentage and what it is a percentage of."""
    return f"{value_text('rate', waste.rate, reader)} {waste.kind}"


def say_questions(questions: OpenQuestions, reader: Reader) -> str:
    """How many are open; exactly: which."""
    counts = f"{questions.blocks_issue:,} to answer before a quote is issued, {questions.to_know:,} to know"
    if reader.show is not exactly or not questions.told:
        return counts
    return f"{counts} ({'; '.join(f'{told.pointer} {told.code} {told.detail}' for told in questions.told)})"


SAYINGS: Mapping[type, Callable[[Any, Reader], str]] = {
    Sill: say_sill,
    Waste: say_waste,
    OpenQuestions: say_questions,
    PerLength: lambda per, reader: f"{value_text('', per.minutes, reader)} minutes per {per.unit}",
    Override: lambda override, reader: f'"{override.reason}" by {override.by}',
    Member: lambda member, reader: f"{member.count:,} {reader.title_of(member.labour)}",
    LearningRow: say_fields,
    Determination: say_fields,
    SheetWall: lambda wall, reader: (
        f"{reader.show(wall.length_nm)} x {reader.show(wall.height_nm)} in sheets of "
        f"{reader.show(wall.sheet_long_nm)} x {reader.show(wall.sheet_high_nm)}"
    ),
    PackRow: lambda pack, reader: f"{pack.label} at {value_text('price', pack.price, reader)}",
    RentalRow: lambda rental, reader: f"{value_text('price', rental.price, reader)} a {rental.period}",
}
# attributes whose field people know by other words than its name
LABELS: Mapping[str, str] = {
    "depth_nm": "treated depth",
    "seal/depth_nm": "depth",
    "barrier": "wall barrier",
    "override": "method override",
    "sealed": "perimeter seal",
    "external": "in an exterior wall",
    "from_inside": "worked from inside",
    "sides": "treated sides",
    "kind": "kind of opening",
    "snapped": "lengths taken to 1/64 in",
    "done_before": "openings done before",
    "crews": "crews",
    "members": "crew",
    "hours_per_week": "hours a week",
    "seal": "perimeter seal",
    "joints": "sheathing joints",
    "weep_count": "weep gaps",
    "weep_length_nm": "length of a weep gap",
    "corners_nm": "length of corner joints",
    "terminations_nm": "length of terminations",
    "deflection_nm": "length of deflection joints",
    "marks": "openings",
    "empty_price": "price where nothing is to be done",
    "no_primer_reason": "reason for no primer",
    "exemption_certificate": "sales tax exemption certificate",
    "stated_rate": "stated price per area",
    "allocate_by": "price shared over marks by",
    "only_external": "interior openings left out",
    "units": "units of the answer",
    "questions": "open questions",
    "parts": "part",
    "rate": "percentage",
    "on": "base",
    "per": "counted by",
    "slope": "share left at each doubling",
    "fringe_paid": "fringe paid to",
    "apply": "primed",
    "first": "factor of the first opening",
    "angle_degrees": "angle",
    "seal_per": "perimeter seal",
    "to_know": "to know",
}
UNIT_ENDS = ("_per_nm", "_nm2", "_nm")


def label(attribute: str, outer: str = "") -> str:
    """What people call the field behind an attribute; outer: the one that it stands in."""
    found = LABELS.get(f"{outer}/{attribute}") or LABELS.get(attribute)
    if found is not None:
        return found
    for end in UNIT_ENDS:
        attribute = attribute.removesuffix(end)
    return attribute.replace("_", " ")
