"""What a crew did, told for a day, a zone and a step; told wrongly, it is withdrawn with a reason."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from django.db import transaction

from estimating.core.job_progress import SET_UP, ZoneTarget
from estimating.models import JobRecord as Row
from estimating.queries import job_records as shown
from estimating.queries.estimates import require_costed
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Refused
from rates.refusals import Conflict, Expected, NotThere

MOST_AHEAD = datetime.timedelta(days=1)  # the day may have begun on site while it has not in UTC


@dataclass(frozen=True)
class Told:
    """A record as it is told. hours: paid worker-hours, whole hundredths; counts: (mark, openings)."""

    estimate: uuid.UUID
    day: datetime.date
    zone: int
    step: str
    hours: Fraction
    counts: Sequence[tuple[str, int]] = ()
    note: str = ""


@dataclass(frozen=True)
class Ready:
    """A record that fits its estimate, and the zone that it is about."""

    told: Told
    zone: ZoneTarget


def prepare(*, company: uuid.UUID, told: Told, now: datetime.datetime) -> Ready:
    """The record read against the zones of its estimate; Conflict until costed, Refused."""
    require_estimate(company, told.estimate)
    faults: list[Problem] = []
    ready = read_against(shown.targets(company, told.estimate).zones, told, now, faults)
    if ready is None:
        raise Refused(faults)
    return ready


def prepare_rows(*, company: uuid.UUID, id: uuid.UUID, told: Sequence[Told], now: datetime.datetime) -> list[Ready]:
    """The rows of a table, each a record of one mark at most; NotThere, Conflict until costed, Refused."""
    require_costed(company, id)
    zones, faults, found = shown.targets(company, id).zones, list[Problem](), list[Ready]()
    for place, one in enumerate(told):
        of_row: list[Problem] = []
        ready = read_against(zones, one, now, of_row)
        faults += [replace(x, pointer=f"/items/{place}{x.pointer.replace('/counts/0', '')}") for x in of_row]
        found += [] if ready is None else [ready]
    if faults:
        raise Refused(faults)
    return found


def read_against(
    zones: Sequence[ZoneTarget], told: Told, now: datetime.datetime, faults: list[Problem]
) -> Ready | None:
    """The record with its zone, or None with what does not fit noted."""
    zone = next((zone for zone in zones if zone.number == told.zone), None)
    if zone is None:
        faults.append(Problem("/zone", "not_found", f"this estimate has no zone {told.zone}"))
        return None
    own = list(faults_of(told, zone, now))
    faults += own
    return None if own else Ready(told, zone)


def require_estimate(company: uuid.UUID, id: uuid.UUID) -> None:
    """Conflict unless the estimate that a body names is costed; Refused where there is none."""
    try:
        require_costed(company, id)
    except NotThere:
        raise Refused([Problem("/estimate", "not_found", "there is no such estimate")]) from None


def faults_of(told: Told, zone: ZoneTarget, now: datetime.datetime) -> Iterator[Problem]:
    """What of a record does not fit its zone."""
    if told.day > (now + MOST_AHEAD).date():
        yield Problem("/day", "in_future", "this day is yet to come")
    if told.step != SET_UP and told.step not in zone.steps:
        steps = ", ".join(step.replace("_", " ") for step in (*zone.steps, SET_UP))
        yield Problem("/step", "not_here", f"the steps of this zone are {steps}")
        return
    if not told.hours and not any(openings for _, openings in told.counts):
        yield Problem("/hours", "empty", "nothing was done: give hours, or openings")
    here = {mark.mark: mark.openings for mark in zone.marks if told.step in dict(mark.steps)}
    seen = set[str]()
    for place, (mark, openings) in enumerate(told.counts):
        if not openings:
            continue
        if told.step == SET_UP:
            yield Problem(f"/counts/{place}", "not_counted", "set-up has hours and no openings")
        elif mark not in here:
            yield Problem(f"/counts/{place}/mark", "not_found", f"this zone has no {mark} that takes this step")
        elif mark in seen:
            yield Problem(f"/counts/{place}/mark", "given_twice", f"{mark} is counted twice")
        elif openings > here[mark]:
            detail = f"there are {here[mark]} of {mark} in this zone"
            yield Problem(f"/counts/{place}/openings", "too_many", detail)
        seen.add(mark)


@transaction.atomic
def write(
    *, company: uuid.UUID, member: uuid.UUID, ready: Ready, now: datetime.datetime, link: uuid.UUID | None = None
) -> shown.JobRecord:
    """The record stored; link: by which it came."""
    told = ready.told
    row = Row.objects.add(
        company=company,
        estimate_id=told.estimate,
        day=told.day,
        zone=told.zone,
        elevation=ready.zone.elevation[:200],
        storey=ready.zone.storey[:200],
        step=told.step,
        hundredths=int(told.hours * 100),
        counts=[[mark, openings] for mark, openings in told.counts if openings],
        note=told.note,
        link_id=link,
        made_by_id=member,
        created_at=now,
    )
    return shown.show_record(row)


@transaction.atomic
def withdraw(
    *, company: uuid.UUID, member: uuid.UUID, id: uuid.UUID, reason: str, expected: Expected, now: datetime.datetime
) -> shown.JobRecord:
    """The record, which counts no more; NotThere, Stale, Conflict for one that is withdrawn."""
    row = Row.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise NotThere
    expected.check(shown.show_record(row))
    if row.withdrawn_at is not None:
        raise Conflict("withdrawn", "this record is withdrawn already")
    row.withdrawn_at, row.withdrawn_by_id, row.withdrawn_reason = now, member, reason
    row.save()
    return shown.show_record(row)
