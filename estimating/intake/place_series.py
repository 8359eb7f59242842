"""Headings side by side that name places only as a series: 1st | 2nd | 3rd, Ground | First, G | 1 | 2, Front | Left.

Common practice, no source. One of them alone may mean many things (a first of anything, the hand of a door).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby

from estimating.intake.folding import compose, fold
from estimating.intake.place_headings import Place

_STOREY = re.compile(
    r"(?:\d{1,2}(?:st|nd|rd|th)|\d{1,2}\s?f|first|second|third|fourth|fifth|sixth|ground|basement|bsmt|lower|main|upper"
    r"|attic|mezz(?:anine)?|roof|penthouse)"
)
_SHORT = re.compile(r"\d{1,2}|g|b|r|ph|m")  # storeys beside those that a word or an ordinal names
_NUMBER = re.compile(r"\d{1,2}")
_SIDE = re.compile(r"front|rear|back|left|right")
_ENDS = frozenset({"front", "rear", "back"})  # left and right alone are hands


def places_in_series(headings: Sequence[str]) -> dict[int, Place]:
    """Column -> place, for two headings at least that stand side by side and are of one series."""
    folded = [fold(compose(heading)).strip(" .") for heading in headings]
    found: dict[int, Place] = {}
    for kind, run in groupby(enumerate(folded), key=lambda pair: kind_of_place(pair[1])):
        columns = [column for column, _ in run]
        names = {folded[column] for column in columns}
        if kind and len(columns) > 1 and len(names) == len(columns) and tells_places(kind, names):
            found |= {column: Place(**{kind: headings[column].strip()}) for column in columns}
    return found


def kind_of_place(folded: str) -> str:
    """storey or elevation; blank for a heading that can be neither."""
    if _STOREY.fullmatch(folded) or _SHORT.fullmatch(folded):
        return "storey"
    return "elevation" if _SIDE.fullmatch(folded) else ""


def tells_places(kind: str, names: set[str]) -> bool:
    """Whether a series names places and nothing else: a word or an ordinal, or a letter before numbers that run on."""
    if kind == "elevation":
        return bool(names & _ENDS)
    numbers = sorted(int(name) for name in names if _NUMBER.fullmatch(name))
    if not any(_STOREY.fullmatch(name) for name in names):
        return len(numbers) > 1 and len(numbers) < len(names) and numbers == list(range(numbers[0], numbers[-1] + 1))
    return True
