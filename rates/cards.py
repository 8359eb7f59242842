"""Which editions price a piece of work: those in force on its dates as known at a time, or the one that is named.

A branch's or a project's book stands on another: what it holds lies over what is in force below it on the same date.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rates import models
from rates.core.card import EditionSource
from rates.core.editions import in_force
from rates.core.problems import Problem, Refused
from rates.queries.books import Edition, show_edition, show_whole

Layers = tuple[models.Edition, ...]  # the company's edition first
MOST_LAYERS = 3


@dataclass(frozen=True)
class Editions:
    """The editions of one estimate: the company's for the work date; all of them as the core reads them."""

    main: Edition
    sources: tuple[EditionSource, ...]

    @property
    def ids(self) -> list[str | list[str]]:
        """As an estimate keeps them: an id, or the ids of the layers, the company's first."""
        found: list[str | list[str]] = []
        for source in self.sources:
            chain = [layer.id for layer in source.chain()]
            found.append(chain if len(chain) > 1 else chain[0])
        return found


def source_of(layers: Iterable[models.Edition]) -> EditionSource:
    """Editions on each other, the company's first, as the core reads them."""
    found: EditionSource | None = None
    for row in layers:
        found = EditionSource(str(row.pk), row.number, row.rate_book.layer, show_whole(row).document, found)
    assert found is not None
    return found


def book_chain(company: uuid.UUID, id: uuid.UUID) -> list[models.RateBook]:
    """A rate book and those it stands on, the company's first; empty where there is no such book."""
    chain: list[models.RateBook] = []
    wanted: uuid.UUID | None = id
    while wanted is not None and len(chain) < MOST_LAYERS:
        row = models.RateBook.objects.of(company).filter(pk=wanted).first()
        if row is None:
            return []
        chain.insert(0, row)
        wanted = row.base_id
    return chain


def approved_of(company: uuid.UUID, chain: Sequence[models.RateBook]) -> list[models.Edition]:
    """Every edition of these books that was ever approved."""
    rows = models.Edition.objects.of(company).filter(rate_book__in=chain, approved_at__isnull=False)
    return list(rows.select_related("rate_book").defer("document"))


def layers_on(
    chain: Sequence[models.RateBook],
    editions: Sequence[models.Edition],
    date: datetime.date,
    known_at: datetime.datetime,
) -> Layers:
    """What is in force in each book of a chain; empty where the company's has nothing."""
    found = []
    for book in chain:
        edition = in_force([e for e in editions if e.rate_book_id == book.pk], date, known_at)
        if edition is not None:
            found.append(edition)
        elif not found:
            return ()
    return tuple(found)


def named_edition(
    *,
    company: uuid.UUID,
    id: uuid.UUID,
    pointer: str,
    work_date: datetime.date | None = None,
    known_at: datetime.datetime | None = None,
) -> Editions:
    """The approved edition of that id, on what is in force below it on the work date as known then.

    Refused: unknown, a draft, which never prices anything, or a layer with nothing below it.
    """
    row = models.Edition.objects.of(company).select_related("rate_book").filter(pk=id).first()
    if row is None:
        raise Refused([Problem(pointer, "not_found", "there is no such edition")])
    if row.approved_at is None:
        raise Refused([Problem(pointer, "not_approved", "this edition is not approved, so it prices nothing")])
    if row.rate_book.base_id is None:
        return Editions(show_edition(row), (source_of((row,)),))
    chain = book_chain(company, row.rate_book.base_id)
    below: Layers = ()
    if work_date is not None and known_at is not None:
        below = layers_on(chain, approved_of(company, chain), work_date, known_at)
    if not below:
        raise Refused([Problem(pointer, "no_edition_in_force", "nothing is in force below this edition on the day")])
    return Editions(show_edition(below[0]), (source_of((*below, row)),))


def editions_in_force(
    *,
    company: uuid.UUID,
    rate_book: uuid.UUID,
    dates: Sequence[tuple[str, datetime.date]],
    known_at: datetime.datetime,
    draft: models.Edition | None = None,
) -> Editions:
    """The editions in force on each (pointer, date), the first being the work date; Refused where none is.

    draft: an edition taken as approved at `known_at`, to see what it would do.
    """
    chain = book_chain(company, rate_book)
    if not chain:
        raise Refused([Problem("/rate_book", "not_found", "there is no such rate book")])
    editions = approved_of(company, chain)
    if draft is not None:
        draft.approved_at = known_at
        editions = [*editions, draft]
    chosen: list[Layers] = []
    faults = []
    for pointer, date in dates:
        found = layers_on(chain, editions, date, known_at)
        if not found:
            faults.append(Problem(pointer, "no_edition_in_force", f"no approved edition is in force on {date}"))
        elif found not in chosen:
            chosen.append(found)
    if faults:
        raise Refused(faults)
    return Editions(show_edition(chosen[0][0]), tuple(source_of(layers) for layers in chosen))


def layer_below(
    *, company: uuid.UUID, book: models.RateBook, date: datetime.date, known_at: datetime.datetime
) -> EditionSource | None:
    """What a layer's edition that counts from a date lies on, or None where nothing is in force there."""
    assert book.base_id is not None
    chain = book_chain(company, book.base_id)
    found = layers_on(chain, approved_of(company, chain), date, known_at)
    return source_of(found) if found else None


def stored_sources(*, company: uuid.UUID, kept: Iterable[str | list[str]]) -> tuple[EditionSource, ...]:
    """The editions that an estimate keeps as the core reads them, in that order; KeyError where one is gone."""
    wanted = [[uuid.UUID(id) for id in ([entry] if isinstance(entry, str) else entry)] for entry in kept]
    every = {id for layers in wanted for id in layers}
    rows = models.Edition.objects.of(company).filter(pk__in=every).select_related("rate_book")
    found = {row.pk: row for row in rows}
    return tuple(source_of(found[id] for id in layers) for layers in wanted)
