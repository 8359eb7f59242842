"""What an edition would do: every open estimate, its price as costed and its price under the edition.

Open is the latest costed estimate of each project whose bid has not ended, and each estimate of no project. A draft is
taken as approved now; an estimate that names an edition is priced as if it named the book; one that holds an edition
stays as it is.
"""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce

from estimating.core.estimate import Estimate as Costed
from estimating.core.job import cost, read_request
from estimating.jobs import for_core, mobilisation_dates, schedule_openings
from estimating.models import CLOSED, Estimate, Quote, QuoteState
from estimating.outputs.documents.scalars import Money
from estimating.states import ProjectState
from rates import models as rates
from rates.cards import Editions, book_chain, editions_in_force
from rates.core.money import print_money
from rates.core.problems import Refused
from rates.documents import unpack
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere

MOST_LINES = 20_000  # of an estimate that is priced again while somebody waits
UNAPPROVED = ("draft", "submitted")


@dataclass(frozen=True)
class Impact:
    """One open estimate under the edition: `outlook` changed, unchanged, not_priced_by_it, held, refused or large."""

    estimate: uuid.UUID
    project: uuid.UUID | None
    number: int | None
    work_date: datetime.date
    currency: str
    outlook: str
    old_price: Money
    new_price: Money | None
    change: Money | None
    reason: str | None


def open_estimates(company: uuid.UUID, bottom: rates.RateBook) -> QuerySet[Estimate]:
    """The open estimates that are priced from a company's book, whatever layers lie on it."""
    later = Estimate.objects.of(company).filter(
        project=OuterRef("project"), number__gt=OuterRef("number"), costed_at__isnull=False
    )
    rows = Estimate.objects.of(company).filter(costed_at__isnull=False, edition__rate_book=bottom)
    rows = rows.filter(Q(project=None) | ~Exists(later)).exclude(project__state=ProjectState.ARCHIVED)
    standing = rows.alias(bid=standing_state(company)).exclude(bid__in=CLOSED)
    return standing.select_related("run", "edition").defer("edition__document")


def standing_state(company: uuid.UUID) -> Coalesce:
    """The state of the quote that a project's bid stands by, as the overview has it; blank without any."""
    quotes = Quote.objects.of(company).filter(project=OuterRef("project")).order_by("-id").values("state")
    held = quotes.filter(state__in=(QuoteState.ISSUED, QuoteState.AWARDED))
    return Coalesce(Subquery(held[:1]), Subquery(quotes.exclude(state=QuoteState.SUPERSEDED)[:1]), Value(""))


def impact(*, company: uuid.UUID, edition: uuid.UUID, now: datetime.datetime, wanted: Wanted) -> Page[Impact]:
    """A page of the open estimates with old and new price; NotThere."""
    draft = rates.Edition.objects.of(company).select_related("rate_book").filter(pk=edition).first()
    if draft is None:
        raise NotThere
    bottom = book_chain(company, draft.rate_book_id)[0]
    rows = open_estimates(company, bottom)
    orderings = {"created_at": "run_id", "work_date": "work_date"}
    return page(rows, wanted, orderings=orderings, show=lambda row: foresee(company, row, draft, now))


def foresee(company: uuid.UUID, row: Estimate, draft: rates.Edition, now: datetime.datetime) -> Impact:
    """One estimate's price as costed, and under the edition."""
    request = unpack(row.request)
    if "hold" in request:
        return told(row, "held", None, None)
    book = book_of(company, request, row)
    dates = [("/work_date", row.work_date), *mobilisation_dates(request)]
    try:
        assumed = draft if draft.state in UNAPPROVED else None
        editions = editions_in_force(company=company, rate_book=book, dates=dates, known_at=now, draft=assumed)
    except Refused as refused:
        return told(row, "refused", None, refused.problems[0].detail)
    if not uses(editions, draft):
        return told(row, "not_priced_by_it", None, None)
    if row.run.total > MOST_LINES:
        return told(row, "large", None, f"it has more than {MOST_LINES} lines; estimate it again to see")
    try:
        price = costed_under(row, request, editions).up.price_minor
    except Refused as refused:
        return told(row, "refused", None, refused.problems[0].detail)
    return told(row, "unchanged" if price == row.price_minor else "changed", price, None)


def book_of(company: uuid.UUID, request: dict[str, Any], row: Estimate) -> uuid.UUID:
    """The rate book that a stored request is priced from."""
    if "rate_book" in request:
        return uuid.UUID(str(request["rate_book"]))
    named = uuid.UUID(str(request["edition"]))
    book: uuid.UUID = rates.Edition.objects.of(company).values_list("rate_book_id", flat=True).get(pk=named)
    return book


def uses(editions: Editions, draft: rates.Edition) -> bool:
    """Whether the edition is among those that would price the work."""
    return any(layer.id == str(draft.pk) for source in editions.sources for layer in source.chain())


def costed_under(row: Estimate, request: dict[str, Any], editions: Editions) -> Costed:
    """The estimate of a row's request under these editions; Refused."""
    openings, unit = request.get("openings"), ""
    if row.schedule_id is not None:
        openings, unit = schedule_openings(company=row.company_id, id=row.schedule_id)
    return cost(read_request(for_core(request, openings, unit), editions.sources))


def told(row: Estimate, outlook: str, price: int | None, reason: str | None) -> Impact:
    """The estimate with its outlook; `price` in minor units."""
    old = row.price_minor or 0
    return Impact(
        estimate=row.pk,
        project=row.project_id,
        number=row.number,
        work_date=row.work_date,
        currency=row.currency,
        outlook=outlook,
        old_price=print_money(old, row.currency),
        new_price=None if price is None else print_money(price, row.currency),
        change=None if price is None else print_money(price - old, row.currency),
        reason=reason,
    )
