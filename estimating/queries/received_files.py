"""The files of a project as they were received, each with the newest revision that answers and edits made of it."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Sequence
from dataclasses import dataclass

from estimating.queries.projects import Schedule, schedules
from rates.paging import Wanted

MOST_REVISIONS = 500  # looked through, the newest first


@dataclass(frozen=True)
class ReceivedFile:
    """A file: the revision that it was received as, the newest one read from it, and how many were made between."""

    first: Schedule
    newest: Schedule
    changes: int

    @property
    def received(self) -> datetime.datetime:
        """When the file came."""
        return self.first.created_at


def received_files(*, company: uuid.UUID, project: uuid.UUID) -> tuple[ReceivedFile, ...]:
    """The files of a project, that of the newest revision first; NotThere."""
    wanted = Wanted(MOST_REVISIONS, None, "-revision")
    return fold(schedules(company=company, project=project, wanted=wanted).items)


def received_file(*, company: uuid.UUID, schedule: Schedule) -> ReceivedFile:
    """The file that a revision was read from."""
    if schedule.answers_of is None:
        return ReceivedFile(schedule, schedule, 0)
    wanted = Wanted(MOST_REVISIONS, None, "-revision")
    found = schedules(company=company, project=schedule.project, wanted=wanted).items
    upto = [one for one in found if one.revision <= schedule.revision]
    return next((one for one in fold(upto) if one.newest.id == schedule.id), ReceivedFile(schedule, schedule, 0))


def fold(revisions: Sequence[Schedule]) -> tuple[ReceivedFile, ...]:
    """Revisions, the newest first, under the files that answers and edits made them of."""
    known = {one.id: one for one in revisions}
    groups: dict[uuid.UUID, list[Schedule]] = {}
    for one in revisions:
        first = one
        while first.answers_of in known:
            first = known[first.answers_of]
        groups.setdefault(first.id, []).append(one)
    return tuple(ReceivedFile(group[-1], group[0], len(group) - 1) for group in groups.values())
