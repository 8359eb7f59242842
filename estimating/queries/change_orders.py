"""Change orders as they are shown: one, those of a project with what its contracts come to, notices that are due."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from django.db.models import QuerySet

from estimating.change_words import DUE, GIVEN, GIVEN_LATE, OVERDUE
from estimating.core.contract import EXPOSED, Counted
from estimating.models import ChangeOrder as Row
from estimating.models import ChangeOrderStep
from estimating.outputs.documents.change_orders import (
    Basis,
    ChangeLine,
    Directive,
    FrozenEdition,
    Notice,
    NoticeState,
    State,
    TakenStep,
    TicketStep,
)
from estimating.outputs.documents.scalars import Money
from estimating.queries.projects import require_project
from estimating.queries.quotes import today_of
from rates.core.money import print_money
from rates.documents import unpack
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere


@dataclass(frozen=True)
class ChangeOrder:
    """One change order. price is the customer's; contract and exposure are where it counts, by its state.

    build_up: of time and material, from cost to price, for who may see costs.
    """

    id: uuid.UUID
    number: int
    project: uuid.UUID
    quote: uuid.UUID
    quote_number: int
    state: State
    title: str
    description: str
    directive: Directive | None
    notice: Notice | None
    notice_due: datetime.date | None  # the last day on which it may be given
    notice_state: NoticeState | None
    work_date: datetime.date | None
    basis: Basis | None
    comparison: uuid.UUID | None
    edition: FrozenEdition | None
    currency: str
    price: Money | None
    contract: Money
    exposure: Money
    lines: list[ChangeLine]
    build_up: list[TicketStep]
    steps: list[TakenStep]
    made_by: uuid.UUID
    created_at: datetime.datetime
    version: int

    @property
    def tag(self) -> str:
        """Moves with every change; its last part also with the day."""
        return f"{self.id.hex}-{self.version}-{self.notice_state or 'none'}"


@dataclass(frozen=True)
class ChangeOrderLine:
    """One change order in a list. contract: what it adds to the contract; exposure: what it would add."""

    id: uuid.UUID
    number: int
    quote: uuid.UUID
    quote_number: int
    state: State
    title: str
    basis: Basis | None
    currency: str
    price: Money | None
    contract: Money
    exposure: Money
    notice_due: datetime.date | None
    notice_state: NoticeState | None
    work_date: datetime.date | None
    created_at: datetime.datetime


@dataclass(frozen=True)
class DueNotice:
    """A notice that has to be given, and whether its last day is past."""

    change_order: uuid.UUID
    number: int
    project: uuid.UUID
    project_name: str
    title: str
    state: State
    notice_due: datetime.date
    overdue: bool


def rows_of(company: uuid.UUID) -> QuerySet[Row]:
    """Change orders with the number of their contract."""
    small = ("prepared", "content")
    return Row.objects.of(company).select_related("quote").defer(*(f"quote__{name}" for name in small))


def notice_state(row: Row, today: datetime.date) -> str | None:
    """Whether notice was given in time, is due or overdue; None where none is counted."""
    if row.notice_due is None:
        return None
    if row.notice_given_on is not None:
        return GIVEN if row.notice_given_on <= row.notice_due else GIVEN_LATE
    return DUE if today <= row.notice_due else OVERDUE


def show_notice(row: Row) -> Notice | None:
    """The notice of a change order, as a change of it is written."""
    if row.notice_due is None:
        return None
    assert row.known_on is not None and row.notice_days is not None
    given = row.notice_given_on
    return Notice(
        known_on=row.known_on.isoformat(),
        days=row.notice_days,
        counted=row.notice_counted,
        holidays=row.notice_holidays,
        given_on=given.isoformat() if given is not None else None,
        reference=row.notice_reference,
    )


def money(minor: int | None, currency: str) -> str | None:
    """An amount as printed, None without one."""
    return None if minor is None else print_money(minor, currency)


def show_priced(line: Mapping[str, Any], currency: str) -> ChangeLine:
    """A kept line as it is shown."""
    return ChangeLine(
        title=line["title"],
        mark=line.get("mark"),
        quantity=line["quantity"],
        unit=line["unit"],
        unit_price=money(line.get("unit_minor"), currency),
        price=print_money(line["price_minor"], currency),
        cost=money(line.get("cost_minor"), currency),
        rate=line.get("rate"),
    )


def show_steps(row: Row) -> list[TakenStep]:
    """What was done with a change order, the first first."""
    rows = ChangeOrderStep.objects.of(row.company_id).filter(change_order=row).select_related("by").order_by("at", "id")
    return [
        TakenStep(
            step=x.step,
            at=x.at.astimezone(datetime.UTC).isoformat().replace("+00:00", "Z"),
            by=str(x.by_id),
            by_name=x.by.name,
            said=x.said,
            price=money(x.price_minor, row.currency),
        )
        for x in rows
    ]


def show_order(row: Row, today: datetime.date) -> ChangeOrder:
    """A change order's row as shown on a day."""
    counted, currency = Counted(row.state, row.price_minor), row.currency
    nothing: dict[str, Any] = {"lines": (), "build_up": (), "edition": None}
    pricing = unpack(row.pricing) if row.pricing is not None else nothing
    built = [
        TicketStep(step=x["step"], title=x["title"], amount=print_money(x["amount_minor"], currency))
        for x in pricing["build_up"]
    ]
    return ChangeOrder(
        id=row.pk,
        number=row.number,
        project=row.project_id,
        quote=row.quote_id,
        quote_number=cast(int, row.quote.number),  # numbered before it was awarded
        state=row.state,
        title=row.title,
        description=row.description,
        directive=row.directive,
        notice=show_notice(row),
        notice_due=row.notice_due,
        notice_state=notice_state(row, today),
        work_date=row.work_date,
        basis=row.basis or None,
        comparison=row.comparison_id,
        edition=pricing["edition"],
        currency=currency,
        price=money(row.price_minor, currency),
        contract=print_money(counted.contract_minor, currency),
        exposure=print_money(counted.exposure_minor, currency),
        lines=[show_priced(line, currency) for line in pricing["lines"]],
        build_up=built,
        steps=show_steps(row),
        made_by=row.made_by_id,
        created_at=row.created_at,
        version=row.version,
    )


def change_order(*, company: uuid.UUID, id: uuid.UUID, now: datetime.datetime) -> ChangeOrder:
    """One change order; NotThere."""
    row = rows_of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_order(row, today_of(company, now))


def change_orders(
    *, company: uuid.UUID, project: uuid.UUID, wanted: Wanted, now: datetime.datetime, state: str | None = None
) -> Page[ChangeOrderLine]:
    """The change orders of a project by number; NotThere."""
    require_project(company=company, id=project)
    today = today_of(company, now)
    rows = rows_of(company).filter(project_id=project).defer("pricing")
    if state is not None:
        rows = rows.filter(state=state)
    orderings = {"number": "number", "created_at": "id"}
    return page(rows, wanted, orderings=orderings, show=lambda row: show_line(row, today))


def show_line(row: Row, today: datetime.date) -> ChangeOrderLine:
    """A change order's row as a line of a list."""
    counted = Counted(row.state, row.price_minor)
    return ChangeOrderLine(
        id=row.pk,
        number=row.number,
        quote=row.quote_id,
        quote_number=cast(int, row.quote.number),  # numbered before it was awarded
        state=row.state,
        title=row.title,
        basis=row.basis or None,
        currency=row.currency,
        price=money(row.price_minor, row.currency),
        contract=print_money(counted.contract_minor, row.currency),
        exposure=print_money(counted.exposure_minor, row.currency),
        notice_due=row.notice_due,
        notice_state=notice_state(row, today),
        work_date=row.work_date,
        created_at=row.created_at,
    )


def notices_due(*, company: uuid.UUID, wanted: Wanted, now: datetime.datetime) -> Page[DueNotice]:
    """Open change orders of the company whose notice is not given, the next due first."""
    today = today_of(company, now)
    rows = Row.objects.of(company).filter(state__in=EXPOSED, notice_due__isnull=False, notice_given_on=None)
    rows = rows.select_related("project").defer("pricing")
    return page(rows, wanted, orderings={"notice_due": "notice_due"}, show=lambda row: show_due(row, today))


def show_due(row: Row, today: datetime.date) -> DueNotice:
    """A change order whose notice has to be given."""
    assert row.notice_due is not None
    return DueNotice(
        change_order=row.pk,
        number=row.number,
        project=row.project_id,
        project_name=row.project.name,
        title=row.title,
        state=row.state,
        notice_due=row.notice_due,
        overdue=row.notice_due < today,
    )
