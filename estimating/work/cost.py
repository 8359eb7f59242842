"""A run of kind estimate: from the stored request to the stored document."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from estimating import snapshots
from estimating.core.estimate import Estimate as CoreEstimate
from estimating.core.job import Job
from estimating.core.job import cost as cost_job
from estimating.feed import note_change
from estimating.jobs import stored
from estimating.models import Estimate
from estimating.outputs.answer import answer, kept_parts
from estimating.queries.brief import kept_brief
from estimating.queries.estimates import describe
from estimating.work.queue import Claim
from rates.core.exact import read_decimal
from rates.core.fraction import Fraction
from rates.core.money import minor_digits
from rates.core.problems import Problem, Refused
from rates.scope import reads_of

Report = Callable[[int, int, str], None]
MOST_MINOR = 2**63 - 1  # what the column holds
BESIDE = ("checks", "cautions")  # of the document, kept as lists of their own too


@dataclass(frozen=True)
class Costed:
    """What the core knows of the estimate, in JSON's terms."""

    answer: dict[str, Any]
    parts: dict[str, object]
    price_minor: int
    estimate: CoreEstimate


def read_row(claim: Claim) -> Estimate:
    """The estimate's row with what its document names."""
    related = ("run", "project", "schedule", "edition")
    rows = Estimate.objects.of(claim.company).select_related(*related)
    return rows.defer("schedule__source", "schedule__openings", "edition__document").get(pk=claim.run)


def compute(claim: Claim, report: Report, job: Job | None) -> Costed:
    """The costed estimate; Refused."""
    return costed(cost_job(job if job is not None else load(claim), report))


def costed(estimate: CoreEstimate) -> Costed:
    """A costed estimate as it is stored; Refused where its price is too large for that."""
    head = answer(estimate)
    parts = dict(kept_parts(estimate)) | {name: head[name] for name in BESIDE}
    return Costed(head, parts, minor_units(head["totals"]["price"], head["currency"]), estimate)


def load(claim: Claim) -> Job:
    """The stored request as the core understands it; Refused."""
    with reads_of(claim.company):
        request = stored(read_row(claim))
    return request.job()


def minor_units(amount: str, currency: str) -> int:
    """A printed amount in whole minor units; Refused above what can be stored."""
    minor = read_decimal(amount, max_digits=60) * 10 ** minor_digits(currency)
    assert isinstance(minor, Fraction) and minor.denominator == 1
    if abs(minor) > MOST_MINOR:
        raise Refused([Problem("", "price_too_large", "the price is larger than any this service keeps")])
    return int(minor)


def store(claim: Claim, result: Costed, now: datetime.datetime) -> None:
    """Stores the estimate's document and summary, inside the transaction that ends the run."""
    row = read_row(claim)
    row.price_minor = result.price_minor
    row.currency = result.answer["currency"]
    row.openings = result.answer["totals"]["openings"]
    row.input_digest = result.answer["input_digest"]
    row.engine_version = result.answer["engine_version"]
    row.costed_at = now
    changed = ["price_minor", "currency", "openings", "input_digest", "engine_version", "costed_at"]
    row.save(update_fields=changed)
    summary = describe(row, result.answer)
    documents = {snapshots.SUMMARY: summary, snapshots.BEGINNING: snapshots.beginning_of(summary)}
    documents[snapshots.BRIEF] = kept_brief(row, result.estimate, result.parts["hours"])
    snapshots.store(company=claim.company, estimate=claim.run, parts=documents | result.parts)
    note_change(company=claim.company, kind="estimate.costed", subject=claim.run, now=now)


def store_refusal(claim: Claim, refusal: Refused) -> None:
    """Keeps the reasons of a refusal."""
    Estimate.objects.of(claim.company).filter(pk=claim.run).update(
        problems=[
            {"pointer": p.pointer, "code": p.code, "detail": p.detail, "document": p.document} for p in refusal.problems
        ]
    )
