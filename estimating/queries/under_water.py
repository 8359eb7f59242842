"""Issued quotes whose price would not cover the cost of the work any more, were an edition in force."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass

from estimating.jobs import mobilisation_dates
from estimating.models import Quote, QuoteState
from estimating.outputs.documents.scalars import Money
from estimating.outputs.quotes.prepared import read_prepared
from estimating.queries.impact import MOST_LINES, UNAPPROVED, book_of, costed_under, uses
from estimating.queries.quotes import today_of
from estimating.quoting import costs_of
from rates import models as rates
from rates.cards import book_chain, editions_in_force
from rates.core.money import print_money
from rates.core.problems import Refused
from rates.documents import unpack
from rates.refusals import NotThere

MOST_QUOTES = 100  # priced again while somebody waits, those that hold longest first


@dataclass(frozen=True)
class QuoteUnderWater:
    """A quote that is out. margin: price less what it has to cover, as quoted and under the edition."""

    quote: uuid.UUID
    number: int
    customer: str
    valid_until: datetime.date
    currency: str
    price: Money
    margin_before: Money
    margin: Money


@dataclass(frozen=True)
class QuotesUnderWater:
    """Those found, and how many quotes that are out were not looked at: too many, too long, or not to be costed."""

    quotes: list[QuoteUnderWater]
    not_looked_at: int


def quotes_under_water(*, company: uuid.UUID, edition: uuid.UUID, now: datetime.datetime) -> QuotesUnderWater:
    """The quotes under water were the edition approved now, or as it is in force; NotThere."""
    draft = rates.Edition.objects.of(company).select_related("rate_book").filter(pk=edition).first()
    if draft is None:
        raise NotThere
    bottom = book_chain(company, draft.rate_book_id)[0]
    out = Quote.objects.of(company).filter(state=QuoteState.ISSUED, valid_until__gte=today_of(company, now))
    out = out.filter(estimate__edition__rate_book=bottom).order_by("-valid_until", "-number")
    rows = out.filter(estimate__run__total__lte=MOST_LINES).select_related("estimate__run").defer("content")
    looked_at = list(rows[:MOST_QUOTES])
    found, passed_over = [], out.count() - len(looked_at)
    for row in looked_at:
        try:
            margin = margin_under(company, row, draft, now)
        except Refused:
            margin, passed_over = None, passed_over + 1
        if margin is not None and margin < 0:
            found.append(told(row, margin))
    return QuotesUnderWater(found, passed_over)


def margin_under(company: uuid.UUID, row: Quote, draft: rates.Edition, now: datetime.datetime) -> int | None:
    """What the price leaves under the edition, minor units; None where that does not price the work; Refused.

    Held rates hold for the customer alone: the work costs what it costs on its day.
    """
    request = unpack(row.estimate.request)
    if "hold" in request:
        request = {**request, "edition": request.pop("hold")}
    dates = [("/work_date", row.estimate.work_date), *mobilisation_dates(request)]
    assumed = draft if draft.state in UNAPPROVED else None
    book = book_of(company, request, row.estimate)
    editions = editions_in_force(company=company, rate_book=book, dates=dates, known_at=now, draft=assumed)
    if not uses(editions, draft):
        return None
    costs = costs_of(costed_under(row.estimate, request, editions))
    return costs.margin_minor(row.price_minor)


def told(row: Quote, margin: int) -> QuoteUnderWater:
    """A quote with its margin under the edition."""
    before = read_prepared(unpack(row.prepared)).costs.margin_minor(row.price_minor)
    return QuoteUnderWater(
        quote=row.pk,
        number=row.number or 0,
        customer=row.customer_name,
        valid_until=row.valid_until,
        currency=row.currency,
        price=print_money(row.price_minor, row.currency),
        margin_before=print_money(before, row.currency),
        margin=print_money(margin, row.currency),
    )
