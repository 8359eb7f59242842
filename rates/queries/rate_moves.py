"""What an edition moves against the one before it: prices and wages past the company's limit, and rows that went."""

from __future__ import annotations

import datetime
import uuid
from dataclasses import dataclass

from rates import models
from rates.cards import approved_of, book_chain, layers_on, source_of
from rates.core.editions import in_force
from rates.core.exact import read_decimal
from rates.core.layers import merge
from rates.core.price_moves import Gone, PriceMove, edition_moves
from rates.queries.books import WholeEdition, show_whole
from rates.refusals import NotThere


@dataclass(frozen=True)
class Before:
    """The edition that stood before another."""

    id: uuid.UUID
    number: int
    effective_from: datetime.date


@dataclass(frozen=True)
class RateMoves:
    """An edition against the one of its book in force on its first day without it; before None: the first of its book.

    The first of a branch or a project is held against the rates that it stands on.
    """

    before: Before | None
    limit_percent: str
    prices: tuple[PriceMove, ...]
    gone: tuple[Gone, ...]


def standing_before(
    row: models.Edition, now: datetime.datetime
) -> tuple[tuple[models.Edition, ...], models.Edition | None]:
    """What is in force on an edition's first day without it: the layers below, and the edition of its own book."""
    chain, known_at = book_chain(row.company_id, row.rate_book_id), row.approved_at or now
    others = [other for other in approved_of(row.company_id, chain) if other.pk != row.pk]
    below = layers_on(chain[:-1], others, row.effective_from, known_at)
    own = in_force([e for e in others if e.rate_book_id == row.rate_book_id], row.effective_from, known_at)
    return below, own


def edition_before(*, company: uuid.UUID, edition: uuid.UUID, now: datetime.datetime) -> WholeEdition | None:
    """The edition of its book that stood before another, with its tables; None for the first; NotThere."""
    row = models.Edition.objects.of(company).select_related("rate_book").filter(pk=edition).first()
    if row is None:
        raise NotThere
    own = standing_before(row, now)[1]
    return None if own is None else show_whole(own)


def rate_moves(*, company: uuid.UUID, edition: uuid.UUID, now: datetime.datetime) -> RateMoves:
    """What the edition moves past the limit; an approved one is told as it stood when it was approved. NotThere."""
    row = models.Edition.objects.of(company).select_related("rate_book").filter(pk=edition).first()
    if row is None:
        raise NotThere
    limit: str = models.Company.objects.values_list("rate_move_limit", flat=True).get(pk=company)
    below, own = standing_before(row, now)
    earlier = below if own is None else (*below, own)
    if not earlier or (row.rate_book.base_id is not None and not below):
        return RateMoves(None, limit, (), ())
    documents = [merge(source_of(layers))[0] for layers in (earlier, (*below, row))]
    moves = edition_moves(documents[0], documents[1], read_decimal(limit) / 100)
    before = None if own is None else Before(own.pk, own.number, own.effective_from)
    return RateMoves(before, limit, moves.prices, moves.gone)
