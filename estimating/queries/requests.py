"""What an estimate was asked for with, for asking alike again."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from estimating.models import Estimate
from rates.documents import unpack
from rates.refusals import NotThere

MOST_LIKE = 100
APART = ("openings", "schedule", "project", "known_at")


@dataclass(frozen=True)
class Like:
    """An estimate that another may be asked for like, by its project's name and its number."""

    id: uuid.UUID
    project: str
    number: int | None


def request_of(*, company: uuid.UUID, id: uuid.UUID) -> dict[str, Any]:
    """The request of an estimate without its openings and place; NotThere."""
    body = Estimate.objects.of(company).filter(pk=id).values_list("request", flat=True).first()
    if body is None:
        raise NotThere
    return {name: value for name, value in dict(unpack(body)).items() if name not in APART}


def like_jobs(*, company: uuid.UUID) -> list[Like]:
    """The newest costed estimate of each project, the newest first: jobs to copy site and crew from."""
    rows = Estimate.objects.of(company).filter(costed_at__isnull=False, project__isnull=False).order_by("-run_id")
    found: dict[uuid.UUID, Like] = {}
    for id, project, name, number in rows.values_list("pk", "project_id", "project__name", "number")[: MOST_LIKE * 10]:
        found.setdefault(project, Like(id, name, number))
    return list(found.values())[:MOST_LIKE]
