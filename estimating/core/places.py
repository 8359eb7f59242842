"""Elevations and storeys: told apart as people do, and counted for set-up."""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter

from estimating.core.figures.rules import rule
from estimating.core.schedule import Line
from rates.core.fraction import Fraction


class Place(tuple[str, str]):
    """(elevation, storey) as the first line there writes it, and the index of that line."""

    line: int


def places_of(lines: Sequence[Line], indexes: Sequence[int]) -> list[Place]:
    """Where the lines at these indexes are, each place once."""
    first = {(lines[i].elevation, lines[i].storey): i for i in reversed(indexes)}
    found = []
    for written, i in sorted(first.items(), key=itemgetter(1)):
        place = Place(written)
        place.line = i
        found.append(place)
    return found


def place_key(name: str) -> str:
    """An elevation or storey for comparing."""
    return " ".join(name.split()).casefold()


@rule("distinct names but blank ones")
def count_distinct(*names: str) -> Fraction:
    """A count."""
    return Fraction(len({place_key(name) for name in names} - {""}))


@rule("Σ over elevations of (distinct storeys − 1)")
def storey_changes(*places: tuple[str, str]) -> Fraction:
    """Of terms (elevation, storey); blank storeys don't count."""
    storeys: dict[str, set[str]] = {}
    for elevation, storey in places:
        storeys.setdefault(place_key(elevation), set()).update({place_key(storey)} - {""})
    return Fraction(sum(max(0, len(found) - 1) for found in storeys.values()))
