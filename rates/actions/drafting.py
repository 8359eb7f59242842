"""What the steps of an edition share: its document checked for its book's layer, the one form of it, the record."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from typing import Any

from rates import models
from rates.cards import book_chain, layer_below
from rates.core.bands import BAND, Band
from rates.core.card import Card, EditionSource, read_edition
from rates.core.fields import Faults, date
from rates.core.layer_reading import read_layer
from rates.core.normal_form import normal_document
from rates.core.problems import Problem, Refused
from rates.documents import digest, write_json
from rates.refusals import NotThere

Document = Mapping[str, Any]


def check_document(book: models.RateBook, id: str, number: int, document: Document, now: datetime.datetime) -> Card:
    """The rate card of a document of this book, on the layers below it as they stand now; Refused with every fault."""
    source = EditionSource(id=id, number=number, layer=book.layer, document=document)
    if book.base_id is None:
        return read_edition(source)
    faults: Faults = []
    start = date().read(document.get("effective_from"), "/effective_from", faults)
    below = layer_below(company=book.company_id, book=book, date=start, known_at=now) if start is not None else None
    if start is not None and below is None:
        detail = f"nothing is in force on {start} in the rate book that this one stands on"
        faults.append(Problem("/effective_from", "no_edition_in_force", detail))
    if below is None:
        raise Refused([fault.within("", "edition") for fault in faults])
    return read_layer(EditionSource(id, number, book.layer, document, below), band_of(book))


def band_of(book: models.RateBook) -> Band | None:
    """How far the layers on a company's book may depart; None as far as they like."""
    bottom = book_chain(book.company_id, book.pk)[0]
    if bottom.band is None:
        return None
    faults: Faults = []
    band = BAND.read(bottom.band, "", faults)
    assert isinstance(band, Band)
    return band


def with_settings(book: models.RateBook, document: Document) -> dict[str, Any]:
    """The document with the company's settings where it states none; a layer has none of its own."""
    if book.base_id is not None:
        return dict(document)
    company = models.Company.objects.get(pk=book.company_id)
    settings: dict[str, Any] = {}
    if company.rounding != "half_up":
        settings["rounding"] = company.rounding
    if company.sales_tax_by != "invoice":
        settings["sales_tax_by"] = company.sales_tax_by
    if company.cost_codes:
        settings["cost_codes"] = dict(sorted(company.cost_codes.items()))
    return settings | {name: value for name, value in document.items() if value is not None}


def columns(book: models.RateBook, document: Document, card: Card) -> dict[str, Any]:
    """What the row keeps of a sound document, in the one form, and beside it."""
    stored = normal_document(document, layer=book.base_id is not None)
    return {
        "document": write_json(stored).decode(),
        "digest": digest(stored),
        "effective_from": card.effective_from if book.base_id is None else read_start(document),
        "currency": card.currency,
        "note": document.get("note") or "",
    }


def read_start(document: Document) -> datetime.date:
    """The first day of a sound document."""
    return datetime.date.fromisoformat(str(document["effective_from"]).strip())


def lock_edition(company: uuid.UUID, id: uuid.UUID) -> models.Edition:
    """The edition's row with its book, held until the transaction ends; NotThere."""
    rows = models.Edition.objects.of(company).select_for_update(of=("self",)).select_related("rate_book")
    row = rows.filter(pk=id).first()
    if row is None:
        raise NotThere
    return row


def record_step(
    row: models.Edition,
    step: str,
    member: uuid.UUID,
    at: datetime.datetime,
    *,
    before: str = "",
    reason: str = "",
    detail: Mapping[str, Any] | None = None,
) -> None:
    """Keeps who did what to an edition, and its digest before and after."""
    models.EditionStep.objects.add(
        company=row.company_id,
        rate_book_id=row.rate_book_id,
        edition=row.pk,
        number=row.number,
        step=step,
        member_id=member,
        at=at,
        reason=reason,
        before=before,
        after=row.digest,
        detail=dict(detail or {}),
    )
