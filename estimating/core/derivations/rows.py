"""Values of tables, of the request and of schedule lines as inputs: each with its unit and where it stands."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from typing import Any

from estimating.core.figures.figure import Input, known
from estimating.core.figures.printing import (
    COVERAGE,
    DAYS,
    DEGREES,
    EXACT_MONEY,
    HOURS,
    LENGTH,
    MINUTES,
    NUMBER,
    OF_DIMENSION,
    PERCENT,
    TEXT,
    Unit,
    exact_text,
    money_for,
)
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.production_rows import PerLength
from rates.core.rows import PackRow

# attributes whose field has another path than its name without the unit
PATHS: Mapping[str, str] = {
    "extra_strip_minutes": "tape/extra_strip_minutes",
    "seal_per": "perimeter_seal",
    "diagonal_width_nm": "diagonal/width",
    "diagonal_length_nm": "diagonal/length",
    "per": "",
    "weep_count": "weeps/count",
    "weep_length_nm": "weeps/length",
    "seal": "perimeter_seal",
    "joints": "sheathing_joints",
    "done_before": "experience/done_before",
    "wall_area_nm2": "wall_area",
}
ADDED_IN: Mapping[str, Unit] = {"shape": MINUTES, "sill": MINUTES, "setup_hours/zone": HOURS}
AN_HOUR, A_WEEK = money_for("hour"), Unit("hours/week", "number")
UNITS_OF: Mapping[str, Unit] = {
    "percent": PERCENT,
    "slope_percent": PERCENT,
    "coverage_per_nm": COVERAGE,
    "price": EXACT_MONEY,
    "delivery": EXACT_MONEY,
    "amount": EXACT_MONEY,
    "unit_price": EXACT_MONEY,
    "up_to": EXACT_MONEY,
    "wage": AN_HOUR,
    "fringe": AN_HOUR,
    "basic_rate": AN_HOUR,
    "yearly_limit": money_for("year"),
    "yearly_hours": Unit("hours/year", "number"),
    "hours_per_week": A_WEEK,
    "after": A_WEEK,
    "hours_per_day": Unit("hours/day", "number"),
    "days_per_week": DAYS,
    "days_per_month": DAYS,
    "mobilisation": HOURS,
    "elevation": HOURS,
    "storey_change": HOURS,
    "angle_degrees": DEGREES,
    "minimum": MINUTES,
    "fixed": MINUTES,
}
BY_LENGTH = {"ft": "per_foot", "m": "per_metre", "in": "per_inch", "mm": "per_mm"}
Place = Callable[[str], Mapping[str, object]]


def field_of(attribute: str) -> str:
    """The name of the field behind an attribute, whose name ends in a unit."""
    return PATHS.get(attribute, attribute.removesuffix("_nm").removesuffix("_per_nm").removesuffix("_per"))


def unit_of(owner: object, attribute: str) -> Unit:
    """The unit of an attribute's value."""
    if isinstance(owner, PackRow) and attribute == "size":
        return OF_DIMENSION[owner.dimension]
    if attribute.endswith("_nm") and attribute != "coverage_per_nm":
        return LENGTH
    return UNITS_OF.get(attribute, MINUTES if attribute.endswith("_minutes") else NUMBER)


class Row:
    """A row of a table, the request, or a part of either; `place` gives the source of a path in it."""

    def __init__(self, real: Any, place: Place, currency: str, path: str = "") -> None:
        self._real, self._place, self._currency, self._path = real, place, currency, path

    def __getattr__(self, name: str) -> Any:
        value = getattr(self._real, name)
        if name.startswith("_") or value is None or isinstance(value, bool) or callable(value):
            return value
        if isinstance(self._real, PerLength):
            return value if name == "unit" else self._minutes(value)
        return self._seen(value, name, self._at(field_of(name)))

    def _at(self, field: str) -> str:
        return "/".join(step for step in (self._path, field) if step)

    def _seen(self, value: Any, name: str, path: str) -> Any:
        if isinstance(value, Fraction | int | str):
            return self._leaf(value, path, TEXT if isinstance(value, str) else unit_of(self._real, name))
        if isinstance(value, tuple) and not hasattr(value, "_fields"):
            return [self._seen(x, name, f"{path}/{i}") for i, x in enumerate(value)]
        is_row = dataclasses.is_dataclass(value) or isinstance(value, tuple)
        return Row(value, self._place, self._currency, path) if is_row else value

    def _leaf(self, value: Fraction | int | str, path: str, unit: Unit) -> Any:
        source = dict(self._place(path))
        if "field" in source:
            supply = {k: source.pop(k) for k in list(source) if k not in ("table", "row", "field")}
            source |= {"value": exact_text(value)} | supply
        label = path.rsplit("/", 1)[-1].replace("_", " ")
        return known(Input(label, value, unit.in_currency(self._currency), source=source))

    def _minutes(self, value: Fraction) -> Any:
        unit: str = self._real.unit
        prefix = "" if self._path in ("opening_minutes", "penetration_minutes") else "minutes_"
        told = self._leaf(value, self._at(prefix + BY_LENGTH[unit]), Unit(f"minutes/{unit}", "number"))
        return known(dataclasses.replace(told.input, name=f"minutes for each {unit}"))

    def field(self, path: str) -> Any:
        """What stands at the path of a field."""
        found = self._real
        for step in path.split("/"):
            found = getattr(found, step) if dataclasses.is_dataclass(found) else dict(found)[step]
        return self._seen(found, path, self._at(path))

    def stated(self, path: str, value: Any, unit: Unit) -> Any:
        """A value at the path of a field, or what stands there where the document says nothing."""
        return self._leaf(value, self._at(path), unit)

    def entry(self, group: str, key: str) -> Any:
        """A named value of a group, as factors by access."""
        value = self._real.entry(group, key)
        unit = ADDED_IN.get(group, NUMBER)
        told = self._leaf(value, self._at(f"{group}/{key}"), unit)
        words = f"factor for {key}" if unit is NUMBER else f"{unit.text} for {key}"
        return known(dataclasses.replace(told.input, name=words))


def table_row(card: Card, table: str, code: str | None, real: Any, path: str = "") -> Row:
    """A row of a table of the card (code None: the production table)."""

    def place(field: str) -> Mapping[str, object]:
        return {"table": table, "row": code, "field": field} | dict(card.supplied(table, code, field).described())

    return Row(real, place, card.currency, path)


def asked(real: Any, currency: str, pointer: str = "") -> Row:
    """The request, or what stands at a pointer in it."""
    return Row(real, lambda path: {"pointer": f"{pointer}/{path}"}, currency)
