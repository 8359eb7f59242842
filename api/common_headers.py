"""Header fields that many answers have in common: checked once, then put in as they stand.

The framework checks and encodes a field whenever one is set, for the same few on every answer as much as for a new one.
"""

from __future__ import annotations

from django.http import HttpResponse
from django.http.response import ResponseHeaders


class Fields(ResponseHeaders):
    """Constant fields."""

    def put_missing(self, response: HttpResponse) -> None:
        """Adds those that the answer doesn't have yet."""
        there = response.headers._store
        for name, field in self._store.items():
            there.setdefault(name, field)
