"""The stored document of an estimate: parts, long lists in stretches, so that a page reads little of a large one."""

from __future__ import annotations

import uuid
from collections.abc import Collection, Iterator, Mapping
from functools import partial
from typing import Any

from estimating.models import EstimatePart
from estimating.outputs.takeoff_rows import OpeningTable, opening_rows
from rates.documents import decompress, pack, unpack
from rates.look_up import first_row

SUMMARY = "summary"
BEGINNING = "beginning"  # the document with its first marks, where it has more; its name sorts before the whole one's
BRIEF = "brief"  # a few values of pages (estimating.queries.brief)
FIRST_MARKS = 60
STRETCH = 1000  # items


def rows(*, company: uuid.UUID, estimate: uuid.UUID, parts: Mapping[str, object]) -> Iterator[EstimatePart]:
    """The rows that hold these parts, not yet stored."""
    for name, value in parts.items():
        row = partial(EstimatePart, company_id=company, estimate_id=estimate, name=name)
        if isinstance(value, OpeningTable | list):
            items = value.lines if isinstance(value, OpeningTable) else value
            for stretch, start in enumerate(range(0, max(len(items), 1), STRETCH)):
                end = min(start + STRETCH, len(items))
                some = value.stretch(start, end) if isinstance(value, OpeningTable) else items[start:end]
                yield row(stretch=stretch, items=end - start, body=pack(some))
        elif value is not None:  # else it was not asked for
            yield row(body=pack(value))


def store(*, company: uuid.UUID, estimate: uuid.UUID, parts: Mapping[str, object]) -> None:
    """Stores the parts of an estimate, once."""
    made = rows(company=company, estimate=estimate, parts=parts)
    EstimatePart.objects.of(company).bulk_create(made, batch_size=50)


def read_bytes(*, company: uuid.UUID, estimate: uuid.UUID, name: str) -> bytes | None:
    """The JSON text of a part that is no list, as it was stored."""
    found = EstimatePart.objects.of(company).filter(estimate_id=estimate, name=name, stretch=0)
    body = found.values_list("body", flat=True).first()
    return decompress(body) if body is not None else None


def names_with_content(*, company: uuid.UUID, estimate: uuid.UUID) -> frozenset[str]:
    """The parts that are no list, or a list with items."""
    found = EstimatePart.objects.of(company).filter(estimate_id=estimate, stretch=0).exclude(items=0)
    return frozenset(found.values_list("name", flat=True))


SUMMARY_QUERY = """
SELECT body FROM estimating_estimatepart
WHERE company_id = %s AND estimate_id = %s AND name = %s AND stretch = 0
"""


def read_summary(*, company: uuid.UUID, estimate: uuid.UUID) -> bytes | None:
    """The JSON text of a costed estimate's document, None for any other id."""
    row = first_row(SUMMARY_QUERY, company, estimate, SUMMARY)
    return with_scope(decompress(row[0])) if row is not None else None


BEGINNING_QUERY = """
SELECT body FROM estimating_estimatepart
WHERE company_id = %s AND estimate_id = %s AND name IN (%s, %s) AND stretch = 0 ORDER BY name LIMIT 1
"""


def beginning_of(document: Mapping[str, Any]) -> dict[str, Any] | None:
    """A document with its first marks and one more, which tells that there are others; None where it has no more."""
    marks = document["by_mark"]
    return {**document, "by_mark": marks[: FIRST_MARKS + 1]} if len(marks) > FIRST_MARKS + 1 else None


def read_beginning(*, company: uuid.UUID, estimate: uuid.UUID) -> bytes | None:
    """The JSON text of a costed estimate's document, of many marks only the first; None for any other id.

    Estimates that were costed before it was kept give the whole document.
    """
    row = first_row(BEGINNING_QUERY, company, estimate, BEGINNING, SUMMARY)
    return with_scope(decompress(row[0])) if row is not None else None


def read_summaries(*, company: uuid.UUID, estimates: Collection[uuid.UUID]) -> dict[uuid.UUID, Any]:
    """The documents of costed estimates by id, in one query."""
    found = EstimatePart.objects.of(company).filter(estimate_id__in=estimates, name=SUMMARY, stretch=0)
    return {id: unpack(body) for id, body in found.values_list("estimate_id", "body")}


def with_scope(summary: bytes) -> bytes:
    """A stored document; one that was stored before scopes were told has null for it."""
    return summary if summary.startswith(b'{"scope":') else b'{"scope":null,' + summary[1:]


def is_list(*, company: uuid.UUID, estimate: uuid.UUID, name: str) -> bool:
    """Whether the part is a list that can be paged."""
    found = EstimatePart.objects.of(company).filter(estimate_id=estimate, name=name, stretch=0)
    return found.filter(items__isnull=False).exists()


def read_items(*, company: uuid.UUID, estimate: uuid.UUID, name: str, start: int, limit: int | None) -> list[Any]:
    """Up to `limit` items of a list part from the place `start` on; all of them for None."""
    found = EstimatePart.objects.of(company).filter(estimate_id=estimate, name=name).order_by("stretch")
    if limit is not None:
        found = found.filter(stretch__gte=start // STRETCH, stretch__lte=(start + limit) // STRETCH)
    items: list[Any] = []
    first = start // STRETCH if limit is not None else 0
    for body in found.values_list("body", flat=True):
        stretch = unpack(body)
        items.extend(opening_rows(stretch) if isinstance(stretch, dict) else stretch)
    offset = start - first * STRETCH
    return items[offset:] if limit is None else items[offset : offset + limit]
