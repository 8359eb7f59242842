"""Rate books: made and renamed."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping

from django.db import transaction

from rates import models
from rates.queries import books as shown
from rates.refusals import Conflict, Expected, NotThere


@transaction.atomic
def make_book(*, company: uuid.UUID, name: str, now: datetime.datetime, note: str = "") -> shown.RateBook:
    """A new rate book without editions; Conflict where the name is taken."""
    refuse_taken_name(company, name)
    return shown.show_book(models.RateBook.objects.add(company=company, name=name, note=note, created_at=now))


@transaction.atomic
def change_book(*, company: uuid.UUID, id: uuid.UUID, changes: Mapping[str, str], expected: Expected) -> shown.RateBook:
    """The rate book with a new name or note; NotThere, Stale, Conflict."""
    row = lock_book(company, id)
    expected.check(shown.show_book(row))
    if changes.get("name", row.name) != row.name:
        refuse_taken_name(company, changes["name"])
    row.name, row.note = changes.get("name", row.name), changes.get("note", row.note)
    row.version += 1
    row.save()
    return shown.show_book(row)


def lock_book(company: uuid.UUID, id: uuid.UUID) -> models.RateBook:
    """The book's row, held until the transaction ends; NotThere."""
    row = models.RateBook.objects.of(company).select_for_update().filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def refuse_taken_name(company: uuid.UUID, name: str) -> None:
    """Conflict where the company has a book of that name; the row of the company is held, so that it stays so."""
    models.Company.objects.select_for_update().get(pk=company)
    if models.RateBook.objects.of(company).filter(name=name).exists():
        raise Conflict("name_taken", "a rate book of this name exists")
