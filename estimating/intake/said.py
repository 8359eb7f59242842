"""Sentences that name lengths, told without deciding how a length is printed: each company reads them in its own style.

A question keeps its sentence as the schedule itself has it (feet and inches, or millimetres); its id and its choices
are made of that one, so that a kept answer outlives another style of the company.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from estimating.core.shapes import Arched, Cornered, Ellipse, Pipe, Rectangle, Round, Shape
from rates.core.exact import round_half_up
from rates.core.fraction import Fraction

Said = tuple[str | Fraction, ...]  # texts, and lengths in nanometres
Kept = tuple[str | int, ...]  # as it is stored: lengths to the whole nanometre
Show = Callable[[Fraction], str]


def spell(said: Iterable[str | Fraction | int], show: Show) -> str:
    """The sentence with its lengths printed."""
    return "".join(part if isinstance(part, str) else show(Fraction(part)) for part in said)


def keep(said: Iterable[str | Fraction]) -> Kept:
    """The sentence as it is stored."""
    return tuple(part if isinstance(part, str) else round_half_up(part) for part in said)


def joined(parts: Sequence[Said], between: str) -> Said:
    """Several in a row, with a text between them."""
    found: list[str | Fraction] = []
    for part in parts:
        found += (between, *part) if found else part
    return tuple(found)


def size_said(shape: Shape) -> Said:
    """A size as sentences name it."""
    if isinstance(shape, Rectangle | Ellipse):
        return shape.width, " x ", shape.height
    if isinstance(shape, Round | Pipe):
        return "dia. ", shape.diameter
    words = shape.name.replace("_", " ")
    if isinstance(shape, Arched | Cornered):
        return (words,)
    return words, *(part for name, nm in shape.sizes.items() for part in (f", {name.replace('_', ' ')} ", nm))
