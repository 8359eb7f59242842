"""The tables of a draft replaced, or its prices changed by formula; each is one recorded step."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from rates import models
from rates.actions.drafting import check_document, columns, lock_edition, record_step
from rates.actions.editions import require_state, stored_document
from rates.core.card import TABLES
from rates.core.price_formula import Formula, PriceChange, apply_formula
from rates.queries import books as shown
from rates.refusals import Expected

Document = dict[str, Any]


@dataclass(frozen=True)
class Repriced:
    """An edition after its prices changed, and each price that did; in a preview the edition is as it was."""

    whole: shown.WholeEdition
    changes: tuple[PriceChange, ...]


@transaction.atomic
def put_tables(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    member: uuid.UUID,
    tables: Mapping[str, Any],
    expected: Expected,
    now: datetime.datetime,
    aside: Sequence[str] = (),
) -> shown.WholeEdition:
    """The draft with these tables replaced; NotThere, Stale, Conflict, Refused with pointers from the edition's root.

    aside: the headings of columns that were not read, for the record. Whoever changes a draft is its drafter from then
    on, and does not approve it.
    """
    row = open_draft(company, id, expected)
    assert set(tables) <= set(TABLES)
    document = stored_document(row)
    put = {**document["tables"], **tables}
    if row.rate_book.base_id is not None:
        put = {name: content for name, content in put.items() if content != [] and content != {}}
    detail = {"tables": sorted(tables)} | ({"columns_aside": list(aside)} if aside else {})
    return replace(row, document | {"tables": put}, "tables_put", member, now, detail)


@transaction.atomic
def change_prices(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    member: uuid.UUID,
    formula: Formula,
    written: Mapping[str, Any],
    preview: bool,
    expected: Expected,
    now: datetime.datetime,
) -> Repriced:
    """The draft with the formula applied as one step, or (preview) what it would do; nothing changed by a preview.

    written: the formula as it was sent, for the record. NotThere, Stale, Conflict, Refused where the outcome is not
    sound, such as a price below 0.
    """
    row = open_draft(company, id, expected)
    document = stored_document(row)
    card = check_document(row.rate_book, str(row.pk), row.number, document, now)
    rows = document["tables"].get(formula.table) or []
    after, changes = apply_formula(rows, formula, card.currency, card.rounding)
    document["tables"] = document["tables"] | {formula.table: after}
    if preview or not changes:
        check_document(row.rate_book, str(row.pk), row.number, document, now)
        return Repriced(shown.show_whole(row), changes)
    listed = [{"code": c.code, "field": c.field, "before": c.before, "after": c.after} for c in changes]
    whole = replace(row, document, "prices_changed", member, now, {"formula": dict(written), "prices": listed})
    return Repriced(whole, changes)


def open_draft(company: uuid.UUID, id: uuid.UUID, expected: Expected) -> models.Edition:
    """The draft's row, held until the transaction ends; NotThere, Stale, Conflict."""
    row = lock_edition(company, id)
    expected.check(shown.show_whole(row))
    require_state(row, "draft", "only a draft can be changed")
    return row


def replace(
    row: models.Edition, document: Document, step: str, member: uuid.UUID, now: datetime.datetime, detail: Document
) -> shown.WholeEdition:
    """The draft with another document, the step recorded; Refused."""
    before = row.digest
    card = check_document(row.rate_book, str(row.pk), row.number, document, now)
    for name, value in columns(row.rate_book, document, card).items():
        setattr(row, name, value)
    row.drafted_by_id = member
    row.version += 1
    row.save()
    record_step(row, step, member, now, before=before, detail=detail)
    return shown.show_whole(row)
