"""The calendar of a costed estimate, made anew: as a document, as an iCalendar file, as a picture."""

from __future__ import annotations

import datetime
import uuid
from typing import Any

from estimating.collector import collector_paused
from estimating.outputs.calendar_answer import calendar_answer
from estimating.outputs.calendar_events import events
from estimating.outputs.icalendar import write_icalendar
from estimating.outputs.pictures.site_calendar import calendar_picture
from estimating.outputs.quotes.files import SentDocument
from estimating.outputs.site_documents import titled
from estimating.queries.estimates import cautions, costed_again, require_costed
from estimating.queries.printed import printed


def calendar_of(*, company: uuid.UUID, id: uuid.UUID) -> dict[str, Any]:
    """The calendar; NotThere, Conflict until costed."""
    require_costed(company, id)
    with collector_paused():
        answer = calendar_answer(costed_again(company, id))
    return answer | {"cautions": cautions(company=company, id=id)}


def icalendar_file(*, company: uuid.UUID, id: uuid.UUID) -> SentDocument:
    """The calendar for other calendars; a later estimate of the project changes its events. NotThere, Conflict."""
    found, answer = printed(company=company, id=id), calendar_of(company=company, id=id)
    estimate = found.estimate
    content = write_icalendar(
        events(answer),
        name=titled("Calendar", estimate, found.project),
        of=uuid.UUID(estimate["project"] or estimate["id"]),
        moment=datetime.datetime.fromisoformat(estimate["costed_at"]),
        sequence=estimate["number"] or 0,
    )
    return SentDocument("calendar.ics", f"{stem_of(estimate)}.ics", "text/calendar; charset=utf-8", content)


def picture_file(*, company: uuid.UUID, id: uuid.UUID) -> SentDocument:
    """The calendar as a picture; NotThere, Conflict."""
    found, answer = printed(company=company, id=id), calendar_of(company=company, id=id)
    svg = calendar_picture(answer, titled("Calendar", found.estimate, found.project))
    return SentDocument("calendar.svg", f"{stem_of(found.estimate)}.svg", "image/svg+xml", svg.encode())


def stem_of(estimate: dict[str, Any]) -> str:
    """The name of a file of an estimate's calendar without its end."""
    return f"calendar-{estimate['number']}" if estimate["number"] else "calendar"
