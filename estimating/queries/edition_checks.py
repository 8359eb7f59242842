"""What is unlikely in an edition by itself, with the layers below it: told at its impact and when it is submitted."""

from __future__ import annotations

import datetime
import uuid

from estimating.core.checks.run import edition_checks as checks_of
from estimating.outputs.check_rows import Row, check_rows
from rates import models
from rates.cards import layer_below, source_of
from rates.core.card import EditionSource, read_edition
from rates.core.problems import Refused
from rates.queries.books import show_whole
from rates.refusals import NotThere


def edition_checks(*, company: uuid.UUID, edition: uuid.UUID, now: datetime.datetime) -> list[Row]:
    """The checks of an edition, of a layer with what is in force below it; none where that can't be read; NotThere."""
    row = models.Edition.objects.of(company).select_related("rate_book").filter(pk=edition).first()
    if row is None:
        raise NotThere
    source = source_of((row,))
    if row.rate_book.base_id is not None:
        known_at = row.approved_at or now
        below = layer_below(company=company, book=row.rate_book, date=row.effective_from, known_at=known_at)
        if below is None:
            return []
        source = EditionSource(str(row.pk), row.number, row.rate_book.layer, show_whole(row).document, below)
    try:
        return check_rows(checks_of(read_edition(source)))
    except Refused:  # what it lies on has changed meanwhile
        return []
