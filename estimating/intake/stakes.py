"""The money at stake in a question: what the price would be under each of its choices, and the difference.

lines under one choice > price of all of it > least and greatest of the choices
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.intake.questions import Question

MOST_QUESTIONS = 20
MOST_PRICES = 60
Lines = Sequence[Mapping[str, Any]]
ReadWith = Callable[[Mapping[str, str]], Lines | None]
Price = Callable[[Lines], int | None]


@dataclass(frozen=True, slots=True)
class Stake:
    """Prices in minor units by choice, and how far apart the least and the greatest are."""

    prices: tuple[tuple[str, int], ...]

    @property
    def swing(self) -> int:
        """The money at stake."""
        amounts = [amount for _, amount in self.prices]
        return max(amounts) - min(amounts)


def stakes(questions: Sequence[Question], read_with: ReadWith, price: Price) -> dict[str, Stake]:
    """Question id -> stake, for open questions of which at least two choices can be priced; the first twenty.

    read_with gives the lines under more answers, None where they can't be read so; price gives None where lines
    can't be costed.
    """
    found: dict[str, Stake] = {}
    left = MOST_PRICES
    for question in [q for q in questions if q.open and len(q.choices) > 1][:MOST_QUESTIONS]:
        prices = []
        for choice in question.choices[:left]:
            left -= 1
            lines = read_with(dict.fromkeys(question.keys or (question.id,), choice))
            amount = price(lines) if lines is not None else None
            if amount is not None:
                prices.append((choice, amount))
        if len(prices) > 1:
            found[question.id] = Stake(tuple(prices))
        if left <= 0:
            break
    return found
