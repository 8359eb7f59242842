"""Elevations and storeys: told apart as people do, and counted for set-up."""

from __future__ import annotations

from estimating.core.figures.rules import rule
from estimating.core.schedule_lines import place_key
from rates.core.fraction import Fraction


@rule("distinct names but blank ones")
def count_distinct(*names: str) -> Fraction:
    """A count."""
    return Fraction(len({place_key(name) for name in names} - {""}))


@rule("distinct places of elevation and storey, a blank a name like any other")
def count_zones(*places: tuple[str, str]) -> Fraction:
    """A count."""
    return Fraction(len({(place_key(elevation), place_key(storey)) for elevation, storey in places}))


@rule("Σ over elevations of (distinct storeys − 1)")
def storey_changes(*places: tuple[str, str]) -> Fraction:
    """Of terms (elevation, storey); blank storeys don't count."""
    storeys: dict[str, set[str]] = {}
    for elevation, storey in places:
        storeys.setdefault(place_key(elevation), set()).update({place_key(storey)} - {""})
    return Fraction(sum(max(0, len(found) - 1) for found in storeys.values()))
