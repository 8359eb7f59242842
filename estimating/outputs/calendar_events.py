"""The calendar of an estimate as events: each zone, each mobilisation, the days that units are due. No money."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from estimating.outputs.icalendar import Event
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction
from rates.core.texts import counted

Answer = Mapping[str, Any]


def day(text: str) -> datetime.date:
    """A day as documents write it."""
    return datetime.date.fromisoformat(text)


def key_of(what: str, row: Answer) -> str:
    """What an event is, whichever estimate tells it: two zones of one name are told apart by their part."""
    return "|".join((what, row.get("part") or "", row.get("elevation") or "", row.get("storey") or ""))


def zone_events(row: Answer, days: list[Answer]) -> Iterator[Event]:
    """A zone from its first to its last day, and the delivery of its units."""
    name = f"{row['part']}: {row['title']}" if row.get("part") else row["title"]
    if days:
        what = counted(row["openings"], "opening") if row["openings"] else "joints"
        per_day = [f"{at['date']} {at['starts']} to {at['ends']}: {at['openings']} to finish" for at in days]
        hours = print_quantity(Fraction(row["hours"]), 2)
        text = "\n".join([f"{what}, {hours} standard hours", *per_day, *late(row)])
        yield Event(key_of("zone", row), day(days[0]["date"]), day(days[-1]["date"]), f"Seal {name}", text, ("work",))
    if row["units_due"]:
        due = day(row["units_due"])
        yield Event(key_of("units", row), due, due, f"Units due: {name}", "\n".join(late(row)), ("delivery",))


def late(row: Answer) -> list[str]:
    """That a zone is not dry when its units come."""
    return [f"Late: dry on {row['dry'] or 'no day that is planned'}"] if row["late"] else []


def part_event(row: Answer, place: int) -> Iterator[Event]:
    """The mobilisation of a part on its first day."""
    if row["start"]:
        first, name = day(row["start"]), row.get("part") or "crew"
        text = f"Priced by the rates of {row['work_date']}; planned to {row['finish'] or 'no end'}"
        yield Event(f"mobilisation|{place}", first, first, f"Mobilisation {place}: {name}", text, ("mobilisation",))


def events(calendar: Answer) -> Iterator[Event]:
    """All of them, in the order of the calendar; two parts of one title are told apart by their order."""
    for place, part in enumerate(calendar["parts"], 1):
        yield from part_event(part, place)
    of_zone: dict[int, list[Answer]] = {}
    for item in calendar["items"]:
        of_zone.setdefault(item["zone"], []).append(item)
    seen: dict[str, int] = {}
    for row in calendar["zones"]:
        for event in zone_events(row, of_zone.get(row["zone"], [])):
            seen[event.key] = seen.get(event.key, 0) + 1
            again = seen[event.key]
            yield event if again == 1 else replace(event, key=f"{event.key}|{again}")
