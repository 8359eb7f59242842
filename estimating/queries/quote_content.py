"""What a quote says to its customer, as it stands now; and what is frozen with it when it is issued."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any
from zoneinfo import ZoneInfo

from estimating.models import Quote, QuoteFile, QuoteState
from estimating.outputs.printed.days import date_said
from estimating.outputs.printed.letters_shown import not_shown
from estimating.outputs.quotes.changes import ChangesLetter, Priced, write_changes
from estimating.outputs.quotes.files import SentDocument, changes_file, letter_file
from estimating.outputs.quotes.letter import Letter, Sender, Terms, write_letter
from estimating.outputs.quotes.letter_document import letter_document
from estimating.outputs.quotes.prepared import OWN_PRICES, shared_out
from estimating.queries.quote_texts import quote_texts
from estimating.queries.quotes import prepared_of, rows_of
from estimating.queries.sign_offs import standing
from rates.documents import unpack
from rates.models import Company
from rates.refusals import Conflict, NotThere


@dataclass(frozen=True)
class Reading:
    """A quote as its customer reads it: its letter; of a draft what changed against the quote that it replaces.

    schedule: the revision that it prices, None where its openings came without.
    """

    letter: Mapping[str, Any]
    changes: ChangesLetter | None
    schedule: uuid.UUID | None


def reading(*, company: uuid.UUID, id: uuid.UUID, now: datetime.datetime) -> Reading:
    """What a draft says as it stands, an issued quote as it went out; NotThere."""
    row = rows_of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    schedule = row.estimate.schedule_id
    if row.content is not None:
        return Reading(unpack(row.content)["letter"], None, schedule)
    letter = letter_of(company=company, row=row, now=now)
    return Reading(letter.document(), changes_of(company=company, row=row, letter=letter), schedule)


def quoted_schedule(*, company: uuid.UUID, id: uuid.UUID) -> uuid.UUID | None:
    """The schedule revision that a quote prices, None where its openings came without; NotThere."""
    found = Quote.objects.of(company).filter(pk=id).values_list("estimate__schedule_id").first()
    if found is None:
        raise NotThere
    schedule: uuid.UUID | None = found[0]
    return schedule


def quoted_estimate(*, company: uuid.UUID, id: uuid.UUID) -> uuid.UUID:
    """The estimate that a quote stands on; NotThere."""
    found: uuid.UUID | None = Quote.objects.of(company).filter(pk=id).values_list("estimate_id", flat=True).first()
    if found is None:
        raise NotThere
    return found


def letter_of(*, company: uuid.UUID, row: Quote, now: datetime.datetime) -> Letter:
    """The letter of a quote whose rows `queries.quotes.rows_of` gave."""
    settings = Company.objects.get(pk=company)
    prepared, texts = prepared_of(row), quote_texts(company=company)
    offer = prepared.offer(row.basis)
    assert offer is not None
    schedule, project, before = row.estimate.schedule, row.project, row.replaces
    said = Terms(
        customer=row.customer,
        texts=row.texts,
        addenda=row.addenda,
        terms=row.terms,
        valid_until=row.valid_until,
        project=project.name if project else "",
        project_number=project.number if project else "",
        drawing_issue=schedule.drawing_issue if schedule else "",
        replaces=replaced_words(before, settings.time_zone),
    )
    return write_letter(
        Sender(settings.name, texts.letterhead, settings.invented),
        said,
        prepared,
        prices=shared_out(row.price_minor, offer.lines),
        currency=row.currency,
        number=row.number,
        date=(row.issued_at or now).astimezone(ZoneInfo(settings.time_zone)).date(),
        own=row.basis in OWN_PRICES,
    )


def replaced_words(before: Quote | None, zone: str) -> str:
    """The quote that is replaced, by number and date."""
    if before is None or before.issued_at is None:
        return ""
    issued_on = before.issued_at.astimezone(ZoneInfo(zone)).date()
    return f"quote {before.number} of {date_said(issued_on.isoformat())}"


def frozen(*, company: uuid.UUID, row: Quote, letter: Letter) -> dict[str, Any]:
    """All that an issued quote stands on, beside its letter: values and ids, whatever changes later."""
    prepared = prepared_of(row)
    offer = prepared.offer(row.basis)
    assert offer is not None and offer.price_minor is not None
    prices = shared_out(row.price_minor, offer.lines)
    signed = standing(company=company, row=row.estimate)
    keys = [item.key for item in prepared.assumptions if item.key in signed]
    return {
        "letter": letter.document(),
        "estimate": str(row.estimate_id),
        "schedule": str(row.estimate.schedule_id) if row.estimate.schedule_id else None,
        "editions": offer.editions,
        "input_digest": row.estimate.input_digest,
        "engine_version": row.estimate.engine_version,
        "basis": row.basis,
        "offers": [{"basis": o.basis, "price_minor": o.price_minor, "editions": o.editions} for o in prepared.offers],
        "price_before_discount_minor": offer.price_minor,
        "price_minor": row.price_minor,
        "lines": [[asdict(line), price] for line, price in zip(prepared.lines, prices, strict=True)],
        "signed": [{"assumption": key, "sign_off": str(signed[key].pk)} for key in keys],
    }


def changes_of(*, company: uuid.UUID, row: Quote, letter: Letter) -> ChangesLetter | None:
    """The letter of changes against the quote that is replaced, as that one was sent; None where none is."""
    if row.replaces_id is None:
        return None
    prepared = prepared_of(row)
    offer = prepared.offer(row.basis)
    assert offer is not None
    sent = Quote.objects.of(company).values_list("content", flat=True).get(pk=row.replaces_id)
    assert sent is not None
    content = unpack(sent)
    priced = Priced(
        old_marks=[line["mark"] for line, _ in content["lines"]],
        old_prices=[price for _, price in content["lines"]],
        new_marks=[line.mark for line in prepared.lines],
        new_prices=shared_out(row.price_minor, offer.lines),
    )
    return write_changes(letter, prepared.pairs, priced)


def document(*, company: uuid.UUID, id: uuid.UUID, name: str, now: datetime.datetime) -> SentDocument:
    """A document of a draft, which says that it is one; that of an issued quote as it was sent. NotThere, Conflict."""
    row = rows_of(company).filter(pk=id).first()
    if row is None:
        raise NotThere
    if row.state != QuoteState.DRAFTED:
        return kept(company, row, name)
    if name == "ubl.xml":
        raise Conflict("not_issued", "a draft has no number; it is a quotation once it is issued")
    letter = letter_of(company=company, row=row, now=now)
    missing = not_shown(letter_document(letter).texts())
    if missing:
        raise Conflict("letters_not_shown", f"no font here has {' '.join(missing)}")
    what, _, format = name.partition(".")
    if what == "letter":
        return letter_file(letter, format)
    changes = changes_of(company=company, row=row, letter=letter)
    if changes is None:
        raise Conflict("document_missing", "this quote replaces none, so there are no changes to tell")
    return changes_file(changes, format)


def kept(company: uuid.UUID, row: Quote, name: str) -> SentDocument:
    """A document as it was sent; Conflict where the quote has none of that name."""
    file = QuoteFile.objects.of(company).filter(quote=row, name=name).first()
    if file is None:
        raise Conflict("document_missing", f"quote {row.number} went out without a {name.partition('.')[0]}")
    return SentDocument(file.name, file.file_name, file.media_type, bytes(file.content))
