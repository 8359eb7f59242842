"""The assumptions of a costed estimate, made from what it was costed from when they are asked for."""

from __future__ import annotations

import uuid

from estimating.core.estimate import Estimate
from estimating.core.job import Job, cost
from estimating.core.scope import priced_quantities
from estimating.jobs import Stored, stored
from estimating.models import Estimate as EstimateRow
from estimating.models import ScheduleRevision
from estimating.outputs.assumptions.item import Assumption, Basis
from estimating.outputs.assumptions.listing import assumptions
from estimating.outputs.assumptions.of_reading import settled_in
from rates.core.length_styles import LengthStyle
from rates.documents import unpack
from rates.queries.companies import length_style


def assumption_rows(*, company: uuid.UUID, id: uuid.UUID) -> list[dict[str, object]]:
    """Every assumption of a costed estimate, what to look at first standing first, lengths in the company's style."""
    row = EstimateRow.objects.of(company).get(pk=id)
    return [item.row() for item in found_assumptions(company=company, row=row)]


def found_assumptions(*, company: uuid.UUID, row: EstimateRow) -> list[Assumption]:
    """The assumptions of a costed estimate's row."""
    told = stored(row)
    job = told.job()
    return assumed_by(company=company, told=told, schedule=row.schedule_id, job=job, estimate=cost(job))


def assumed_by(
    *, company: uuid.UUID, told: Stored, schedule: uuid.UUID | None, job: Job, estimate: Estimate
) -> list[Assumption]:
    """The assumptions of an estimate that has just been costed from what is told."""
    style = length_style(company=company)
    cards = tuple(zip(told.editions, job.cards, strict=True))
    reading = of_revision(company, schedule, estimate, style)
    return assumptions(Basis(told.request, cards, estimate, style.show, reading))


def of_revision(
    company: uuid.UUID, schedule: uuid.UUID | None, estimate: Estimate, style: LengthStyle
) -> list[Assumption]:
    """What the reading of a schedule revision settled; nothing for inline openings."""
    if schedule is None:
        return []
    report = ScheduleRevision.objects.of(company).values_list("report", flat=True).get(pk=schedule)
    return (
        []
        if report is None
        else settled_in(unpack(report), priced_quantities(estimate.request.schedule.lines), style.show)
    )
