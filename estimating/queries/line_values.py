"""What the opening lines of a schedule or an estimate say field by field, lengths in the company's style."""

from __future__ import annotations

import uuid

from estimating.intake.line_values import SaidOf, line_values
from estimating.jobs import schedule_openings
from estimating.models import Estimate
from rates.documents import unpack
from rates.queries.companies import length_style
from rates.refusals import NotThere


def of_schedule(*, company: uuid.UUID, id: uuid.UUID) -> list[SaidOf]:
    """What the priced lines of a stored schedule say."""
    rows, unit = schedule_openings(company=company, id=id)
    return line_values(rows, unit, show=length_style(company=company).show, only_external=False)


def of_estimate(*, company: uuid.UUID, id: uuid.UUID) -> list[SaidOf]:
    """What the priced lines of an estimate say, of a stored schedule or inline; NotThere."""
    row = Estimate.objects.of(company).filter(pk=id).only("request", "schedule", "company").first()
    if row is None:
        raise NotThere
    request = unpack(row.request)
    if row.schedule_id is not None:
        rows, unit = schedule_openings(company=company, id=row.schedule_id)
    else:
        rows, unit = list(request["openings"]), request.get("openings_length_unit") or ""
    show, external = length_style(company=company).show, request.get("only_external") is True
    return line_values(rows, request.get("length_unit") or unit, show=show, only_external=external)
