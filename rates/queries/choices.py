"""What a request for an estimate may choose from a rate book's editions: who works, and the names of conditions."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rates import models
from rates.cards import approved_of, book_chain, layers_on
from rates.core.jsontext import read_json

CONDITIONS = ("temperature", "congestion", "rework")


@dataclass(frozen=True)
class Choices:
    """Codes and names of what is in force in a book, without any wage, price or factor.

    labour, equipment: (code, title) of each row; conditions: the names by temperature, congestion and rework; number
    and effective_from: of the company's edition; None where nothing is in force on the day.
    """

    labour: tuple[tuple[str, str], ...] = ()
    equipment: tuple[tuple[str, str], ...] = ()
    conditions: Mapping[str, tuple[str, ...]] | None = None
    number: int | None = None
    effective_from: datetime.date | None = None


@dataclass(frozen=True)
class Book:
    """A rate book that can price work, and the first day that anything in it is in force."""

    id: uuid.UUID
    name: str
    first_day: datetime.date


def pricing_books(*, company: uuid.UUID) -> list[Book]:
    """The rate books that price something: each has an edition that was approved and not withdrawn."""
    rows = models.Edition.objects.of(company).filter(approved_at__isnull=False, withdrawn_at=None)
    rows = rows.select_related("rate_book").defer("document").order_by("rate_book__id", "effective_from")
    found: dict[uuid.UUID, Book] = {}
    for row in rows:
        found.setdefault(row.rate_book_id, Book(row.rate_book_id, row.rate_book.name, row.effective_from))
    return list(found.values())


def choices(
    *, company: uuid.UUID, rate_book: uuid.UUID, work_date: datetime.date, known_at: datetime.datetime
) -> Choices:
    """What the editions in force in a book on a day let one choose; nothing where none is in force."""
    chain = book_chain(company, rate_book)
    layers = layers_on(chain, approved_of(company, chain), work_date, known_at) if chain else ()
    if not layers:
        return Choices()
    tables = [read_tables(row.document) for row in layers]
    labour, equipment = titles_of(tables, "labour"), titles_of(tables, "equipment")
    conditions = {name: names_of([one.get("production", {}) for one in tables], name) for name in CONDITIONS}
    return Choices(labour, equipment, conditions, layers[0].number, layers[0].effective_from)


def titles_of(tables: Sequence[Mapping[str, Any]], name: str) -> tuple[tuple[str, str], ...]:
    """(code, title) of the rows of one table on all layers."""
    found = {str(row["code"]): str(row.get("title", row["code"])) for one in tables for row in rows_of(one, name)}
    return tuple(found.items())


def read_tables(document: str) -> Mapping[str, Any]:
    """The tables of a stored edition."""
    found = read_json(document)
    tables = found.get("tables", {}) if isinstance(found, Mapping) else {}
    return tables if isinstance(tables, Mapping) else {}


def rows_of(tables: Mapping[str, Any], name: str) -> Sequence[Mapping[str, Any]]:
    """The rows of a table that have a code."""
    found = tables.get(name, ())
    return [row for row in found if isinstance(row, Mapping) and row.get("code")]


def names_of(tables: Sequence[Mapping[str, Any]], name: str) -> tuple[str, ...]:
    """The names of a condition in production tables that lie on each other."""
    found: dict[str, None] = {}
    for table in tables:
        entries = table.get(name) or {}
        found |= dict.fromkeys(str(entry) for entry in entries) if isinstance(entries, Mapping) else {}
    return tuple(found)
