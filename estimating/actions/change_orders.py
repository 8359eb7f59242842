"""Change orders proposed and revised: numbered in their project without a gap, priced from what they are asked by."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.db.models import Max

from estimating.change_pricing import Around, Pricing, around, price
from estimating.change_words import BASES, REVISED, TIME_AND_MATERIAL
from estimating.core.contract import EXPOSED
from estimating.core.notice import last_day
from estimating.feed import note_change
from estimating.models import ChangeOrder, ChangeOrderStep, Quote, QuoteState
from estimating.queries import change_orders as shown
from estimating.queries.projects import require_project
from estimating.queries.quotes import today_of
from estimating.states import ChangeOrderState
from rates.core.problems import Problem, Refused
from rates.documents import pack
from rates.models import Company
from rates.refusals import Conflict, Expected, NotAllowed, NotThere

Said = Mapping[str, Any]
PLAIN = ("title", "description", "directive", "work_date")
NOTICE = ("known_on", "notice_days", "notice_counted", "notice_holidays", "notice_given_on", "notice_reference")


@dataclass(frozen=True)
class Ready:
    """What is said of a change order, priced as far as it gives a price. basis "": it gives none."""

    quote: Quote
    said: Said
    basis: str
    asked: Any
    day: datetime.date | None
    pricing: Pricing | None


def asked_by(said: Said) -> tuple[str, Any]:
    """(what the change is priced by, what stands there); ("", None) for nothing."""
    return next(((name, said[name]) for name in BASES if name in said), ("", None))


def require_costs(basis: str, sees_costs: bool) -> None:
    """NotAllowed for time and material from somebody who may not see costs: its price would tell them."""
    if basis == TIME_AND_MATERIAL and not sees_costs:
        raise NotAllowed("missing_scope", "time and material is priced by who may see costs: an estimator")


def contract_of(company: uuid.UUID, project: uuid.UUID, named: uuid.UUID | None) -> Quote:
    """The awarded quote that is named, or the project's only one; Refused."""
    rows = Quote.objects.of(company).filter(project_id=project, state=QuoteState.AWARDED)
    found = list(rows.filter(pk=named)[:1] if named is not None else rows.order_by("number")[:2])
    if len(found) == 1:
        return contract_row(company, found[0].pk)
    if found:
        raise Refused([Problem("/quote", "missing", "several quotes of this project are awarded; say which one")])
    said = "this project has no such awarded quote" if named is not None else "no quote of this project is awarded yet"
    raise Refused([Problem("/quote", "not_awarded", f"{said}; a change order starts from a contract")])


def contract_row(company: uuid.UUID, id: uuid.UUID) -> Quote:
    """A contract with the estimate that it stands on."""
    row: Quote = Quote.objects.of(company).select_related("estimate").defer("content").get(pk=id)
    return row


def prepare(*, company: uuid.UUID, project: uuid.UUID, said: Said, sees_costs: bool) -> Ready:
    """A new change order made ready; NotThere, NotAllowed, Refused with every fault."""
    require_project(company=company, id=project)
    basis, asked = asked_by(said)
    require_costs(basis, sees_costs)
    quote = contract_of(company, project, said.get("quote"))
    return ready_of(quote, said, basis, asked, said.get("work_date"), around(quote))


def ready_of(quote: Quote, said: Said, basis: str, asked: Any, day: datetime.date | None, found: Around) -> Ready:
    """What is said, with its price."""
    pricing = price(quote, basis, asked, day, found) if basis else None
    return Ready(quote, said, basis, asked, day, pricing)


def priced_now(ready: Ready, apart: uuid.UUID | None) -> Pricing | None:
    """The pricing under the lock: anew where the contract has moved since it was made; Refused."""
    found = around(ready.quote, apart)
    if ready.pricing is None or ready.pricing.around == found:
        return ready.pricing
    return price(ready.quote, ready.basis, ready.asked, ready.day, found)


def put(row: ChangeOrder, said: Said, ready: Ready) -> None:
    """Puts what is said, and its price, into the row; Refused."""
    for name in (*PLAIN, *NOTICE):
        if name in said:
            setattr(row, name, said[name])
    if row.known_on is not None and row.notice_days is not None:
        holidays = frozenset(map(datetime.date.fromisoformat, row.notice_holidays))
        row.notice_due = last_day(row.known_on, row.notice_days, row.notice_counted, holidays)
        if row.notice_given_on is not None and row.notice_given_on < row.known_on:
            raise Refused(
                [Problem("/notice/given_on", "out_of_order", "no notice is given before the change is known")]
            )
    pricing = priced_now(ready, row.pk)
    if pricing is not None:
        row.basis, row.asked, row.comparison_id = ready.basis, plain(ready.asked), pricing.comparison
        row.price_minor, row.pricing = pricing.price_minor, pack(pricing.document())


def plain(asked: Any) -> Any:
    """What a change is priced by, as JSON keeps it."""
    return str(asked) if isinstance(asked, uuid.UUID) else asked


@transaction.atomic
def propose(
    *, company: uuid.UUID, member: uuid.UUID, project: uuid.UUID, ready: Ready, now: datetime.datetime
) -> shown.ChangeOrder:
    """A new change order with the project's next number; Refused where the contract is one no longer.

    The company's row is held until the transaction ends, so that a number is given once and none is left out.
    """
    hold(company)
    if not Quote.objects.of(company).filter(pk=ready.quote.pk, state=QuoteState.AWARDED).exists():
        raise Refused([Problem("/quote", "not_awarded", "this quote is awarded no longer")])
    last = ChangeOrder.objects.of(company).filter(project_id=project).aggregate(last=Max("number"))["last"] or 0
    row = ChangeOrder(
        company_id=company,
        project_id=project,
        quote=ready.quote,
        number=last + 1,
        currency=ready.quote.currency,
        made_by_id=member,
        created_at=now,
    )
    put(row, ready.said, ready)
    row.save(force_insert=True)
    note_step(row, ChangeOrderState.PROPOSED, member, "", now)
    return shown.change_order(company=company, id=row.pk, now=now)


def hold(company: uuid.UUID) -> None:
    """Holds the company's row until the transaction ends: contracts change one after the other."""
    Company.objects.select_for_update().get(pk=company)


def note_step(row: ChangeOrder, step: str, member: uuid.UUID, said: str, now: datetime.datetime) -> None:
    """What was done, in the order's own list and in the company's feed."""
    values = {"step": str(step), "at": now, "by_id": member, "said": said, "price_minor": row.price_minor}
    ChangeOrderStep.objects.add(company=row.company_id, change_order=row, **values)
    note_change(company=row.company_id, kind=f"change_order.{step}", subject=row.pk, now=now)


def lock_order(company: uuid.UUID, id: uuid.UUID, expected: Expected, now: datetime.datetime) -> ChangeOrder:
    """The row, held until the transaction ends, as the caller knows it; NotThere, Stale."""
    hold(company)
    row: ChangeOrder | None = shown.rows_of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    expected.check_start(shown.show_order(row, today_of(company, now)))
    return row


def require_open(row: ChangeOrder) -> None:
    """Conflict for what is agreed or withdrawn."""
    if row.state not in EXPOSED:
        raise Conflict("change_order_state", f"change order {row.number} is {row.state} and stays as it is")


def prepare_revision(*, company: uuid.UUID, id: uuid.UUID, said: Said, sees_costs: bool) -> Ready:
    """A change order's new terms made ready; NotThere, NotAllowed, Conflict, Refused with every fault."""
    row = shown.rows_of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    require_open(row)
    basis, asked = asked_by(said)
    if not basis and "work_date" in said:
        basis, asked = row.basis, row.asked
    require_costs(basis, sees_costs)
    quote = contract_row(company, row.quote_id)
    return ready_of(quote, said, basis, asked, said.get("work_date", row.work_date), around(quote, row.pk))


@transaction.atomic
def revise(
    *, company: uuid.UUID, member: uuid.UUID, id: uuid.UUID, ready: Ready, expected: Expected, now: datetime.datetime
) -> shown.ChangeOrder:
    """The change order with its terms changed, before it is agreed; NotThere, Stale, Conflict, Refused."""
    row = lock_order(company, id, expected, now)
    require_open(row)
    put(row, ready.said, ready)
    row.version += 1
    row.save()
    note_step(row, REVISED, member, "", now)
    return shown.change_order(company=company, id=id, now=now)
