"""Entries of quotes: drafted, issued, and how they ended."""

from __future__ import annotations

import uuid
from collections.abc import Iterator

from estimating.models import Quote, QuoteFile, QuoteState
from estimating.queries.history.entries import HistoryEntry, Kind
from rates.core.money import print_money

LETTER = "letter.pdf"


def quotes(company: uuid.UUID, project: uuid.UUID) -> Iterator[HistoryEntry]:
    """Every step of every quote; the price is the customer's, that of an award with its alternates."""
    rows = Quote.objects.of(company).filter(project_id=project).defer("prepared", "content")
    letters = QuoteFile.objects.of(company).filter(quote__project_id=project, name=LETTER)
    digests = dict(letters.values_list("quote_id", "digest"))
    related = ("made_by", "issued_by", "closed_by", "estimate__schedule")
    big = ("request", "schedule__source", "schedule__openings", "schedule__report")
    for row in rows.select_related(*related).defer(*(f"estimate__{name}" for name in big)):
        yield from steps(row, digests.get(row.pk))


def steps(row: Quote, digest: str | None) -> Iterator[HistoryEntry]:
    """The steps of one quote."""
    taken = (
        ("drafted", row.created_at, row.made_by, row.basis_reason),
        ("issued", row.issued_at, row.issued_by, row.approval_reason),
        (row.state, row.closed_at, row.closed_by, row.close_reason),
    )
    schedule = row.estimate.schedule
    for step, at, who, why in taken:
        if at is None:
            continue
        yield HistoryEntry(
            at=at,
            kind=Kind.QUOTE,
            step=str(step),
            subject=row.pk,
            number=row.number,
            what=f"to {row.customer_name}, valid until {row.valid_until}",
            who=who.pk if who is not None else None,
            who_name=who.name if who is not None else None,
            why=why,
            drawing_issue=schedule.drawing_issue if schedule is not None else "",
            currency=row.currency,
            price=print_money(row.awarded_minor if step == QuoteState.AWARDED else row.price_minor, row.currency),
            digest=digest if step != QuoteState.DRAFTED else None,
        )
