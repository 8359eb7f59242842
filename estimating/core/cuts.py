"""The pieces of one opening before stock is chosen, in the order of work: sill, jambs, head, then diagonals.

Each upper piece laps the lower (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from estimating.core.shapes import Stretch

OF_RUNS = {"jambs": "jamb", "arc": "arch head"}  # by the name of the stretch that they are cut for, where it is another


class Cut(NamedTuple):
    """Pieces of one name, `times` alike."""

    name: str
    times: int

    @property
    def width_title(self) -> str:
        """What the width that it covers is called."""
        return "Width of a diagonal" if self.name == "diagonal" else f"Width that the {self.name} covers"


def cuts(runs: Sequence[Stretch], corners: int, method: str) -> tuple[Cut, ...]:
    """Every piece of one opening: one for each stretch of the outline, and the corner pieces."""
    pieces = [Cut(OF_RUNS.get(run.name, run.name), run.times) for run in runs]
    if corners:
        pieces.append(Cut("corner" if method == "tape" else "diagonal", corners))
    return tuple(pieces)
