"""What a derivation step is evaluated from: its inputs, one by one, by name and by term."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

Value = Fraction | str


@dataclass(frozen=True)
class Given:
    """One input as the evaluator sees it."""

    name: str
    value: Value
    term: int | None
    field: str | None

    @property
    def number(self) -> Fraction:
        """The value as a number."""
        assert isinstance(self.value, Fraction), self
        return self.value

    @property
    def text(self) -> str:
        """The value as a text."""
        assert isinstance(self.value, str), self
        return self.value


Inputs = Sequence[Given]
Rule = Callable[[Inputs], Value]


def numbers(inputs: Inputs) -> list[Fraction]:
    """Every value as a number."""
    return [given.number for given in inputs]


def named(inputs: Inputs, name: str) -> Given:
    """The one input of a name."""
    (found,) = [given for given in inputs if given.name == name]
    return found


def terms(inputs: Inputs) -> list[list[Fraction]]:
    """The values of each term, terms in order."""
    found: dict[int, list[Fraction]] = {}
    for given in inputs:
        if given.term is not None:
            found.setdefault(given.term, []).append(given.number)
    return [found[term] for term in sorted(found)]
