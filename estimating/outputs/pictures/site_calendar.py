"""The calendar as a picture: a row for each zone, a bar for each stretch of days, hatched where nobody works."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from estimating.outputs.pictures.drawing import FULL, LESS, bar, line, picture, shorten, text
from estimating.outputs.printed.days import date_said, day_said
from rates.core.texts import counted

LEFT, RIGHT, TOP, ROW, BOTTOM = 260, 30, 40, 20, 34
BROAD, LEAST, MOST = 900, 2, 24  # units that the days take together, and that one of them takes
LABEL, WEEK = 82, 46  # units that a date takes, and one without its year
LEGEND = 300  # units that the words below the days take
MOST_ROWS, MOST_DAYS = 400, 7320  # what is later stands at the edge
MOST_NAME = 34  # characters of a zone's name that there is room for
TITLE = "Calendar"
Answer = Mapping[str, Any]


def day_of(written: str | None) -> str:
    """A day in the words of the picture."""
    return date_said(written) if written else "no end"


def day(written: str) -> datetime.date:
    """A day as documents write it."""
    return datetime.date.fromisoformat(written)


class Scale:
    """Days as units from the left edge."""

    def __init__(self, first: datetime.date, last: datetime.date) -> None:
        self.first, self.days = first, min(MOST_DAYS, (last - first).days + 1)
        self.unit = max(LEAST, min(MOST, BROAD // self.days))

    def at(self, date: datetime.date) -> int:
        """Where a day starts."""
        return LEFT + max(0, min(self.days, (date - self.first).days)) * self.unit

    @property
    def width(self) -> int:
        """The whole picture."""
        return LEFT + max(LEGEND, self.days * self.unit) + RIGHT


def calendar_picture(calendar: Answer, name: str) -> str:
    """The picture of a calendar's document as SVG."""
    zones = [row for row in calendar["zones"] if row["start"]][:MOST_ROWS]
    if not zones:
        words = "No day of work is planned."
        return picture(LEFT * 2, TOP, TITLE, words, [text(8, 24, words)])
    dates = [day(row["date"]) for row in calendar["items"]]
    dates += [day(row["units_due"]) for row in zones if row["units_due"]]
    scale = Scale(min(dates), max(dates))
    height = TOP + ROW * len(zones) + BOTTOM
    days = counted(calendar["working_days"], "working day")
    words = f"{name}: {days} from {day_of(calendar['start'])} to {day_of(calendar['finish'])}."
    return picture(scale.width, height, TITLE, words, parts(calendar, zones, scale, height))


def parts(calendar: Answer, zones: Sequence[Answer], scale: Scale, height: int) -> Iterator[str]:
    """Days off behind, months above, a row for each zone, what the marks mean below."""
    bottom = height - BOTTOM
    seen = False
    for off in calendar["days_off"]:
        first, last = day(off["first"]), day(off["last"])
        if first < scale.first + datetime.timedelta(days=scale.days) and last >= scale.first:
            x = scale.at(first)
            seen = True
            yield bar(x, TOP, scale.at(last + datetime.timedelta(days=1)) - x, bottom - TOP, LESS)
    yield from date_lines(scale, bottom)
    of_zone: dict[int, list[datetime.date]] = {}
    for item in calendar["items"]:
        of_zone.setdefault(item["zone"], []).append(day(item["date"]))
    for place, row in enumerate(zones):
        yield from zone_row(row, of_zone[row["zone"]], scale, TOP + place * ROW)
    due = any(row["units_due"] for row in zones)
    yield from legend(bottom, seen, due, len(calendar["zones"]) - len(zones))


def starts(scale: Scale) -> Iterator[datetime.date]:
    """The first day, then the start of each week; of each month where weeks are narrower than their names."""
    date, weekly = scale.first, 7 * scale.unit >= WEEK
    while (date - scale.first).days < scale.days:
        yield date
        if weekly:
            date += datetime.timedelta(days=7 - date.weekday())
        else:
            date = (date.replace(day=28) + datetime.timedelta(days=4)).replace(day=1)


def date_lines(scale: Scale, bottom: int) -> Iterator[str]:
    """A line where each week or month starts, its name where there is room; the year with the first of it."""
    free, year = LEFT, 0
    for date in starts(scale):
        x = scale.at(date)
        yield line(x, TOP - 4, x, bottom)
        name = day_said(date, with_year=date.year != year)
        room = LABEL if date.year != year else WEEK
        if x >= free and x + room <= scale.width:
            yield text(x + 3, TOP - 10, name)
            free, year = x + room, date.year


def short_name(name: str) -> str:
    """A zone's name where it has room; what is cut off is before the storey."""
    place, comma, storey = name.rpartition(", ")
    room = MOST_NAME - len(storey) - 2
    if len(name) <= MOST_NAME:
        return name
    return f"{shorten(place, room)}, {storey}" if comma and room > 8 else shorten(name, MOST_NAME)


def zone_row(row: Answer, dates: Sequence[datetime.date], scale: Scale, y: int) -> Iterator[str]:
    """A zone's name, a bar for each stretch of days one after the other, and the day that its units are due."""
    name = f"{row['part']}: {row['title']}" if row.get("part") else row["title"]
    yield text(LEFT - 8, y + 14, short_name(name), "end")
    first = dates[0]
    for before, after in pairwise([*dates, datetime.date.max]):
        if (after - before).days > 1:
            x = scale.at(first)
            yield bar(x, y + 3, scale.at(before + datetime.timedelta(days=1)) - x, ROW - 7, FULL)
            first = after
    if row["units_due"]:
        x = scale.at(day(row["units_due"]))
        yield line(x, y + 1, x, y + ROW - 2, 4)


def legend(bottom: int, off: bool, due: bool, left_out: int) -> Iterator[str]:
    """What the marks mean that are in the picture."""
    y = bottom + 12
    yield bar(LEFT, y, 16, 12, FULL)
    yield text(LEFT + 22, y + 11, "work")
    x = LEFT + 70
    if off:
        yield bar(x, y, 16, 12, LESS)
        yield text(x + 22, y + 11, "no work")
        x += 90
    if due:
        yield line(x, y - 2, x, y + 14, 4)
        yield text(x + 8, y + 11, "units due")
        x += 90
    if left_out > 0:
        yield text(x, y + 11, f"{left_out:,} more zones in the table")
