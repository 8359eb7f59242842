"""A company's table of climates: a row for each month of a place; a request's calendar takes a place by its name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from estimating.core.request_calendar import MONTH
from estimating.core.schedule_lines import place_key
from rates.core.exact import print_quantity
from rates.core.fields import Faults, Field, ListOf, Record, choice, text
from rates.core.fraction import Fraction
from rates.core.problems import Problem

MOST_ROWS = 6_000  # 500 places
OF_MONTH = ("month", "high", "low", "wet_days", "dry_hours")
ROW = Record(
    lambda **values: values,
    (
        Field("place", text(100), "the place, by which a calendar names it", required=True),
        *MONTH.fields[:3],
        Field("unit", choice("f", "c"), "degrees Fahrenheit or Celsius, one for all months of a place", required=True),
        *MONTH.fields[3:],
        Field("source", text(300), "where the figures came from"),
    ),
    title="ClimateRow",
)
TABLE = Record(
    lambda items: items,
    (Field("items", ListOf(ROW, 0, MOST_ROWS), "a row for each month of a place", required=True),),
    title="Climates",
)
Row = dict[str, Any]


def read_climates(document: object, faults: Faults) -> list[Row]:
    """The rows as they are kept, numbers as decimal text; every fault is noted, and then none is kept."""
    before = len(faults)
    rows: tuple[Mapping[str, Any], ...] | None = TABLE.read(document, "", faults)
    if rows is None or len(faults) > before:
        return []
    months: set[tuple[str, int]] = set()
    units: dict[str, str] = {}
    for i, row in enumerate(rows):
        place = place_key(row["place"])
        if (place, row["month"]) in months:
            detail = f"month {row['month']} of {row['place']} is given twice"
            faults.append(Problem(f"/items/{i}/month", "month_twice", detail))
        months.add((place, row["month"]))
        if units.setdefault(place, row["unit"]) != row["unit"]:
            detail = f"other months of {row['place']} have another unit"
            faults.append(Problem(f"/items/{i}/unit", "two_units", detail))
        if row["low"] > row["high"]:
            faults.append(Problem(f"/items/{i}/low", "low_above_high", "this is above the high of its month"))
    return [kept(row) for row in rows] if len(faults) == before else []


def kept(row: Mapping[str, Any]) -> Row:
    """A row as it is stored and shown."""
    return {name: print_quantity(value, 12) if isinstance(value, Fraction) else value for name, value in row.items()}


def climate_of(rows: Iterable[Mapping[str, Any]], name: str) -> Row | None:
    """The climate of a place as a request gives it, None where no row is of it."""
    wanted = place_key(name)
    found = [row for row in rows if place_key(row["place"]) == wanted]
    if not found:
        return None
    source = next((row["source"] for row in found if row["source"]), None)
    months = [{name: row[name] for name in OF_MONTH if row[name] is not None} for row in found]
    head: Row = {"title": found[0]["place"], "unit": found[0]["unit"], "months": months}
    return head | ({"source": source} if source else {})
