"""What a company has out: open bids with value and margin by state, and how its quotes of the last year ended.

One price of a bid counts: that of the quote which a customer holds, else of the draft, else of the estimate.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import OuterRef

from estimating.core.margins import Costs
from estimating.models import CLOSED, Estimate, Project, Quote, QuoteState
from estimating.outputs.documents.scalars import Money, Percent
from estimating.queries.bids_due import latest
from estimating.queries.quotes import BIG, state_of
from estimating.quoting import costs_told
from estimating.snapshots import read_summaries
from estimating.states import ProjectState
from rates.core.exact import print_quantity, read_decimal
from rates.core.fraction import Fraction
from rates.core.money import print_money, read_money
from rates.models import Company

MOST_BIDS, MOST_ENDED = 500, 200
YEAR = datetime.timedelta(days=365)
UNPRICED, COSTED = "not_priced", "costed"  # states of a bid without a quote; the others are the quote's
STATES = (QuoteState.ISSUED, QuoteState.EXPIRED, QuoteState.DRAFTED, COSTED, UNPRICED)


@dataclass(frozen=True)
class OpenBid:
    """One bid. below_floor: its margin is under the company's least."""

    project: uuid.UUID
    name: str
    number: str
    state: str
    customer: str
    quote: uuid.UUID | None
    quote_number: int | None
    estimate: uuid.UUID | None
    due_at: datetime.datetime | None
    due_zone: str
    overdue: bool
    currency: str
    value: Money | None
    crew_days: str | None
    margin: Money | None
    margin_percent: Percent | None
    below_floor: bool


@dataclass(frozen=True)
class StateSum:
    """All open bids of one state in one currency."""

    state: str
    currency: str
    bids: int
    value: Money
    margin: Money
    margin_percent: Percent | None


@dataclass(frozen=True)
class EndedQuote:
    """A quote that was awarded or not. price: what was awarded, alternates included, else that quoted.

    difference: the price less the competing one.
    """

    quote: uuid.UUID
    number: int | None
    state: str
    customer: str
    project: uuid.UUID | None
    name: str
    closed_at: datetime.datetime
    currency: str
    price: Money
    competing_price: Money | None
    difference: Money | None
    reason: str


@dataclass(frozen=True)
class EndSum:
    """How the quotes in one currency ended; won: percent of their count, and of their value."""

    currency: str
    awarded: int
    awarded_value: Money
    not_awarded: int
    not_awarded_value: Money
    won_percent: Percent
    won_value_percent: Percent | None


@dataclass(frozen=True)
class Overview:
    """All of it. is_whole, ends_whole: False where only the newest are told."""

    bids: tuple[OpenBid, ...]
    sums: tuple[StateSum, ...]
    is_whole: bool
    ended: tuple[EndedQuote, ...]
    ends: tuple[EndSum, ...]
    ends_whole: bool
    since: datetime.date


@dataclass(frozen=True)
class Priced:
    """A bid with the exact amounts that sums are made of."""

    bid: OpenBid
    minor: int | None
    costs: Costs | None


def overview(*, company: uuid.UUID, now: datetime.datetime) -> Overview:
    """The company's bids and ends; five queries whatever it has."""
    settings = Company.objects.get(pk=company)
    today = now.astimezone(ZoneInfo(settings.time_zone)).date()
    rows = open_projects(company)
    told = price_bids(company, settings, rows[:MOST_BIDS], now)
    ended = ended_quotes(company, now - YEAR)
    bids = sorted(told, key=lambda one: (STATES.index(one.bid.state), one.bid.name))
    return Overview(
        bids=tuple(one.bid for one in bids),
        sums=tuple(sums_of(bids)),
        is_whole=len(rows) <= MOST_BIDS,
        ended=tuple(show_end(row) for row in ended[:MOST_ENDED]),
        ends=tuple(ends_of(ended[:MOST_ENDED])),
        ends_whole=len(ended) <= MOST_ENDED,
        since=today - YEAR,
    )


def open_projects(company: uuid.UUID) -> Sequence[Any]:
    """The newest open projects, each with its latest costed estimate."""
    costed = Estimate.objects.of(company).filter(project=OuterRef("pk"), costed_at__isnull=False)
    rows = Project.objects.of(company).filter(state=ProjectState.OPEN).annotate(last_costed=latest(costed, "-number"))
    return list(rows.order_by("-id")[: MOST_BIDS + 1])


def price_bids(
    company: uuid.UUID, settings: Company, rows: Sequence[Any], now: datetime.datetime
) -> list[Priced]:  # fmt: skip
    """The bids among the projects that are not ended yet, with their prices."""
    today = now.astimezone(ZoneInfo(settings.time_zone)).date()
    by_project: dict[uuid.UUID | None, list[Quote]] = {}
    quotes = Quote.objects.of(company).filter(project__in=[row.pk for row in rows]).exclude(state=QuoteState.SUPERSEDED)
    for quote in quotes.defer(*BIG).order_by("-id"):
        by_project.setdefault(quote.project_id, []).append(quote)
    standing = [(row, standing_quote(by_project.get(row.pk, ()))) for row in rows]
    left = [(row, quote) for row, quote in standing if quote is None or quote.state not in CLOSED]
    ids = {quote.estimate_id if quote else row.last_costed for row, quote in left} - {None}
    documents = read_summaries(company=company, estimates=ids)
    return [price_bid(row, quote, documents, settings, today, now) for row, quote in left]


def standing_quote(quotes: Sequence[Quote]) -> Quote | None:
    """The quote that a bid stands by: one that the customer holds or has taken, else the newest; None without any."""
    held = [one for one in quotes if one.state in (QuoteState.ISSUED, QuoteState.AWARDED)]
    return next(iter((*held, *quotes)), None)


def price_bid(
    row: Any,
    quote: Quote | None,
    documents: Mapping[uuid.UUID, Any],
    settings: Company,
    today: datetime.date,
    now: datetime.datetime,
) -> Priced:
    """One bid with its price and what that has to cover."""
    estimate = quote.estimate_id if quote is not None else row.last_costed
    document = documents.get(estimate)
    costs = costs_told(document) if document is not None else None
    currency = document["currency"] if document is not None else settings.currency
    minor = None
    if document is not None:
        minor = quote.price_minor if quote is not None else read_money(document["totals"]["price"], currency)
    margin = costs.margin_percent(minor) if costs is not None and minor is not None else None
    floor = settings.margin_floor
    below = bool(floor and costs is not None and minor is not None and not costs.reaches(minor, read_decimal(floor)))
    bid = OpenBid(
        project=row.pk,
        name=row.name,
        number=row.number,
        state=state_of(quote, today) if quote is not None else COSTED if estimate is not None else UNPRICED,
        customer=quote.customer_name if quote is not None else "",
        quote=quote.pk if quote is not None else None,
        quote_number=quote.number if quote is not None else None,
        estimate=estimate,
        due_at=row.due_at,
        due_zone=row.due_zone or settings.time_zone,
        overdue=row.due_at is not None and row.due_at < now,
        currency=currency,
        value=print_money(minor, currency) if minor is not None else None,
        crew_days=document["totals"]["crew_days"] if document is not None else None,
        margin=print_money(costs.margin_minor(minor), currency) if costs is not None and minor is not None else None,
        margin_percent=None if margin is None else print_quantity(margin, 2),
        below_floor=below,
    )
    return Priced(bid, minor, costs)


def sums_of(bids: Iterable[Priced]) -> list[StateSum]:
    """The bids of each state and currency together."""
    groups: dict[tuple[str, str], list[Priced]] = {}
    for one in bids:
        groups.setdefault((one.bid.state, one.bid.currency), []).append(one)
    return [sum_of(state, currency, group) for (state, currency), group in groups.items()]


def sum_of(state: str, currency: str, bids: Sequence[Priced]) -> StateSum:
    """Some bids together."""
    value = sum(one.minor or 0 for one in bids)
    costs = sum((one.costs for one in bids if one.costs is not None), Costs(0, 0))
    margin = costs.margin_percent(value)
    return StateSum(
        state,
        currency,
        len(bids),
        print_money(value, currency),
        print_money(costs.margin_minor(value), currency),
        None if margin is None else print_quantity(margin, 2),
    )


def ended_quotes(company: uuid.UUID, since: datetime.datetime) -> list[Quote]:
    """The quotes that ended since then, the newest end first."""
    rows = Quote.objects.of(company).filter(state__in=CLOSED, closed_at__gte=since).select_related("project")
    return list(rows.defer(*BIG).order_by("-closed_at", "-id")[: MOST_ENDED + 1])


def show_end(row: Quote) -> EndedQuote:
    """How one quote ended."""
    other, currency = row.competing_minor, row.currency
    assert row.closed_at is not None
    return EndedQuote(
        quote=row.pk,
        number=row.number,
        state=row.state,
        customer=row.customer_name,
        project=row.project_id,
        name=row.project.name if row.project is not None else "",
        closed_at=row.closed_at,
        currency=currency,
        price=print_money(row.stands_minor, currency),
        competing_price=None if other is None else print_money(other, currency),
        difference=None if other is None else print_money(row.stands_minor - other, currency),
        reason=row.close_reason,
    )


def ends_of(rows: Sequence[Quote]) -> list[EndSum]:
    """How many were won and lost, and for how much, in each currency."""
    currencies = sorted({row.currency for row in rows})
    return [end_of(currency, [row for row in rows if row.currency == currency]) for currency in currencies]


def end_of(currency: str, rows: Sequence[Quote]) -> EndSum:
    """The ends in one currency together."""
    won = [row.awarded_minor for row in rows if row.state == QuoteState.AWARDED]
    lost = [row.price_minor for row in rows if row.state == QuoteState.NOT_AWARDED]
    value = sum(won) + sum(lost)
    return EndSum(
        currency,
        len(won),
        print_money(sum(won), currency),
        len(lost),
        print_money(sum(lost), currency),
        print_quantity(Fraction(100 * len(won), len(rows)), 1),
        print_quantity(Fraction(100 * sum(won), value), 1) if value else None,
    )
