"""Which openings of a file are priced: in file = priced + set aside + alternates, in openings, not in lines.

Lines are what a schedule's reading made of the file, so typical storeys and multipliers are in their quantities.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from estimating.core.schedule_lines import Line


@dataclass(frozen=True)
class Scope:
    """Openings by what becomes of them; a line that is set aside is no alternate, whatever it says.

    set_aside: by reason; alternates: by name; both in the order in which the lines first say them.
    """

    in_file: int
    priced: int
    set_aside: tuple[tuple[str, int], ...]
    alternates: tuple[tuple[str, int], ...]


def priced_quantities(lines: Iterable[Line]) -> list[int]:
    """The openings that each line counts in the base price, 0 for a line that does not."""
    return [line.quantity if line.priced else 0 for line in lines]


def scope_of(lines: Iterable[Line]) -> Scope:
    """The scope of a schedule's lines."""
    in_file = priced = 0
    set_aside: dict[str, int] = {}
    alternates: dict[str, int] = {}
    for line in lines:
        in_file += line.quantity
        if line.reason is not None:
            set_aside[line.reason] = set_aside.get(line.reason, 0) + line.quantity
        elif line.alternate is not None:
            alternates[line.alternate] = alternates.get(line.alternate, 0) + line.quantity
        else:
            priced += line.quantity
    return Scope(in_file, priced, tuple(set_aside.items()), tuple(alternates.items()))
