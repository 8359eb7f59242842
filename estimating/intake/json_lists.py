"""Places in a JSON text that is the list of openings itself."""

from __future__ import annotations

from collections.abc import Iterable

from rates.core.jsontext import locate

Place = tuple[int, int]


def places_in_list(text: str, pointers: Iterable[str]) -> dict[str, Place]:
    """Line and column of each pointer into /openings, of which the text is the value."""
    asked = {pointer: pointer.removeprefix("/openings") for pointer in pointers}
    found = locate(text, asked.values())
    return {pointer: found[inner] for pointer, inner in asked.items()}
