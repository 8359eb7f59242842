"""The calendar as an iCalendar file (RFC 5545), read by a second library and by the rules of the standard's text."""

from __future__ import annotations

import datetime
import uuid
from typing import Any

import icalendar
from hypothesis import given, settings
from hypothesis import strategies as st

from estimating.outputs.calendar_answer import calendar_answer
from estimating.outputs.calendar_events import events
from estimating.outputs.icalendar import Event, write_icalendar
from tests.core.invented import costed, opening, request

PROJECT = uuid.UUID("0190a000-0000-7000-8000-000000000001")
MOMENT = datetime.datetime(2026, 11, 28, 9, 30, tzinfo=datetime.timezone(datetime.timedelta(hours=-6)))
DAY = datetime.date(2027, 3, 15)


def written(*found: Event, sequence: int = 1) -> bytes:
    """A file of events."""
    return write_icalendar(found, name="A job", of=PROJECT, moment=MOMENT, sequence=sequence)


def read(content: bytes) -> list[Any]:
    """The events as the second library reads them."""
    return list(icalendar.Calendar.from_ical(content).walk("VEVENT"))


def test_an_event_of_days_ends_the_day_after_its_last() -> None:
    """Section 3.6.1: DTEND is the non-inclusive end. DTSTAMP is in UTC (3.8.7.2): 09:30 at −6 h is 15:30."""
    (event,) = read(written(Event("a", DAY, DAY + datetime.timedelta(days=2), "Seal North", "x", ("work",))))
    assert (event.decoded("DTSTART"), event.decoded("DTEND")) == (DAY, datetime.date(2027, 3, 18))
    assert event.decoded("DTSTAMP") == datetime.datetime(2026, 11, 28, 15, 30, tzinfo=datetime.UTC)
    assert (event["SEQUENCE"], str(event["SUMMARY"])) == (1, "Seal North")
    assert [str(word) for word in event["CATEGORIES"].cats] == ["work"]


def test_the_same_event_of_a_later_estimate_has_its_uid() -> None:
    first, later = (
        read(written(Event("zone||North|1", DAY, DAY, name), sequence=n)) for n, name in ((1, "a"), (2, "b"))
    )
    assert first[0]["UID"] == later[0]["UID"] and first[0]["SEQUENCE"] < later[0]["SEQUENCE"]
    other = read(written(Event("zone||North|2", DAY, DAY, "a")))
    assert other[0]["UID"] != first[0]["UID"]


TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cf", "Zl", "Zp", "Cn", "Co")), max_size=200)


@settings(max_examples=60, deadline=None)
@given(TEXTS, st.lists(TEXTS, max_size=4))
def test_any_text_comes_back_and_no_line_is_longer_than_75_octets(summary: str, lines: list[str]) -> None:
    description = "\n".join(lines)
    content = written(Event("x", DAY, DAY, summary, description))
    *found, end = content.split(b"\r\n")
    assert end == b"" and all(len(line) <= 75 and b"\n" not in line for line in found)
    assert [line.decode() for line in found]  # no fold within a character
    (event,) = read(content)
    plain = "".join(letter for letter in summary if letter.isprintable())
    assert str(event["SUMMARY"]) == plain
    wanted = "".join(letter for letter in description if letter.isprintable() or letter == "\n")
    assert str(event.get("DESCRIPTION", "")) == wanted


def test_the_events_of_a_calendar_are_its_zones_mobilisations_and_deliveries() -> None:
    zones = [{"elevation": "North", "units_due": "2027-03-15"}]
    lines = [opening("A", 40, elevation="North"), opening("B", 8, elevation="South, rear; wing")]
    answer = calendar_answer(costed(request(*lines, calendar={"zones": zones})))
    found = {str(event["SUMMARY"]): event for event in read(written(*events(answer)))}
    assert list(found) == ["Mobilisation 1: crew", "Seal North", "Units due: North", "Seal South, rear; wing"]
    north = found["Seal North"]
    assert (north.decoded("DTSTART"), north.decoded("DTEND")) == (DAY, datetime.date(2027, 3, 18))
    assert "Late: dry on 2027-03-17" in str(north["DESCRIPTION"])
    assert len({str(event["UID"]) for event in found.values()}) == 4


def test_zones_of_two_parts_with_one_title_are_two_events() -> None:
    parts = [{"work_date": "2027-03-15", "openings": ["A"], "title": "x"}, {"work_date": "2027-05-03", "title": "x"}]
    answer = calendar_answer(costed(request(opening("A"), opening("B"), mobilisations=parts)))
    found = read(written(*events(answer)))
    assert len({str(event["UID"]) for event in found}) == len(found) == 4
