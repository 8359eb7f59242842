"""Cutting problems for tests: published ones with their optimum, small random ones, and brute force over the latter.

tests/data/cutting/instances.json names source and licence of each; every optimum was proven by an arc-flow model of
another program, and is published for some.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from estimating.core.cutting.filling import Patterns

INSTANCES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parent.parent / "data" / "cutting" / "instances.json").read_text()
)
Problem = tuple[int, list[int], list[int]]  # roll, lengths, demand


def problem(instance: dict[str, Any]) -> Problem:
    """An instance as the cutting takes it."""
    return instance["roll"], [length for length, _ in instance["pieces"]], [count for _, count in instance["pieces"]]


def checked(roll: int, lengths: Sequence[int], demand: Sequence[int], patterns: Patterns) -> int:
    """How many rolls a plan takes, once it is seen that it cuts every piece once and no roll over its length."""
    cut = [0] * len(lengths)
    for pattern, times in patterns:
        assert sum(lengths[place] * count for place, count in pattern.items()) <= roll
        for place, count in pattern.items():
            cut[place] += count * times
    assert cut == list(demand)
    return sum(times for _, times in patterns)


def partitions(pieces: Sequence[Any]) -> Iterator[list[list[Any]]]:
    """Every way to part a few pieces over rolls."""
    if not pieces:
        yield []
        return
    first, rest = pieces[0], pieces[1:]
    for parted in partitions(rest):
        yield [[first], *parted]
        for i, roll in enumerate(parted):
            yield [*parted[:i], [first, *roll], *parted[i + 1 :]]


def fewest(roll: int, pieces: Sequence[int]) -> int:
    """The fewest rolls of all partitions."""
    return min(len(parted) for parted in partitions(pieces) if all(sum(part) <= roll for part in parted))


@st.composite
def small_problems(draw: st.DrawFn) -> Problem:
    """Up to eight pieces of up to five lengths."""
    roll = draw(st.integers(6, 40))
    lengths = draw(st.lists(st.integers(1, roll), min_size=1, max_size=5, unique=True))
    demand = draw(st.lists(st.integers(1, 3), min_size=len(lengths), max_size=len(lengths)))
    while sum(demand) > 8:
        demand[demand.index(max(demand))] -= 1
    return roll, lengths, demand


def most_weight(roll: int, lengths: Sequence[int], demand: Sequence[int], weights: Sequence[int]) -> int:
    """The most weight on one roll of the pieces asked for, by trying every count of each length in turn."""
    best = {0: 0}  # length used -> weight
    for length, asked, weight in zip(lengths, demand, weights, strict=True):
        more = dict(best)
        for used, held in best.items():
            for count in range(1, min(asked, (roll - used) // length) + 1 if weight else 1):
                at = used + count * length
                more[at] = max(more.get(at, 0), held + count * weight)
        best = more
    return max(best.values())
