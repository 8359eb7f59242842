"""Pieces of one material cut from rolls of one length: the plan by a heuristic without a clock, and its lower bound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from estimating.core.cutting.bounds import Bound, lower_bound
from estimating.core.cutting.filling import Patterns, fill_rolls, longest_first
from estimating.core.cutting.improving import improve, together
from estimating.core.cutting.searching import GivenUp, search

MOST_TRIES = 60_000
MOST_SEARCHED = 100  # rolls that a search of every layout is tried on


@dataclass(frozen=True)
class Cut:
    """How the pieces are cut: patterns with how many rolls take each, and the bound below them."""

    patterns: Patterns
    bound: Bound

    @property
    def rolls(self) -> int:
        """How many rolls it takes."""
        return sum(times for _, times in self.patterns)

    @property
    def proven(self) -> bool:
        """Whether no plan has fewer."""
        return self.rolls == self.bound.rolls


def cut(room: int, lengths: Sequence[int], demand: Sequence[int]) -> Cut:
    """The plan for every piece from rolls of `room`; ValueError for a piece that is longer than a roll."""
    return _cut(room, tuple(lengths), tuple(demand))


@lru_cache(maxsize=256)
def _cut(room: int, lengths: tuple[int, ...], demand: tuple[int, ...]) -> Cut:
    found = fill_rolls(room, lengths, demand, longest_first(lengths))
    made = Cut(found, lower_bound(room, lengths, demand))
    if made.proven:
        return made
    made = searched(room, lengths, demand, made)
    if made.proven:
        return made
    return replace(made, patterns=improve(room, lengths, made.patterns, made.bound.rolls))


def searched(room: int, lengths: Sequence[int], demand: Sequence[int], made: Cut) -> Cut:
    """A layout on as few rolls as the bound says; or the bound one higher, where every layout was tried in vain."""
    order = longest_first(lengths)
    if made.bound.rolls > MOST_SEARCHED:
        return made
    try:
        while not made.proven:
            sorted_lengths, sorted_demand = [lengths[i] for i in order], [demand[i] for i in order]
            found = search(room, sorted_lengths, sorted_demand, made.bound.rolls, MOST_TRIES)
            if found is not None:
                patterns = [{order[place]: count for place, count in pattern.items()} for pattern in found]
                return replace(made, patterns=together(patterns))
            why = f"every layout on {made.bound.rolls} was tried"
            made = replace(made, bound=Bound(made.bound.rolls + 1, (), 1, why))
    except GivenUp:
        pass
    return made
