"""Seeded chance for random documents: picks, and numbers written as decimal text."""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")


class Chance:
    """Draws from one seed; the same draws in the same order give the same document."""

    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)

    def maybe(self, probability: float) -> bool:
        """True with this probability."""
        return self._random.random() < probability

    def pick(self, values: Sequence[T]) -> T:
        """One of the values."""
        return self._random.choice(values)

    def some(self, values: Sequence[T], least: int = 0) -> list[T]:
        """Some of the values, in their order."""
        count = self._random.randint(least, len(values)) if len(values) > least else len(values)
        kept = set(self._random.sample(range(len(values)), count))
        return [value for i, value in enumerate(values) if i in kept]

    def shuffled(self, values: Sequence[T]) -> list[T]:
        """The values in any order."""
        return self._random.sample(list(values), len(values))

    def whole(self, low: int, high: int) -> int:
        """A whole number from low to high."""
        return self._random.randint(low, high)

    def number(self, low: int, high: int, places: int) -> str:
        """A decimal from low to high with so many places, as text."""
        scaled = self._random.randint(low * 10**places, high * 10**places)
        whole, rest = divmod(scaled, 10**places)
        return f"{whole}.{rest:0{places}d}" if places else str(whole)
