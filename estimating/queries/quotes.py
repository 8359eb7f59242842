"""Quotes as they are shown: a draft with what keeps it from being issued, an issued one as it was sent."""

from __future__ import annotations

import datetime
import hashlib
import uuid
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from django.db.models import QuerySet

from estimating.intake.revisions import compare_revisions, read_revision
from estimating.models import Quote as QuoteRow
from estimating.models import QuoteFile, QuoteState, ScheduleRevision
from estimating.outputs.documents.scalars import Money, Percent
from estimating.outputs.quotes.prepared import Prepared, read_prepared
from estimating.outputs.quotes.said import AcknowledgedAddendum, QuotedCustomer, QuoteText
from estimating.queries.quote_blocks import Block, blocks, limit_of, standing_of
from rates.core.exact import print_quantity
from rates.core.money import print_money
from rates.documents import unpack
from rates.models import Company
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere

BIG = ("prepared", "content")
STATES = tuple(QuoteState.values)
BASES = ("estimate", "held", "today", "blend")  # what a price stands on; the first of a quote that replaces none


@dataclass(frozen=True)
class Offered:
    """One price that the quote could stand on, and how it differs from that of today's rates."""

    basis: str
    price: Money | None
    given_away: Money | None  # today's price less this one; None where there is no other
    reason: str | None  # why there is none


@dataclass(frozen=True)
class Approval:
    """The principal's word for one quote as it stands."""

    by: uuid.UUID
    at: datetime.datetime
    reason: str


@dataclass(frozen=True)
class SentFile:
    """A document of an issued quote."""

    name: str
    digest: str


@dataclass(frozen=True)
class Quote:
    """One quote. price is what the customer pays; discount is taken off price_before_discount."""

    id: uuid.UUID
    number: int | None
    state: str
    project: uuid.UUID | None
    estimate: uuid.UUID
    replaces: uuid.UUID | None
    customer: QuotedCustomer
    valid_until: datetime.date
    currency: str
    price: Money
    price_before_discount: Money
    discount: Money
    discount_percent: Percent
    discount_limit: Percent | None  # of the role that asks, in percent
    basis: str
    basis_reason: str
    offers: tuple[Offered, ...]
    inclusions: list[QuoteText]
    exclusions: list[QuoteText]
    clarifications: list[QuoteText]
    addenda: list[AcknowledgedAddendum]
    terms: str
    note: str
    blocks: tuple[Block, ...]  # of a draft: what keeps it from being issued
    margin: Money | None
    margin_percent: Percent | None
    approval: Approval | None
    documents: tuple[SentFile, ...]
    made_by: uuid.UUID
    created_at: datetime.datetime
    issued_by: uuid.UUID | None
    issued_at: datetime.datetime | None
    closed_by: uuid.UUID | None
    closed_at: datetime.datetime | None
    close_reason: str
    competing_price: Money | None
    accepted_alternates: list[str]  # taken with the award
    alternates_price: Money | None  # what they add to the price
    awarded_price: Money | None  # what was awarded: the price with what the alternates add; none unless awarded
    version: int

    @property
    def tag(self) -> str:
        """Moves with every change; its last part also with what others do around it."""
        around = hashlib.sha256(repr((self.state, self.blocks, self.discount_limit)).encode()).hexdigest()[:8]
        return f"{self.id.hex}-{self.version}-{around}"


@dataclass(frozen=True)
class QuoteLine:
    """One quote in a list."""

    id: uuid.UUID
    number: int | None
    state: str
    project: uuid.UUID | None
    estimate: uuid.UUID
    replaces: uuid.UUID | None
    customer: str
    currency: str
    price: Money
    awarded_price: Money | None  # of one that is awarded: its price with what the alternates taken with it add
    basis: str
    valid_until: datetime.date
    created_at: datetime.datetime
    issued_at: datetime.datetime | None
    closed_at: datetime.datetime | None


def today_of(company: uuid.UUID, now: datetime.datetime) -> datetime.date:
    """The day in the company's time zone."""
    zone = Company.objects.values_list("time_zone", flat=True).get(pk=company)
    return now.astimezone(ZoneInfo(zone)).date()


def state_of(row: QuoteRow, today: datetime.date) -> str:
    """The state of a quote on a day: an issued one expires after its last day."""
    past = row.state == QuoteState.ISSUED and row.valid_until < today
    return str(QuoteState.EXPIRED if past else row.state)


def rows_of(company: uuid.UUID) -> QuerySet[QuoteRow]:
    """Quotes with all that decides about them."""
    big = ("request", "schedule__source", "schedule__openings", "schedule__report")
    return (
        QuoteRow.objects.of(company)
        .select_related("estimate__schedule", "estimate__run", "replaces", "project")
        .defer("content", "replaces__prepared", "replaces__content", *(f"estimate__{name}" for name in big))
    )


def prepared_of(row: QuoteRow) -> Prepared:
    """What a quote was made from."""
    return read_prepared(unpack(row.prepared))


def show_quote(row: QuoteRow, *, role: str, now: datetime.datetime) -> Quote:
    """A quote's row as shown to somebody of a role."""
    prepared = prepared_of(row)
    standing = standing_of(company=row.company_id, row=row, prepared=prepared, role=role, now=now)
    drafted = row.state == QuoteState.DRAFTED
    full = standing.offer.price_minor or 0
    margin = prepared.costs.margin_percent(row.price_minor)
    files = QuoteFile.objects.of(row.company_id).filter(quote=row).order_by("name").values_list("name", "digest")
    return Quote(
        id=row.pk,
        number=row.number,
        state=state_of(row, standing.today),
        project=row.project_id,
        estimate=row.estimate_id,
        replaces=row.replaces_id,
        customer=row.customer,
        valid_until=row.valid_until,
        currency=row.currency,
        price=print_money(row.price_minor, row.currency),
        price_before_discount=print_money(full, row.currency),
        discount=print_money(full - row.price_minor, row.currency),
        discount_percent=row.discount_percent,
        discount_limit=limit_of(standing.company, role),
        basis=row.basis,
        basis_reason=row.basis_reason,
        offers=show_offers(prepared, row.currency),
        inclusions=row.texts["inclusions"],
        exclusions=row.texts["exclusions"],
        clarifications=row.texts["clarifications"],
        addenda=row.addenda,
        terms=row.terms,
        note=row.note,
        blocks=blocks(standing) if drafted else (),
        margin=None if margin is None else print_money(prepared.costs.margin_minor(row.price_minor), row.currency),
        margin_percent=None if margin is None else print_quantity(margin, 2),
        approval=show_approval(row),
        documents=tuple(SentFile(*found) for found in files) if not drafted else (),
        made_by=row.made_by_id,
        created_at=row.created_at,
        issued_by=row.issued_by_id,
        issued_at=row.issued_at,
        closed_by=row.closed_by_id,
        closed_at=row.closed_at,
        close_reason=row.close_reason,
        competing_price=None if row.competing_minor is None else print_money(row.competing_minor, row.currency),
        accepted_alternates=row.accepted["names"] if row.accepted else [],
        alternates_price=print_money(row.accepted["adds_minor"], row.currency) if row.accepted else None,
        awarded_price=awarded_price(row),
        version=row.version,
    )


def awarded_price(row: QuoteRow) -> str | None:
    """What was awarded, alternates included; None for a quote that is not awarded."""
    return print_money(row.awarded_minor, row.currency) if row.state == QuoteState.AWARDED else None


def show_approval(row: QuoteRow) -> Approval | None:
    """The principal's approval, None without one."""
    if row.approved_at is None or row.approved_by_id is None:
        return None
    return Approval(row.approved_by_id, row.approved_at, row.approval_reason)


def show_offers(prepared: Prepared, currency: str) -> tuple[Offered, ...]:
    """The prices that a quote could stand on, beside each other."""
    today = prepared.offer("today")
    found = []
    for offer in prepared.offers:
        price, now = offer.price_minor, today.price_minor if today is not None else None
        given = print_money(now - price, currency) if now is not None and price is not None else None
        text = print_money(price, currency) if price is not None else None
        found.append(Offered(offer.basis, text, given, offer.why or None))
    return tuple(found)


def quote(*, company: uuid.UUID, id: uuid.UUID, role: str, now: datetime.datetime) -> Quote:
    """One quote; NotThere."""
    row = rows_of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_quote(row, role=role, now=now)


def quotes(
    *,
    company: uuid.UUID,
    wanted: Wanted,
    now: datetime.datetime,
    state: str | None = None,
    project: uuid.UUID | None = None,
) -> Page[QuoteLine]:
    """The company's quotes, of one state or one project where that is asked for."""
    today = today_of(company, now)
    rows = QuoteRow.objects.of(company).defer(*BIG)
    if project is not None:
        rows = rows.filter(project_id=project)
    if state == QuoteState.EXPIRED:
        rows = rows.filter(state=QuoteState.ISSUED, valid_until__lt=today)
    elif state == QuoteState.ISSUED:
        rows = rows.filter(state=state, valid_until__gte=today)
    elif state is not None:
        rows = rows.filter(state=state)
    orderings = {"created_at": "id", "valid_until": "valid_until", "customer": "customer_name"}
    return page(rows, wanted, orderings=orderings, show=lambda row: show_line(row, today))


def show_line(row: QuoteRow, today: datetime.date) -> QuoteLine:
    """A quote's row as a line of a list."""
    return QuoteLine(
        id=row.pk,
        number=row.number,
        state=state_of(row, today),
        project=row.project_id,
        estimate=row.estimate_id,
        replaces=row.replaces_id,
        customer=row.customer_name,
        currency=row.currency,
        price=print_money(row.price_minor, row.currency),
        awarded_price=awarded_price(row),
        basis=row.basis,
        valid_until=row.valid_until,
        created_at=row.created_at,
        issued_at=row.issued_at,
        closed_at=row.closed_at,
    )


def marks_brought(*, company: uuid.UUID, revision: uuid.UUID) -> tuple[str, ...]:
    """The marks of a schedule revision that differ from those of the drawing issue before it; all, without one."""
    row = ScheduleRevision.objects.of(company).defer("source", "report").get(pk=revision)
    earlier = ScheduleRevision.objects.of(company).filter(project_id=row.project_id, number__lt=row.number)
    before = earlier.exclude(drawing_issue=row.drawing_issue).defer("source", "report").order_by("-number").first()
    new = read_revision(list(unpack(row.openings)), row.length_unit)
    if before is None:
        return tuple(dict.fromkeys(line.mark for line in new.schedule.lines))
    old = read_revision(list(unpack(before.openings)), before.length_unit)
    changed = compare_revisions(old, new).lines
    return tuple(dict.fromkeys(line.mark for line in changed if line.after is not None and line.classes != ("source",)))
