"""What is told of a crew's work, and of the links by which it is told: field tables that the API and pages read by."""

from __future__ import annotations

from typing import Any

from api.field_readers import as_given, id_text, moment, parse_lines
from estimating.core.job_progress import SET_UP, STEPS
from rates.core.exact import read_decimal
from rates.core.fields import Field, ListOf, Reader, Record, bound, choice, date, number_text, text, whole
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable

MOST_HOURS, MOST_MARKS = 2_000, 2_000


def parse_hours(raw: object) -> Fraction:
    """Hours to a hundredth."""
    value = read_decimal(number_text(raw))
    bound(value, 0, MOST_HOURS, False)
    if (value * 100).denominator != 1:
        raise Unreadable("too_many_places", "hours are told to a hundredth")
    return value


def counted(mark: str, openings: int) -> tuple[str, int]:
    """A count of one mark."""
    return mark, openings


HOURS = Reader(parse_hours, {"type": ["string", "number"], "pattern": "^[0-9]"})
COUNT = Record(
    counted,
    (
        Field("mark", text(200), "as in the schedule", required=True),
        Field("openings", whole(0, 10**6), "how many were finished of this step", required=True),
    ),
)
NEW_JOB_RECORD = Record(
    as_given,
    (
        Field("estimate", id_text, "a costed estimate", required=True),
        Field("day", date(), "when it was done", required=True),
        Field("zone", whole(1, 10**6), "the zone's number, as the estimate's progress lists them", required=True),
        Field("step", choice(*STEPS, SET_UP), "what was done; set_up has hours alone", required=True),
        Field("hours", HOURS, "paid worker-hours, to a hundredth", required=True),
        Field("counts", ListOf(COUNT, 0, MOST_MARKS), "openings finished of the step, by mark", default=()),
        Field("note", parse_lines(1000), "anything to know", default=""),
    ),
)
MOST_ROWS = 2_000
ROW = Record(
    as_given,
    (
        Field("day", date(), "when it was done", required=True),
        Field("zone", whole(1, 10**6), "the zone's number, as the estimate's progress lists them", required=True),
        Field("step", choice(*STEPS, SET_UP), "what was done; set_up has hours alone", required=True),
        Field("hours", HOURS, "paid worker-hours, to a hundredth", required=True),
        Field("mark", text(200), "of the openings, where any were finished"),
        Field("openings", whole(0, 10**6), "how many were finished of this step"),
        Field("note", parse_lines(1000), "anything to know"),
    ),
    title="JobRecordRow",
)
ROWS = Record(
    as_given,
    (Field("items", ListOf(ROW, 1, MOST_ROWS), "a row for each day, zone, step and mark", required=True),),
    title="JobRecordRows",
)
WITHDRAWAL = Record(as_given, (Field("reason", text(1000), "why it does not count", required=True),))


def read_link(**values: Any) -> dict[str, Any]:
    """A link as it is asked for."""
    return values


NEW_SITE_LINK = Record(
    read_link,
    (
        Field("estimate", id_text, "a costed estimate", required=True),
        Field("title", text(200), "for whom, such as the crew's name", required=True),
        Field("expires_at", moment, "until when it lets in, within a year", required=True),
    ),
)
