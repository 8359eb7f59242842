"""A run of kind comparison: two stored estimates, costed again for every mix that the causes need."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import Any

from estimating.core.attribution import compare
from estimating.core.job import Job
from estimating.feed import note_change
from estimating.jobs import stored
from estimating.models import Comparison, Estimate
from estimating.outputs.cautions import cautions
from estimating.outputs.check_rows import changed_checks
from estimating.outputs.comparison_answer import comparison_answer
from estimating.work.queue import Claim
from rates.core.problems import Refused
from rates.documents import pack
from rates.queries.companies import length_style
from rates.scope import reads_of

Report = Callable[[int, int, str], None]


def compute(claim: Claim, report: Report, job: Job | None) -> dict[str, Any]:
    """The comparison in JSON's terms; Refused."""
    with reads_of(claim.company):
        row = Comparison.objects.of(claim.company).get(pk=claim.run)
        sides = {e.pk: e for e in Estimate.objects.of(claim.company).filter(pk__in=[row.before_id, row.after_id])}
        before, after = stored(sides[row.before_id]), stored(sides[row.after_id])
    report(0, 1, "comparing")
    comparison = compare(
        before.job(),
        after.job(),
        mode=row.choices["attribution"],
        order=row.choices["order"],
        smooth=row.choices["smooth"],
        decided={(m["before"], m["after"]): m["same"] for m in row.choices.get("matches", ())},
    )
    came_and_went = changed_checks(comparison.before, comparison.after)
    beside = {"checks": came_and_went, "cautions": cautions(comparison.after)}
    return comparison_answer(comparison, length_style(company=claim.company).show) | beside


def store(claim: Claim, result: dict[str, Any], now: datetime.datetime) -> None:
    """Stores the comparison's document, inside the transaction that ends the run."""
    Comparison.objects.of(claim.company).filter(pk=claim.run).update(document=pack(result), compared_at=now)
    note_change(company=claim.company, kind="comparison.costed", subject=claim.run, now=now)


def store_refusal(claim: Claim, refusal: Refused) -> None:
    """Keeps the reasons of a refusal."""
    Comparison.objects.of(claim.company).filter(pk=claim.run).update(
        problems=[
            {"pointer": p.pointer, "code": p.code, "detail": p.detail, "document": p.document} for p in refusal.problems
        ]
    )
