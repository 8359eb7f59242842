"""The life of an edition: drafted, submitted, approved by another person or sent back, withdrawn.

An approved edition never changes: refused here, and by a rule of the database itself. Every step is recorded.
"""

from __future__ import annotations

import datetime
import uuid
from typing import Any

from django.db import transaction

from rates import models
from rates.actions.books import lock_book
from rates.actions.drafting import Document, check_document, columns, lock_edition, record_step, with_settings
from rates.core.card import Card
from rates.core.exact import read_decimal
from rates.core.fraction import Fraction
from rates.core.jsontext import read_json
from rates.queries import books as shown
from rates.refusals import Conflict, Expected, NotAllowed
from rates.roles import Role

ALONE = "second approval is switched off"
AUTHORING = ("drafted", "copied", "tables_put", "prices_changed", "submitted")


@transaction.atomic
def draft_edition(
    *,
    company: uuid.UUID,
    rate_book: uuid.UUID,
    member: uuid.UUID,
    document: Document,
    now: datetime.datetime,
    copy_of: uuid.UUID | None = None,
) -> shown.WholeEdition:
    """A new draft with the next number of its book; NotThere, Refused. copy_of: the edition its tables come from."""
    book = lock_book(company, rate_book)
    document = with_settings(book, document)
    card = check_document(book, "", book.last_edition + 1, document, now)
    book.last_edition += 1
    book.save(update_fields=["last_edition"])
    row = models.Edition.objects.add(
        company=company,
        rate_book=book,
        number=book.last_edition,
        drafted_by_id=member,
        created_at=now,
        **columns(book, document, card),
    )
    detail = {"from": str(copy_of)} if copy_of else {}
    record_step(row, "copied" if copy_of else "drafted", member, now, detail=detail)
    return shown.show_whole(row)


@transaction.atomic
def copy_edition(
    *,
    company: uuid.UUID,
    rate_book: uuid.UUID,
    member: uuid.UUID,
    source: uuid.UUID,
    changes: Document,
    now: datetime.datetime,
) -> shown.WholeEdition:
    """A new draft with the tables of the edition `source`, and `changes` of its head; NotThere, Refused."""
    document = shown.edition(company=company, id=source).document | dict(changes)
    return draft_edition(
        company=company, rate_book=rate_book, member=member, document=document, now=now, copy_of=source
    )


@transaction.atomic
def submit(
    *, company: uuid.UUID, id: uuid.UUID, member: uuid.UUID, expected: Expected, now: datetime.datetime
) -> shown.WholeEdition:
    """The draft handed over for approval; NotThere, Stale, Conflict."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "draft", "only a draft can be submitted")
    row.state, row.submitted_by_id, row.submitted_at = "submitted", member, now
    return store(row, "submitted", member, now)


@transaction.atomic
def approve(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    member: uuid.UUID,
    reviewed: str,
    expected: Expected,
    now: datetime.datetime,
) -> shown.WholeEdition:
    """The edition, in force from its day on; NotAllowed for its drafter or submitter, Conflict for another digest.

    Compares members, not keys: a second key of the drafter is still the drafter. Where the principal has switched
    second approval off, the step says so. A margin below the company's floor takes the principal.
    """
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "submitted", "only a submitted edition can be approved")
    if reviewed != row.digest:
        raise Conflict("digest_differs", "the digest given is not that of the edition as it stands; review it again")
    settings = models.Company.objects.get(pk=company)
    approver = models.Member.objects.of(company).get(pk=member)
    own = member in authors(row)
    if own and settings.second_approval:
        raise NotAllowed("own_edition", "whoever drafted, changed or submitted an edition does not approve it")
    if row.rate_book.base_id is not None or settings.margin_floor:  # what it lies on may have changed meanwhile
        card = check_document(row.rate_book, str(row.pk), row.number, stored_document(row), now)
        refuse_thin_margin(card, settings.margin_floor, approver.role)
    row.state, row.approved_by_id, row.approved_at = "approved", member, now
    return store(row, "approved", member, now, ALONE if own else "")


def refuse_thin_margin(card: Card, floor: str, role: str) -> None:
    """NotAllowed where the margin (of a markup m: m / (1 + m)) is below the floor and no principal decides."""
    if not floor or role == Role.PRINCIPAL:
        return
    rates = [(row.kind, row.rate or Fraction(0)) for row in card.overheads if row.step == "profit"]
    kind, rate = rates[0] if rates else ("margin", Fraction(0))
    if (rate if kind == "margin" else rate / (1 + rate)) * 100 < read_decimal(floor):
        raise NotAllowed("below_margin_floor", "its margin is below the company's floor: a principal approves it")


@transaction.atomic
def send_back(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    member: uuid.UUID,
    reason: str,
    expected: Expected,
    now: datetime.datetime,
) -> shown.WholeEdition:
    """The submitted edition as a draft again, with the reason; NotThere, Stale, Conflict."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "submitted", "only a submitted edition can be sent back")
    row.state, row.reason, row.submitted_by_id, row.submitted_at = "draft", reason, None, None
    return store(row, "sent_back", member, now, reason)


@transaction.atomic
def withdraw(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    member: uuid.UUID,
    reason: str,
    expected: Expected,
    now: datetime.datetime,
) -> shown.WholeEdition:
    """The approved edition, in force no more from now on; what was costed by it stays. NotThere, Stale, Conflict."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "approved", "only an approved edition can be withdrawn")
    row.state, row.reason, row.withdrawn_at = "withdrawn", reason, now
    return store(row, "withdrawn", member, now, reason)


@transaction.atomic
def delete_draft(
    *, company: uuid.UUID, id: uuid.UUID, member: uuid.UUID, expected: Expected, now: datetime.datetime
) -> None:
    """Deletes a draft; NotThere, Stale, Conflict for anything else. Its number is not given again."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "draft", "only a draft can be deleted")
    record_step(row, "deleted", member, now, before=row.digest)
    row.delete()


def authors(row: models.Edition) -> set[uuid.UUID]:
    """The members who drafted, changed or submitted an edition."""
    steps = models.EditionStep.objects.of(row.company_id).filter(edition=row.pk, step__in=AUTHORING)
    found = set(steps.values_list("member_id", flat=True))
    return found | {id for id in (row.drafted_by_id, row.submitted_by_id) if id is not None}


def require_state(row: models.Edition, state: str, detail: str) -> None:
    """Conflict unless the edition is in `state`."""
    if row.state != state:
        raise Conflict("wrong_state", f"{detail}; this one is {row.state}")


def stored_document(row: models.Edition) -> dict[str, Any]:
    """The document of an edition's row."""
    document = read_json(row.document)
    assert isinstance(document, dict)
    return document


def store(
    row: models.Edition, step: str, member: uuid.UUID, now: datetime.datetime, reason: str = ""
) -> shown.WholeEdition:
    """The row as stored, its version raised and the step recorded."""
    row.version += 1
    row.save()
    record_step(row, step, member, now, before=row.digest, reason=reason)
    return shown.show_whole(row)
