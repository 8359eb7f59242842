"""Events as an iCalendar file (RFC 5545): all-day events, lines folded at 75 octets, texts escaped, UIDs that stay.

Written here, as a library that reads and writes all of the standard is some hundred times as long as what an all-day
event needs; one reads what is written in the tests.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

LINE_OCTETS = 75
PRODUCT = "-//Sillwright//Calendar//EN"
ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n", "\r": None})


@dataclass(frozen=True)
class Event:
    """An event of whole days, first and last included. key: what it is, the same in every file that tells it."""

    key: str
    first: datetime.date
    last: datetime.date
    summary: str
    description: str = ""
    categories: tuple[str, ...] = ()


def escape(text: str) -> str:
    """A text value (section 3.3.11); control characters but the line feed stand in none."""
    plain = "".join(letter for letter in text if letter == "\n" or letter.isprintable() or letter == "\u200b")
    return plain.translate(ESCAPED)


def fold(line: str) -> Iterator[str]:
    """A content line in pieces of at most 75 octets, none within a character (section 3.1)."""
    piece, octets = "", 0
    for letter in line:
        size = len(letter.encode())
        if octets + size > LINE_OCTETS:
            yield piece
            piece, octets = " ", 1
        piece, octets = piece + letter, octets + size
    yield piece


def written(day: datetime.date) -> str:
    """A date as the standard has it, four digits of the year."""
    return day.isoformat().replace("-", "")


def event_lines(event: Event, of: uuid.UUID, stamp: str, sequence: int) -> Iterator[str]:
    """One event; its end is the day after its last (section 3.6.1)."""
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid.uuid5(of, event.key)}"
    yield f"DTSTAMP:{stamp}"
    yield f"SEQUENCE:{sequence}"
    yield f"DTSTART;VALUE=DATE:{written(event.first)}"
    if event.last < datetime.date.max:
        yield f"DTEND;VALUE=DATE:{written(event.last + datetime.timedelta(days=1))}"
    yield f"SUMMARY:{escape(event.summary)}"
    if event.description:
        yield f"DESCRIPTION:{escape(event.description)}"
    if event.categories:
        yield f"CATEGORIES:{','.join(escape(word) for word in event.categories)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def write_icalendar(
    events: Iterable[Event], *, name: str, of: uuid.UUID, moment: datetime.datetime, sequence: int
) -> bytes:
    """The file; the same events give the same bytes.

    of: what the events belong to, so that a later file of the same (a greater sequence) changes them where they stand.
    """
    stamp = moment.astimezone(datetime.UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{PRODUCT}", "CALSCALE:GREGORIAN", f"NAME:{escape(name)}"]
    for event in events:
        lines += event_lines(event, of, stamp, sequence)
    return "".join(f"{piece}\r\n" for line in [*lines, "END:VCALENDAR"] for piece in fold(line)).encode()
