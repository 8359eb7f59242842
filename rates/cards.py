"""Which editions price a piece of work: those in force on its dates as known at a time, or the one that is named."""

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


@dataclass(frozen=True)
class Editions:
    """The editions of one estimate: the first prices the work date; all of them as the core reads them."""

    main: Edition
    sources: tuple[EditionSource, ...]


def source_of(row: models.Edition) -> EditionSource:
    """An edition's row as the core reads it."""
    return EditionSource(str(row.pk), row.number, "company", show_whole(row).document)


def named_edition(*, company: uuid.UUID, id: uuid.UUID, pointer: str) -> Editions:
    """The approved edition of that id; Refused: unknown, or a draft, which never prices anything."""
    row = models.Edition.objects.of(company).filter(pk=id).first()
    if row is None:
        raise Refused([Problem(pointer, "not_found", "there is no such edition")])
    if row.approved_at is None:
        raise Refused([Problem(pointer, "not_approved", "this edition is not approved, so it prices nothing")])
    return Editions(show_edition(row), (source_of(row),))


def editions_in_force(
    *,
    company: uuid.UUID,
    rate_book: uuid.UUID,
    dates: Sequence[tuple[str, datetime.date]],
    known_at: datetime.datetime,
) -> Editions:
    """The editions in force on each (pointer, date), the first being the work date; Refused where none is."""
    if not models.RateBook.objects.of(company).filter(pk=rate_book).exists():
        raise Refused([Problem("/rate_book", "not_found", "there is no such rate book")])
    rows = models.Edition.objects.of(company).filter(rate_book_id=rate_book, approved_at__isnull=False)
    approved = list(rows.defer("document"))
    chosen, faults = [], []
    for pointer, date in dates:
        found = in_force(approved, date, known_at)
        if found is None:
            faults.append(Problem(pointer, "no_edition_in_force", f"no approved edition is in force on {date}"))
        elif found not in chosen:
            chosen.append(found)
    if faults:
        raise Refused(faults)
    return Editions(show_edition(chosen[0]), tuple(source_of(row) for row in chosen))


def stored_sources(*, company: uuid.UUID, ids: Iterable[uuid.UUID]) -> tuple[EditionSource, ...]:
    """The editions of those ids as the core reads them, in that order; KeyError where one is gone."""
    wanted = list(ids)
    rows = {row.pk: row for row in models.Edition.objects.of(company).filter(pk__in=wanted)}
    return tuple(source_of(rows[id]) for id in wanted)
