"""Rate books and editions, as they are shown."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass
from typing import Any

from rates import models
from rates.core.changes import RowChange, edition_changes
from rates.core.editions import in_force as choose_in_force
from rates.core.jsontext import read_json
from rates.core.normal_form import normal_table
from rates.paging import Page, Wanted, page
from rates.refusals import NotThere

Moment = datetime.datetime | None


@dataclass(frozen=True)
class RateBook:
    """One rate book."""

    id: uuid.UUID
    name: str
    note: str
    layer: str
    base: uuid.UUID | None
    band: dict[str, Any] | None
    created_at: datetime.datetime
    version: int

    @property
    def tag(self) -> str:
        return f"{self.id.hex}-{self.version}"


@dataclass(frozen=True)
class Step:
    """One step in the life of an edition: who, when, why, and the digest before and after."""

    id: uuid.UUID
    step: str
    member: uuid.UUID
    at: datetime.datetime
    reason: str
    before: str
    after: str
    detail: dict[str, Any]


@dataclass(frozen=True)
class Edition:
    """One edition without its tables."""

    id: uuid.UUID
    rate_book: uuid.UUID
    layer: str
    number: int
    state: str
    effective_from: datetime.date
    currency: str
    note: str
    digest: str
    drafted_by: uuid.UUID
    submitted_by: uuid.UUID | None
    submitted_at: Moment
    approved_by: uuid.UUID | None
    approved_at: Moment
    withdrawn_at: Moment
    reason: str
    created_at: datetime.datetime
    version: int

    @property
    def tag(self) -> str:
        return f"{self.id.hex}-{self.version}"


@dataclass(frozen=True)
class WholeEdition:
    """One edition with its document as drafted."""

    edition: Edition
    document: dict[str, Any]

    @property
    def tag(self) -> str:
        return self.edition.tag

    @property
    def layer(self) -> str:
        """The layer of its book."""
        return self.edition.layer


def show_book(row: models.RateBook) -> RateBook:
    """A rate book's row as shown."""
    return RateBook(row.id, row.name, row.note, row.layer, row.base_id, row.band, row.created_at, row.version)


def show_edition(row: models.Edition) -> Edition:
    """An edition's row as shown."""
    return Edition(
        id=row.id,
        rate_book=row.rate_book_id,
        layer=row.rate_book.layer,
        number=row.number,
        state=row.state,
        effective_from=row.effective_from,
        currency=row.currency,
        note=row.note,
        digest=row.digest,
        drafted_by=row.drafted_by_id,
        submitted_by=row.submitted_by_id,
        submitted_at=row.submitted_at,
        approved_by=row.approved_by_id,
        approved_at=row.approved_at,
        withdrawn_at=row.withdrawn_at,
        reason=row.reason,
        created_at=row.created_at,
        version=row.version,
    )


def show_whole(row: models.Edition) -> WholeEdition:
    """An edition's row with its document."""
    document = read_json(row.document)
    assert isinstance(document, dict)
    return WholeEdition(show_edition(row), document)


def table_of(whole: WholeEdition, table: str) -> Any:
    """A table of an edition in the one form; of a layer that says nothing of it, empty."""
    layer = whole.layer != "company"
    content = whole.document["tables"].get(table)
    return normal_table(table, content if content is not None else {}, layer=layer)


def books(*, company: uuid.UUID, wanted: Wanted) -> Page[RateBook]:
    """The company's rate books."""
    rows = models.RateBook.objects.of(company)
    return page(rows, wanted, orderings={"created_at": "id", "name": "name"}, show=show_book)


def book(*, company: uuid.UUID, id: uuid.UUID) -> RateBook:
    """One rate book; NotThere."""
    row = models.RateBook.objects.of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_book(row)


def editions(*, company: uuid.UUID, rate_book: uuid.UUID, wanted: Wanted, state: str | None = None) -> Page[Edition]:
    """The editions of a rate book; NotThere."""
    book(company=company, id=rate_book)
    rows = models.Edition.objects.of(company).filter(rate_book_id=rate_book)
    rows = rows.select_related("rate_book").defer("document")
    if state:
        rows = rows.filter(state=state)
    orderings = {"number": "number", "effective_from": "effective_from", "created_at": "id"}
    return page(rows, wanted, orderings=orderings, show=show_edition)


def submitted(*, company: uuid.UUID, wanted: Wanted) -> Page[Edition]:
    """The editions of all rate books that wait for approval, the oldest first."""
    rows = models.Edition.objects.of(company).filter(state="submitted")
    rows = rows.select_related("rate_book").defer("document")
    return page(rows, wanted, orderings={"created_at": "id"}, show=show_edition)


def edition(*, company: uuid.UUID, id: uuid.UUID) -> WholeEdition:
    """One edition with its tables; NotThere."""
    row = models.Edition.objects.of(company).select_related("rate_book").filter(pk=id).first()
    if row is None:
        raise NotThere
    return show_whole(row)


def show_step(row: models.EditionStep) -> Step:
    """A step's row as shown."""
    return Step(row.id, row.step, row.member_id, row.at, row.reason, row.before, row.after, row.detail)


def steps(*, company: uuid.UUID, id: uuid.UUID, wanted: Wanted) -> Page[Step]:
    """The steps of one edition, in the order they were taken; NotThere."""
    if not models.Edition.objects.of(company).filter(pk=id).exists():
        raise NotThere
    rows = models.EditionStep.objects.of(company).filter(edition=id)
    return page(rows, wanted, orderings={"at": "id"}, show=show_step)


def changes(*, company: uuid.UUID, id: uuid.UUID, since: uuid.UUID) -> tuple[RowChange, ...] | None:
    """The rows in which an edition differs from another; None where there is no such other one; NotThere."""
    after = edition(company=company, id=id)
    before = models.Edition.objects.of(company).select_related("rate_book").filter(pk=since).first()
    if before is None:
        return None
    return edition_changes(show_whole(before).document, after.document)


def in_force(
    *, company: uuid.UUID, rate_book: uuid.UUID, work_date: datetime.date, known_at: datetime.datetime
) -> Edition | None:
    """The edition of a rate book in force on a work date as known at a time, or None; NotThere."""
    book(company=company, id=rate_book)
    rows = models.Edition.objects.of(company).filter(rate_book_id=rate_book, approved_at__isnull=False)
    found = choose_in_force(rows.select_related("rate_book").defer("document"), work_date, known_at)
    return show_edition(found) if found else None
