"""From stored rows to what the core reads: the request with its openings, and the editions that price it."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Q

from estimating.core.job import NONE_OPEN, Job, read_request
from estimating.core.open_questions import OpenQuestions
from estimating.intake.open_questions import open_in
from estimating.models import Estimate, ScheduleRevision
from rates.cards import stored_sources
from rates.core.card import EditionSource
from rates.documents import unpack

# fields that the service resolves itself; the core sees their outcome as openings and editions
OF_THE_SERVICE = frozenset({"project", "schedule", "rate_book", "edition", "hold", "known_at"})


@dataclass(frozen=True)
class Stored:
    """What one estimate was costed from, exactly."""

    request: Mapping[str, Any]
    editions: Sequence[EditionSource]
    questions: OpenQuestions = NONE_OPEN

    def job(self) -> Job:
        """The request as the core understands it; Refused."""
        return read_request(self.request, self.editions, self.questions)


def for_core(request: Mapping[str, Any], openings: object, length_unit: str = "") -> dict[str, Any]:
    """The request without the service's own fields and with its openings inline.

    `length_unit` is that of a stored schedule; the request's own goes before it, and it never tells the unit of the
    request's own lengths.
    """
    told = {"openings_length_unit": length_unit} if length_unit and not request.get("length_unit") else {}
    own = {name: value for name, value in request.items() if name not in OF_THE_SERVICE}
    return told | own | {"openings": openings}


def stored(row: Estimate) -> Stored:
    """What a stored estimate is costed from."""
    request = unpack(row.request)
    if row.schedule_id is not None:
        openings, unit = schedule_openings(company=row.company_id, id=row.schedule_id)
        questions = schedule_questions(company=row.company_id, id=row.schedule_id)
    else:
        openings, unit, questions = request["openings"], "", NONE_OPEN
    editions = stored_sources(company=row.company_id, kept=row.editions)
    return Stored(for_core(request, openings, unit), editions, questions)


def schedule_openings(*, company: uuid.UUID, id: uuid.UUID) -> tuple[list[Any], str]:
    """The opening lines of a stored schedule, and the unit of their bare numbers."""
    body, unit = ScheduleRevision.objects.of(company).values_list("openings", "length_unit").get(pk=id)
    return list(unpack(body)), str(unit)


def schedule_questions(*, company: uuid.UUID, id: uuid.UUID) -> OpenQuestions:
    """What a stored schedule leaves open; its report is read only where there is anything."""
    rows = ScheduleRevision.objects.of(company).filter(pk=id)
    asks = rows.filter(Q(blocks_issue__gt=0) | Q(to_know__gt=0), report__isnull=False)
    report = asks.values_list("report", flat=True).first()
    return NONE_OPEN if report is None else open_in(unpack(report))


def mobilisation_dates(request: Mapping[str, Any]) -> list[tuple[str, datetime.date]]:
    """(pointer, date) of every mobilisation that has a readable date of its own; the core refuses the others."""
    listed = request.get("mobilisations")
    found = []
    for place, entry in enumerate(listed if isinstance(listed, list) else ()):
        date = entry.get("work_date") if isinstance(entry, Mapping) else None
        try:
            found.append((f"/mobilisations/{place}/work_date", datetime.date.fromisoformat(str(date))))
        except ValueError:
            continue
    return found
