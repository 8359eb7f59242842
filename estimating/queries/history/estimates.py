"""Entries of estimates: prices made, the editions that first priced them, comparisons with the causes of a change."""

from __future__ import annotations

import uuid
from collections.abc import Iterator, Mapping
from typing import Any

from estimating.models import Comparison, Estimate
from estimating.queries.history.entries import CauseAmount, HistoryEntry, Kind
from estimating.states import RunState
from rates.core.money import print_money
from rates.documents import unpack

Told = Mapping[str, Any]


def estimates(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """Every estimate, by the time it was asked for; a price with its change against the one before."""
    rows = Estimate.objects.of(company).filter(project_id=project).select_related("run", "schedule", "made_by")
    small = rows.defer("request", "schedule__source", "schedule__openings", "schedule__report")
    compared = computed(company, project)
    before: Estimate | None = None
    for row in small.order_by("number"):
        yield tell_estimate(row, before, compared)
        if row.price_minor is not None:
            before = row


def tell_estimate(row: Estimate, before: Estimate | None, compared: Mapping[tuple[Any, Any], Told]) -> HistoryEntry:
    """One estimate."""
    price = row.price_minor
    earlier = before.price_minor if before is not None and before.currency == row.currency else None
    told = compared.get((before.pk, row.pk)) if before is not None else None
    change = price - earlier if price is not None and earlier is not None else None
    return HistoryEntry(
        at=row.created_at,
        kind=Kind.ESTIMATE,
        step=str(row.run.state),
        subject=row.pk,
        number=row.number,
        what=f"work date {row.work_date}" + (f", schedule {row.schedule.number}" if row.schedule is not None else ""),
        who=row.made_by_id,
        who_name=row.made_by.name,
        why="; ".join(problem["detail"] for problem in row.problems or ()),
        drawing_issue=row.schedule.drawing_issue if row.schedule is not None else "",
        currency=row.currency if price is not None else None,
        price=print_money(price, row.currency) if price is not None else None,
        change=None if change is None else print_money(change, row.currency),
        causes=causes_of(told) if told is not None else (),
        digest=row.input_digest or None,
    )


def computed(company: uuid.UUID, project: uuid.UUID) -> dict[tuple[Any, Any], Told]:
    """The newest comparison of each two estimates of the project, by their ids."""
    rows = Comparison.objects.of(company).filter(after__project_id=project).order_by("run_id")
    return {(row.before_id, row.after_id): unpack(row.document) for row in rows if row.document is not None}


def causes_of(document: Told) -> tuple[CauseAmount, ...]:
    """The causes of a comparison."""
    return tuple(CauseAmount(cause["cause"], cause["amount"]) for cause in document["causes"])


def comparisons(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """Every comparison that was computed, with its causes."""
    rows = Comparison.objects.of(company).filter(after__project_id=project, run__state=RunState.COSTED)
    for row in rows.select_related("made_by", "before", "after").defer("before__request", "after__request"):
        assert row.document is not None
        document = unpack(row.document)
        yield HistoryEntry(
            at=row.created_at,
            kind=Kind.COMPARISON,
            step="compared",
            subject=row.pk,
            number=row.after.number,
            what=f"estimate {row.after.number} against {row.before.number or row.before_id}",
            who=row.made_by_id,
            who_name=row.made_by.name,
            currency=document["currency"],
            change=document["change"],
            causes=causes_of(document),
        )


def editions(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """The editions that priced the project, at the first estimate under each; who approved it, and its note."""
    rows = Estimate.objects.of(company).filter(project_id=project).select_related("edition__approved_by")
    seen: set[uuid.UUID] = set()
    for row in rows.defer("request", "edition__document").order_by("number"):
        edition = row.edition
        if edition.pk in seen:
            continue
        seen.add(edition.pk)
        yield HistoryEntry(
            at=row.created_at,
            kind=Kind.EDITION,
            step="used",
            subject=edition.pk,
            number=edition.number,
            what=f"in force from {edition.effective_from}",
            who=edition.approved_by_id,
            who_name=edition.approved_by.name if edition.approved_by is not None else None,
            why=edition.note,
            currency=edition.currency,
            digest=edition.digest,
        )
