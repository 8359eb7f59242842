"""The few values that pages show beside an estimate's document, kept apart so that a large estimate is quick to show.

They are kept when the estimate is costed; of one that was costed before they were, they are made anew.
"""

from __future__ import annotations

import uuid
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import orjson

from estimating import snapshots
from estimating.core.estimate import Estimate as Costed
from estimating.intake.line_values import Said, openings_by_access
from estimating.models import Estimate
from estimating.queries import line_values
from estimating.queries.intake import received

HOURS = ("paid", "setup", "idle")
SAME_DOUBT = {  # a remark of an estimate -> the question on a schedule that asks the same
    "duplicate_line": "duplicate_line",
    "door_all_sides": "door_sides",
    "access_unknown": "access_missing",
}


@dataclass(frozen=True)
class Brief:
    """Worker-hours as printed, and answers by the code of the question.

    answers: of questions that ask what a remark of the estimate tells, where none of them is open.
    """

    paid: str
    setup: str
    idle: str
    answers: Mapping[str, Sequence[str]]


def brief(*, company: uuid.UUID, id: uuid.UUID, document: Mapping[str, Any]) -> Brief:
    """What the price's page shows beside the document of a costed estimate."""
    found = kept_values(company, id)
    if found is None:
        hours = snapshots.read_bytes(company=company, estimate=id, name="hours")
        assert hours is not None, "the estimate is costed"
        schedule = uuid.UUID(document["schedule"]["id"]) if document["schedule"] else None
        found = orjson.loads(hours)
        found["answers"] = answers_to(company, schedule, {one["code"] for one in document["remarks"]})
    return Brief(found["paid"], found["setup"], found["idle"], found["answers"])


def access_said(*, company: uuid.UUID, id: uuid.UUID) -> tuple[Said, ...]:
    """The openings of a costed estimate by what its lines say of access; NotThere."""
    found = kept_values(company, id)
    if found is not None:
        return tuple(Said(value, openings) for value, openings in found["access"])
    return next((one.values for one in line_values.of_estimate(company=company, id=id) if one.field == "access"), ())


def kept_values(company: uuid.UUID, id: uuid.UUID) -> dict[str, Any] | None:
    """The values as they are kept; None of an estimate that was costed before they were."""
    kept = snapshots.read_bytes(company=company, estimate=id, name=snapshots.BRIEF)
    return None if kept is None else dict(orjson.loads(kept))


def kept_brief(row: Estimate, costed: Costed, hours: Any) -> dict[str, Any]:
    """The values of an estimate just costed, to be kept; hours: its part of that name."""
    access = [[one.value, one.openings] for one in openings_by_access(costed.request.schedule)]
    answers = answers_to(row.company_id, row.schedule_id, {one.code for one in costed.remarks})
    return {name: hours[name] for name in HOURS} | {"access": access, "answers": answers}


def answers_to(company: uuid.UUID, schedule: uuid.UUID | None, remarks: Collection[str]) -> dict[str, list[str]]:
    """What the schedule's answers say to the doubts that an estimate's remarks tell, by their codes."""
    codes = {SAME_DOUBT[code] for code in remarks if code in SAME_DOUBT}
    return received(company=company, id=schedule).answers_to(codes) if schedule is not None and codes else {}
