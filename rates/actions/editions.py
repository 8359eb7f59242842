"""The life of an edition: drafted, submitted, approved by another person or sent back, withdrawn.

An approved edition never changes: refused here, and by a rule of the database itself.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from typing import Any

from django.db import transaction

from rates import models
from rates.actions.books import lock_book
from rates.core.card import TABLES, Card, EditionSource, read_edition
from rates.documents import digest, write_json
from rates.queries import books as shown
from rates.refusals import Conflict, Expected, NotAllowed, NotThere

Document = Mapping[str, Any]


def check_document(id: str, number: int, document: Document) -> Card:
    """The rate card of a document; Refused with every fault."""
    return read_edition(EditionSource(id=id, number=number, layer="company", document=document))


@transaction.atomic
def draft_edition(
    *, company: uuid.UUID, rate_book: uuid.UUID, member: uuid.UUID, document: Document, now: datetime.datetime
) -> shown.WholeEdition:
    """A new draft with the next number of its book; NotThere, Refused."""
    book = lock_book(company, rate_book)
    card = check_document("", book.last_edition + 1, document)
    book.last_edition += 1
    book.save(update_fields=["last_edition"])
    row = models.Edition.objects.add(
        company=company,
        rate_book=book,
        number=book.last_edition,
        drafted_by_id=member,
        created_at=now,
        **columns(document, card),
    )
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
    return draft_edition(company=company, rate_book=rate_book, member=member, document=document, now=now)


def columns(document: Document, card: Card) -> dict[str, Any]:
    """What the row keeps of a document beside it."""
    return {
        "document": write_json(document).decode(),
        "digest": digest(document),
        "effective_from": card.effective_from,
        "currency": card.currency,
        "note": document.get("note") or "",
    }


@transaction.atomic
def put_table(
    *, company: uuid.UUID, id: uuid.UUID, member: uuid.UUID, table: str, rows: object, expected: Expected
) -> shown.WholeEdition:
    """The draft with one table replaced; Refused with pointers in that table, Conflict unless a draft.

    Whoever changes a draft is its drafter from then on, so that nobody approves own rates.
    """
    row = lock_edition(company, id)
    whole = shown.show_whole(row)
    expected.check(whole)
    require_state(row, "draft", "only a draft can be changed")
    document = whole.document | {"tables": whole.document["tables"] | {table: rows}}
    assert table in TABLES
    card = check_document(str(row.pk), row.number, document)
    for name, value in columns(document, card).items():
        setattr(row, name, value)
    row.drafted_by_id = member
    return store(row)


@transaction.atomic
def submit(
    *, company: uuid.UUID, id: uuid.UUID, member: uuid.UUID, expected: Expected, now: datetime.datetime
) -> shown.WholeEdition:
    """The draft handed over for approval; NotThere, Stale, Conflict."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "draft", "only a draft can be submitted")
    row.state, row.submitted_by_id, row.submitted_at = "submitted", member, now
    return store(row)


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

    Compares persons, not keys: a second key of the drafter is still the drafter.
    """
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "submitted", "only a submitted edition can be approved")
    if reviewed != row.digest:
        raise Conflict("digest_differs", "the digest given is not that of the edition as it stands; review it again")
    own = {row.drafted_by.person_id, row.submitted_by.person_id if row.submitted_by else None}
    if models.Member.objects.of(company).get(pk=member).person_id in own:
        raise NotAllowed("own_edition", "whoever drafted or submitted an edition does not approve it")
    row.state, row.approved_by_id, row.approved_at = "approved", member, now
    return store(row)


@transaction.atomic
def send_back(*, company: uuid.UUID, id: uuid.UUID, reason: str, expected: Expected) -> shown.WholeEdition:
    """The submitted edition as a draft again, with the reason; NotThere, Stale, Conflict."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "submitted", "only a submitted edition can be sent back")
    row.state, row.reason, row.submitted_by_id, row.submitted_at = "draft", reason, None, None
    return store(row)


@transaction.atomic
def withdraw(
    *, company: uuid.UUID, id: uuid.UUID, reason: str, expected: Expected, now: datetime.datetime
) -> shown.WholeEdition:
    """The approved edition, in force no more from now on; what was costed by it stays. NotThere, Stale, Conflict."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "approved", "only an approved edition can be withdrawn")
    row.state, row.reason, row.withdrawn_at = "withdrawn", reason, now
    return store(row)


@transaction.atomic
def delete_draft(*, company: uuid.UUID, id: uuid.UUID, expected: Expected) -> None:
    """Deletes a draft; NotThere, Stale, Conflict for anything else. Its number is not given again."""
    row = lock_edition(company, id)
    expected.check(shown.show_edition(row))
    require_state(row, "draft", "only a draft can be deleted")
    row.delete()


def lock_edition(company: uuid.UUID, id: uuid.UUID) -> models.Edition:
    """The edition's row, held until the transaction ends; NotThere."""
    row = models.Edition.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def require_state(row: models.Edition, state: str, detail: str) -> None:
    """Conflict unless the edition is in `state`."""
    if row.state != state:
        raise Conflict("wrong_state", f"{detail}; this one is {row.state}")


def store(row: models.Edition) -> shown.WholeEdition:
    """The row as stored, its version raised."""
    row.version += 1
    row.save()
    return shown.show_whole(row)
