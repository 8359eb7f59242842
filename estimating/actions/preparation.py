"""A request for an estimate, decided before anything is stored: which schedule, which editions, every fault at once."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from estimating.core.job import NONE_OPEN, Job, read_request
from estimating.core.open_questions import OpenQuestions
from estimating.core.request_reading import REQUEST
from estimating.core.request_reading import read_request as read_fields
from estimating.jobs import for_core, mobilisation_dates, schedule_openings, schedule_questions
from estimating.models import Project, ScheduleRevision
from estimating.outputs.public_holidays import unknown_region
from estimating.queries.climates import with_climate
from rates.cards import Editions, editions_in_force, named_edition
from rates.core.problems import MOST_FAULTS, Problem, Refused, more_faults
from rates.core.texts import counted
from rates.identity import read_id

Faults = list[Problem]


@dataclass(frozen=True)
class Prepared:
    """A request that can be costed, and all that its row keeps."""

    request: dict[str, Any]  # as it is stored: with the openings only where they came inline
    job: Job
    lines: int
    editions: Editions
    project: uuid.UUID | None
    schedule: uuid.UUID | None
    work_date: datetime.date
    known_at: datetime.datetime


@dataclass(frozen=True)
class Place:
    """Where the openings come from."""

    project: uuid.UUID | None
    schedule: uuid.UUID | None
    openings: object
    length_unit: str = ""
    rate_book: uuid.UUID | None = None  # the project's own
    questions: OpenQuestions = NONE_OPEN  # of a stored schedule


def prepare(
    *,
    company: uuid.UUID,
    request: Mapping[str, Any],
    units: str,
    now: datetime.datetime,
    lines: Mapping[str, Any] | None = None,
) -> Prepared:
    """The request made ready; Refused with the faults of the service's own fields and of all others.

    lines: values that every opening line has in place of its own. Nothing keeps them, so a request that is to be
    stored has none.
    """
    request, left = within_bounds(request)
    faults: Faults = [more_faults("", left)] if left else []
    request = with_climate(company=company, request=request)
    request = {"units": units} | {name: value for name, value in request.items() if value is not None}
    place = with_lines(find_place(company, request, faults), lines or {})
    known_at = read_known_at(request, now, faults)
    work_date = read_date(request)
    if place.rate_book is not None and not {"edition", "hold", "rate_book"} & set(request):
        request["rate_book"] = str(place.rate_book)
    editions = find_editions(company, request, work_date, known_at, faults)
    whole = for_core(request, place.openings, place.length_unit)
    if editions is None or faults:
        _, more = read_fields(whole if place.openings is not None else whole | {"openings": []})
        raise Refused(list(dict.fromkeys([*faults, *more])))
    job = read_request(whole, editions.sources, place.questions)
    unknown = unknown_region(job.plan.request.calendar)
    if unknown:
        raise Refused(unknown)
    assert work_date is not None and isinstance(place.openings, list)
    if place.schedule is not None:
        request.pop("openings", None)
    return Prepared(request, job, len(place.openings), editions, place.project, place.schedule, work_date, known_at)


def with_lines(place: Place, lines: Mapping[str, Any]) -> Place:
    """The openings with these values in every line; what is no line is told by its reader."""
    if not lines or not isinstance(place.openings, list):
        return place
    changed = [{**row, **lines} if isinstance(row, dict) else row for row in place.openings]
    return replace(place, openings=changed)


def within_bounds(request: Mapping[str, Any]) -> tuple[Mapping[str, Any], int]:
    """The request with no more names that are no fields than are told, and how many were left out of it.

    Only to tell them apart a document of a million names is gone through; it is never copied.
    """
    unknown = [name for name in request if name not in REQUEST.by_name and name != "openings"]
    if len(unknown) <= MOST_FAULTS:
        return request, 0
    known = [name for name in (*REQUEST.by_name, "openings") if name in request]
    kept = {name: request[name] for name in (*known, *unknown[:MOST_FAULTS])}
    return kept, len(unknown) - MOST_FAULTS


def find_place(company: uuid.UUID, request: Mapping[str, Any], faults: Faults) -> Place:
    """The project, the schedule and the openings that a request names; faults noted."""
    project = find_row(Project, company, request, "project", "there is no such project", faults)
    schedule = find_row(ScheduleRevision, company, request, "schedule", "there is no such opening schedule", faults)
    if "schedule" in request and "openings" in request:
        faults.append(Problem("/schedule", "schedule_or_openings", "give a schedule or openings, not both"))
    if schedule is None:
        if "schedule" not in request and "openings" not in request:
            faults.append(Problem("/openings", "missing", "a schedule or openings are needed"))
        own = project.rate_book_id if project else None
        return Place(project.pk if project else None, None, request.get("openings"), "", own)
    if project is not None and schedule.project_id != project.pk:
        faults.append(Problem("/schedule", "other_project", "this opening schedule belongs to another project"))
    if schedule.blocks_costing:
        detail = f"{counted(schedule.blocks_costing, 'question')} on it must be answered before it can be costed"
        faults.append(Problem("/schedule", "questions_open", detail))
    openings, unit = schedule_openings(company=company, id=schedule.pk)
    own = Project.objects.of(company).values_list("rate_book_id", flat=True).get(pk=schedule.project_id)
    asked = schedule_questions(company=company, id=schedule.pk)
    return Place(schedule.project_id, schedule.pk, openings, unit, own, asked)


def find_row(
    model: type[Project] | type[ScheduleRevision],
    company: uuid.UUID,
    request: Mapping[str, Any],
    name: str,
    missing: str,
    faults: Faults,
) -> Any:
    """The row whose id stands in the field `name`, None where the field is absent or at fault."""
    id = read_named(request, name, missing, faults)
    if id is None:
        return None
    rows = model.objects.of(company)
    if model is ScheduleRevision:
        rows = rows.defer("source", "openings", "report")
    row = rows.filter(pk=id).first()
    if row is None:
        faults.append(Problem(f"/{name}", "not_found", missing))
    return row


def read_named(request: Mapping[str, Any], name: str, missing: str, faults: Faults) -> uuid.UUID | None:
    """The id in a field; a fault noted for anything that is no id."""
    if name not in request:
        return None
    raw = request[name]
    id = read_id(raw) if isinstance(raw, str) else None
    if id is None:
        code = "not_found" if isinstance(raw, str) else "not_text"
        faults.append(Problem(f"/{name}", code, missing if isinstance(raw, str) else "an id is expected"))
    return id


def read_date(request: Mapping[str, Any]) -> datetime.date | None:
    """The work date, None where it can't be read: the core says why."""
    raw = request.get("work_date")
    try:
        return datetime.date.fromisoformat(raw.strip()) if isinstance(raw, str) and len(raw.strip()) == 10 else None
    except ValueError:
        return None


def read_known_at(request: Mapping[str, Any], now: datetime.datetime, faults: Faults) -> datetime.datetime:
    """The moment whose knowledge of rates counts: now unless the request says an earlier one."""
    raw = request.get("known_at")
    if raw is None:
        return now
    try:
        moment = datetime.datetime.fromisoformat(raw.strip()) if isinstance(raw, str) else None
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        detail = "a time with its zone is expected, such as 2027-03-15T12:00:00Z"
        faults.append(Problem("/known_at", "not_a_time", detail))
        return now
    try:
        moment = moment.astimezone(datetime.UTC)
    except OverflowError:
        faults.append(Problem("/known_at", "not_a_time", "this time is out of any calendar"))
        return now
    if moment > now:
        faults.append(Problem("/known_at", "in_the_future", "nobody knows yet what will be known then"))
    return moment


def find_editions(
    company: uuid.UUID,
    request: Mapping[str, Any],
    work_date: datetime.date | None,
    known_at: datetime.datetime,
    faults: Faults,
) -> Editions | None:
    """The editions that price the request, None with the faults noted."""
    named = [name for name in ("edition", "hold", "rate_book") if name in request]
    if len(named) != 1:
        code, detail = ("missing", "a rate book or an edition is needed")
        if named:
            code, detail = ("edition_or_rate_book", f"give one of edition, hold and rate_book, not {len(named)}")
        faults.append(Problem(f"/{named[-1] if named else 'rate_book'}", code, detail))
        return None
    kind = "rate book" if named[0] == "rate_book" else "edition"
    id = read_named(request, named[0], f"there is no such {kind}", faults)
    if id is None:
        return None
    try:
        if named[0] != "rate_book":
            at = f"/{named[0]}"
            return named_edition(company=company, id=id, pointer=at, work_date=work_date, known_at=known_at)
        if work_date is None:
            return None
        dates = [("/work_date", work_date), *mobilisation_dates(request)]
        return editions_in_force(company=company, rate_book=id, dates=dates, known_at=known_at)
    except Refused as refusal:
        faults.extend(refusal.problems)
        return None
