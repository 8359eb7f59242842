"""Rows deleted a bounded number at a time, so that nobody waits for it."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet


def delete_some(rows: QuerySet[Any], most: int) -> int:
    """How many of the rows were deleted, `most` at most."""
    ids = list(rows.values_list("pk", flat=True)[:most])
    return rows.filter(pk__in=ids).delete()[0] if ids else 0
