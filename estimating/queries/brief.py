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
    """Worker-hours as printed; the openings by what lines say of access; answers by the code of the question.

    answers: of questions that ask what a remark of the estimate tells, where none of them is open.
    """

    paid: str
    setup: str
    idle: str
    access: tuple[Said, ...]
    answers: Mapping[str, Sequence[str]]


def brief(*, company: uuid.UUID, id: uuid.UUID) -> Brief:
    """What stands beside a costed estimate's document; NotThere."""
    kept = snapshots.read_bytes(company=company, estimate=id, name=snapshots.BRIEF)
    found = orjson.loads(kept) if kept is not None else made_anew(company, id)
    access = tuple(Said(value, openings) for value, openings in found["access"])
    return Brief(found["paid"], found["setup"], found["idle"], access, found["answers"])


def kept_brief(row: Estimate, costed: Costed, hours: Any) -> dict[str, Any]:
    """The same of an estimate just costed, as it is kept; hours: its part of that name."""
    said = openings_by_access(costed.request.schedule)
    answers = answers_to(row.company_id, row.schedule_id, {one.code for one in costed.remarks})
    return shown(hours, said, answers)


def made_anew(company: uuid.UUID, id: uuid.UUID) -> dict[str, Any]:
    """The same of an estimate that was costed before it was kept."""
    hours = snapshots.read_bytes(company=company, estimate=id, name="hours")
    summary = snapshots.read_summary(company=company, estimate=id)
    assert hours is not None and summary is not None, "the estimate is costed"
    document = orjson.loads(summary)
    said = next((one.values for one in line_values.of_estimate(company=company, id=id) if one.field == "access"), ())
    schedule = uuid.UUID(document["schedule"]["id"]) if document["schedule"] else None
    return shown(orjson.loads(hours), said, answers_to(company, schedule, {one["code"] for one in document["remarks"]}))


def shown(hours: Mapping[str, Any], access: Sequence[Said], answers: Mapping[str, Sequence[str]]) -> dict[str, Any]:
    """The values in JSON's terms."""
    told = [[one.value, one.openings] for one in access]
    return {name: hours[name] for name in HOURS} | {"access": told, "answers": answers}


def answers_to(company: uuid.UUID, schedule: uuid.UUID | None, remarks: Collection[str]) -> dict[str, list[str]]:
    """What the schedule's answers say to the doubts that an estimate's remarks tell, by their codes."""
    codes = {SAME_DOUBT[code] for code in remarks if code in SAME_DOUBT}
    return received(company=company, id=schedule).answers_to(codes) if schedule is not None and codes else {}
