"""A quote issued: numbered without a gap under a lock, and frozen with all that it stands on."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from estimating.actions.quotes import lock_quote, require, role_of
from estimating.awards import Accepted
from estimating.feed import note_change
from estimating.models import ChangeOrder, Quote, QuoteFile, QuoteState
from estimating.outputs.printed.letters_shown import not_shown
from estimating.outputs.quotes.files import SentDocument, sent_documents
from estimating.outputs.quotes.letter import Letter
from estimating.outputs.quotes.letter_document import letter_document
from estimating.queries import quotes as shown
from estimating.queries.quote_content import changes_of, frozen, letter_of
from estimating.states import ChangeOrderState
from rates.core.money import read_money
from rates.core.problems import Problem, Refused, Unreadable
from rates.documents import pack
from rates.models import Company
from rates.refusals import Conflict, Expected

LONG_LETTER = 200  # lines


@dataclass(frozen=True)
class Drawn:
    """A letter that was laid out before the lock, by the number that is likely next, and its documents."""

    letter: Letter
    documents: tuple[SentDocument, ...]


def draw_ahead(*, company: uuid.UUID, id: uuid.UUID, now: datetime.datetime) -> Drawn | None:
    """The documents of a long letter, so that nobody waits for them under the lock; None of a short one."""
    row = shown.rows_of(company).filter(pk=id, state=QuoteState.DRAFTED).first()
    if row is None or len(shown.prepared_of(row).lines) < LONG_LETTER:
        return None
    row.number = Company.objects.values_list("last_quote", flat=True).get(pk=company) + 1
    letter = letter_of(company=company, row=row, now=now)
    if not_shown(letter_document(letter).texts()):
        return None
    return Drawn(letter, tuple(sent_documents(letter, changes_of(company=company, row=row, letter=letter))))


@transaction.atomic
def issue(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    id: uuid.UUID,
    expected: Expected,
    now: datetime.datetime,
    drawn: Drawn | None = None,
) -> shown.Quote:
    """The quote as it goes to the customer; Refused with everything that keeps it from that, NotThere, Stale, Conflict.

    The company's row is held until the transaction ends, so that a number is given once and none is left out.
    """
    settings = Company.objects.select_for_update().get(pk=company)
    role, row = role_of(company, member), lock_quote(company, id)
    seen = shown.show_quote(row, role=role, now=now)
    expected.check_start(seen)
    require(row, QuoteState.DRAFTED)
    if seen.blocks:
        raise Refused([Problem("", b.code, f"{b.sentence} ({b.who})") for b in seen.blocks])
    settings.last_quote += 1
    settings.save(update_fields=["last_quote"])
    row.number, row.state = settings.last_quote, QuoteState.ISSUED
    row.issued_by_id, row.issued_at = member, now
    row.version += 1
    letter = letter_of(company=company, row=row, now=now)
    row.content = pack(frozen(company=company, row=row, letter=letter))
    row.save()
    if drawn is not None and drawn.letter == letter:
        keep(row, drawn.documents)
    else:
        keep(row, sent_documents(letter, changes_of(company=company, row=row, letter=letter)))
    supersede(row)
    note_change(company=company, kind="quote.issued", subject=row.pk, now=now)
    return shown.show_quote(row, role=role, now=now)


def keep(row: Quote, documents: Iterable[SentDocument]) -> None:
    """Stores the documents of a quote, byte for byte."""
    for document in documents:
        QuoteFile.objects.add(
            company=row.company_id,
            quote=row,
            name=document.name,
            file_name=document.file_name,
            media_type=document.media_type,
            digest=document.digest,
            content=document.content,
        )


def supersede(row: Quote) -> None:
    """The quote that this one replaces binds no longer."""
    if row.replaces_id is not None:
        before = lock_quote(row.company_id, row.replaces_id)
        if before.state == QuoteState.ISSUED:
            before.state, before.version = QuoteState.SUPERSEDED, before.version + 1
            before.save(update_fields=["state", "version"])


@transaction.atomic
def award(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    id: uuid.UUID,
    reason: str,
    expected: Expected,
    now: datetime.datetime,
    accepted: Accepted | None = None,
) -> shown.Quote:
    """The quote that the customer has taken, accepted: what `awards.accept` gave.

    NotThere, Stale, Conflict for one that is not open.
    """
    role, row = role_of(company, member), lock_quote(company, id)
    seen = shown.show_quote(row, role=role, now=now)
    expected.check_start(seen)
    require(row, QuoteState.ISSUED)
    if seen.state == QuoteState.EXPIRED:
        raise Conflict("expired", f"quote {row.number} was valid until {row.valid_until}; re-quote it")
    return end(row, QuoteState.AWARDED, member, {"close_reason": reason, "accepted": accepted}, role, now)


@transaction.atomic
def close(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    id: uuid.UUID,
    reason: str,
    competing_price: str | None,
    expected: Expected,
    now: datetime.datetime,
) -> shown.Quote:
    """The quote that the customer has not taken, with why; an award is corrected in the same way.

    competing_price: in the quote's currency, if it is known. NotThere, Stale; Refused where it is no amount.
    """
    role, row = role_of(company, member), lock_quote(company, id)
    try:
        competing_minor = None if competing_price is None else read_money(competing_price, row.currency)
    except Unreadable as why:
        raise Refused([Problem("/competing_price", why.code, why.detail)]) from None
    expected.check_start(shown.show_quote(row, role=role, now=now))
    require(row, QuoteState.ISSUED, QuoteState.AWARDED)
    if ChangeOrder.objects.of(company).filter(quote=row).exclude(state=ChangeOrderState.WITHDRAWN).exists():
        detail = f"quote {row.number} is a contract with change orders; withdraw those that are not agreed first"
        raise Conflict("has_change_orders", detail)
    ended = {"close_reason": reason, "competing_minor": competing_minor}
    return end(row, QuoteState.NOT_AWARDED, member, ended, role, now)


def end(
    row: Quote, state: QuoteState, member: uuid.UUID, values: dict[str, Any], role: str, now: datetime.datetime
) -> shown.Quote:
    """The quote in a state that it came to."""
    row.state, row.closed_by_id, row.closed_at = state, member, now
    for name, value in values.items():
        setattr(row, name, value)
    row.version += 1
    row.save(update_fields=["state", "closed_by", "closed_at", "version", *values])
    note_change(company=row.company_id, kind=f"quote.{state}", subject=row.pk, now=now)
    return shown.show_quote(row, role=role, now=now)
