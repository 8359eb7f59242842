"""Quotes drafted and changed before they are issued."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from estimating.core.margins import discounted
from estimating.models import Estimate, Project, Quote, QuoteState, ScheduleRevision
from estimating.outputs.quotes.prepared import Prepared
from estimating.outputs.quotes.texts import LISTS, carried, chosen, picked
from estimating.queries import quotes as shown
from estimating.queries.quote_texts import quote_texts
from estimating.quoting import find_costed, prepare_own
from rates.core.exact import read_decimal
from rates.core.problems import Problem, Refused
from rates.documents import pack
from rates.models import Member
from rates.refusals import Conflict, Expected, NotThere

MOST_DAYS = 366
PLAIN = ("customer", "valid_until", "terms", "note", "discount_percent", "basis", "basis_reason")
APPROVED = ("customer", "valid_until", "price_minor", "basis")  # what an approval is of
Changes = Mapping[str, Any]


@dataclass(frozen=True)
class Ready:
    """A quote that can be drafted: what it is made from, and what it says."""

    row: Estimate
    prepared: Prepared
    said: Changes
    replaces: Quote | None = None


def role_of(company: uuid.UUID, member: uuid.UUID) -> str:
    """The role of a member: who may offer what is the member's, whichever key it uses."""
    return str(Member.objects.of(company).values_list("role", flat=True).get(pk=member))


def prepare(*, company: uuid.UUID, estimate: uuid.UUID, said: Changes, now: datetime.datetime) -> Ready:
    """A quote at an estimate's price made ready; Refused with every fault."""
    row = find_costed(company, estimate, "/estimate")
    prepared = prepare_own(company=company, row=row, pointer="/estimate")
    return Ready(row, prepared, said)


def check_said(company: uuid.UUID, row: Quote, said: Changes, today: datetime.date) -> None:
    """Puts what is said into the quote; Refused with every fault."""
    faults: list[Problem] = []
    kept = quote_texts(company=company).document
    for name in PLAIN:
        if name in said:
            setattr(row, name, said[name])
    if "customer" in said:
        row.customer_name = said["customer"]["name"]
    for name in LISTS:
        if name in said:
            row.texts = row.texts | {name: chosen(kept, said[name], f"/{name}", faults)}
    if "addenda" in said:
        row.addenda = [read_addendum(company, row, a, f"/addenda/{i}", faults) for i, a in enumerate(said["addenda"])]
    if "valid_until" in said and not 0 <= (row.valid_until - today).days <= MOST_DAYS:
        faults.append(Problem("/valid_until", "out_of_range", f"a day of the next {MOST_DAYS} is expected"))
    prepared = shown.prepared_of(row)
    offer = prepared.offer(row.basis)
    if offer is None or offer.price_minor is None:
        known = ", ".join(o.basis for o in prepared.offers if o.price_minor is not None)
        faults.append(Problem("/basis", "not_offered", offer.why if offer else f"one of {known} is expected"))
    if faults:
        raise Refused(faults)
    assert offer is not None and offer.price_minor is not None
    row.price_minor = discounted(offer.price_minor, read_decimal(row.discount_percent))


def read_addendum(
    company: uuid.UUID, row: Quote, said: Mapping[str, Any], pointer: str, faults: list[Problem]
) -> dict[str, Any]:
    """An addendum as it is kept; one that names its schedule revision brings the marks that it changed."""
    marks: Sequence[str] = said["marks"] or ()
    revision = said["schedule"]
    if revision is not None:
        rows = ScheduleRevision.objects.of(company).filter(pk=revision)
        if row.project_id is None or not rows.filter(project_id=row.project_id).exists():
            faults.append(Problem(f"{pointer}/schedule", "not_found", "this project has no such revision"))
        else:
            marks = tuple(dict.fromkeys((*marks, *shown.marks_brought(company=company, revision=revision))))
    return {
        "name": said["name"],
        "acknowledged_on": said["acknowledged_on"].isoformat(),
        "schedule": str(revision) if revision is not None else None,
        "marks": list(marks),
    }


@transaction.atomic
def draft(*, company: uuid.UUID, member: uuid.UUID, ready: Ready, now: datetime.datetime) -> shown.Quote:
    """A new quote, not yet offered to anybody; Refused with every fault of what it says."""
    kept, today = quote_texts(company=company), shown.today_of(company, now)
    before, row = ready.replaces, ready.row
    if row.project_id is not None and not Project.objects.of(company).filter(pk=row.project_id).exists():
        raise NotThere
    quote = Quote(
        company_id=company,
        project_id=row.project_id,
        estimate=row,
        replaces=before,
        customer={},
        customer_name="",
        valid_until=today + datetime.timedelta(days=kept.validity_days),
        terms=kept.terms if before is None else before.terms,
        texts=texts_for(kept.document, before, ready.prepared.facts),
        addenda=[] if before is None else before.addenda,
        basis=ready.prepared.offers[0].basis,
        discount_percent="0" if before is None else before.discount_percent,
        currency=row.currency,
        price_minor=0,
        prepared=pack(ready.prepared.document()),
        made_by_id=member,
        created_at=now,
    )
    check_said(company, quote, ready.said, today)
    quote.save(force_insert=True)
    return shown.quote(company=company, id=quote.pk, role=role_of(company, member), now=now)


def texts_for(document: Changes, before: Quote | None, facts: Sequence[str]) -> dict[str, list[dict[str, Any]]]:
    """The texts of a new quote: what its estimate calls for, on another drawing with what was chosen before."""
    if before is None:
        return dict(picked(document, facts))
    return carried(document, before.texts, shown.prepared_of(before).facts, facts)


def lock_quote(company: uuid.UUID, id: uuid.UUID) -> Quote:
    """The quote's row, held until the transaction ends; NotThere."""
    if Quote.objects.of(company).select_for_update().filter(pk=id).defer(*shown.BIG).first() is None:
        raise NotThere
    return shown.rows_of(company).get(pk=id)


def require(row: Quote, *states: str) -> None:
    """Conflict unless the quote is in one of the states."""
    if row.state not in states:
        said = f"quote {row.number}" if row.number else "this quote"
        raise Conflict("quote_state", f"{said} is {row.state.replace('_', ' ')} and stays as it is")


@transaction.atomic
def change(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    id: uuid.UUID,
    changes: Changes,
    expected: Expected,
    now: datetime.datetime,
) -> shown.Quote:
    """The draft with what it says changed, an approval of what it said before taken away; NotThere, Stale, Conflict."""
    role, row = role_of(company, member), lock_quote(company, id)
    expected.check_start(shown.show_quote(row, role=role, now=now))
    require(row, QuoteState.DRAFTED)
    before = [getattr(row, name) for name in APPROVED]
    check_said(company, row, changes, shown.today_of(company, now))
    if [getattr(row, name) for name in APPROVED] != before:
        row.approved_by_id = row.approved_at = None
        row.approval_reason = ""
    row.version += 1
    row.save()
    return shown.show_quote(row, role=role, now=now)


@transaction.atomic
def approve(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    id: uuid.UUID,
    reason: str | None,
    expected: Expected,
    now: datetime.datetime,
) -> shown.Quote:
    """The draft approved as it stands, for this quote alone; without a reason the approval is taken back."""
    role, row = role_of(company, member), lock_quote(company, id)
    expected.check_start(shown.show_quote(row, role=role, now=now))
    require(row, QuoteState.DRAFTED)
    row.approved_by_id, row.approved_at = (member, now) if reason else (None, None)
    row.approval_reason = reason or ""
    row.version += 1
    row.save(update_fields=["approved_by", "approved_at", "approval_reason", "version"])
    return shown.show_quote(row, role=role, now=now)
