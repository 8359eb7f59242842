"""The assumptions of a costed estimate, made from what it was costed from when they are asked for."""

from __future__ import annotations

import uuid

from estimating.core.estimate import Estimate
from estimating.core.job import cost
from estimating.core.scope import priced_quantities
from estimating.jobs import stored
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
    told = stored(row)
    job, style = told.job(), length_style(company=company)
    estimate = cost(job)
    cards = tuple(zip(told.editions, job.cards, strict=True))
    reading = of_revision(company, row.schedule_id, estimate, style)
    return [item.row() for item in assumptions(Basis(told.request, cards, estimate, style.show, reading))]


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
