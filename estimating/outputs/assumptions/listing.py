"""All assumptions of an estimate, what a person should look at first standing first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from estimating.outputs.assumptions.item import (
    DEFAULT,
    MOVES,
    NOTHING,
    PRICE,
    SOURCES,
    UNKNOWN,
    Assumption,
    Basis,
)
from estimating.outputs.assumptions.of_lines import assumed_in_lines
from estimating.outputs.assumptions.of_rates import assumed_in_rates
from estimating.outputs.assumptions.of_request import OF_NO_PRICE, assumed_in_request
from estimating.outputs.assumptions.stakes import stake_minor


def assumptions(basis: Basis) -> list[Assumption]:
    """Those known to move the price, the most first; the others by openings touched; then what does not move it."""
    rates = together(assumed_in_rates(basis))
    found = [*basis.reading, *assumed_in_lines(basis), *assumed_in_request(basis), *rates]
    return sorted((weighed(item, basis) for item in found), key=place)


def together(items: Iterable[Assumption]) -> list[Assumption]:
    """The same default of several editions as one, its openings summed: each opening is priced under one of them."""
    found: dict[Assumption, int] = {}
    for item in items:
        same = replace(item, openings=0)
        found[same] = found.get(same, 0) + item.openings
    return [replace(same, openings=openings) for same, openings in found.items()]


def weighed(item: Assumption, basis: Basis) -> Assumption:
    """An assumption with what is known of how it moves the price."""
    if item.field in OF_NO_PRICE:
        return replace(item, moves=NOTHING)
    stake = stake_minor(item.field, basis.estimate) if item.source == DEFAULT else None
    return replace(item, moves=UNKNOWN if stake is None else PRICE if stake else NOTHING, stake_minor=stake or None)


def place(item: Assumption) -> tuple[int, int, int, int]:
    """Where an assumption stands in the list."""
    return MOVES.index(item.moves), -(item.stake_minor or 0), -item.openings, SOURCES.index(item.source)
