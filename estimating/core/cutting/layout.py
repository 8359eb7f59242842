"""Rolls of one material laid out: across each roll as many lanes of a width as fit, along each lane the pieces.

Wide pieces are laid first. What they leave of a roll is slit into the lanes of narrower ones, which go on to new rolls
for the rest; the lanes of the last new roll are made about equally long, so that it leaves one long end.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from estimating.core.cutting.cut import cut
from estimating.core.cutting.filling import Pattern, fill, longest_first, used
from estimating.core.cutting.improving import singly
from rates.core.fraction import Fraction

Size = tuple[int, Fraction]  # length, width
Lane = tuple[tuple[Size, int], ...]  # each with how many, the longest first


class Wanted(NamedTuple):
    """Pieces alike: length in whole steps, width, how many, how many lanes of the width a roll has."""

    length: int
    width: Fraction
    pieces: int
    lanes: int


class Section(NamedTuple):
    """A stretch of a roll slit into lanes: how long, how many across, what is cut along those that are used."""

    length: int
    across: int
    lanes: tuple[Lane, ...]


@dataclass
class Roll:
    """A roll as cut: the place of its size among those on offer (None: on hand), its length, its stretches in order."""

    size: int | None
    length: int
    sections: list[Section] = field(default_factory=list)

    @property
    def rest(self) -> int:
        """What is left at its end."""
        return self.length - sum(section.length for section in self.sections)

    @property
    def key(self) -> tuple[int | None, int, tuple[Section, ...]]:
        """By which rolls are alike."""
        return self.size, self.length, tuple(self.sections)


def lane_of(pattern: Pattern, sizes: Sequence[Size]) -> Lane:
    """A pattern as a lane."""
    return tuple(sorted(((sizes[place], count) for place, count in pattern.items()), reverse=True))


def section(across: int, patterns: Sequence[Pattern], sizes: Sequence[Size]) -> Section:
    """A stretch as long as its longest lane."""
    longest = max(used(pattern, lengths_of(sizes)) for pattern in patterns)
    return Section(longest, across, tuple(lane_of(pattern, sizes) for pattern in patterns))


def lengths_of(sizes: Sequence[Size]) -> list[int]:
    """The lengths alone."""
    return [length for length, _ in sizes]


def by_lanes(wanted: Sequence[Wanted]) -> dict[int, dict[Size, int]]:
    """How many of each size, for each number of lanes, fewest lanes first, the longest first."""
    found: dict[int, dict[Size, int]] = {}
    for piece in sorted(wanted, key=lambda piece: (piece.lanes, -piece.length, -piece.width)):
        of_lanes, size = found.setdefault(piece.lanes, {}), (piece.length, piece.width)
        of_lanes[size] = of_lanes.get(size, 0) + piece.pieces
    return found


def lay_on_rests(rolls: Sequence[Roll], across: int, sizes: Sequence[Size], left: list[int]) -> None:
    """Pieces on what is left of rolls, taken off `left`."""
    lengths = lengths_of(sizes)
    order = longest_first(lengths)
    for roll in rolls:
        room, patterns = roll.rest, []
        for _ in range(across):
            pattern = fill(room, lengths, left, order) if any(left) else {}
            if not pattern:
                break
            for place, count in pattern.items():
                left[place] -= count
            patterns.append(pattern)
        if patterns:
            roll.sections.append(section(across, patterns, sizes))


def evened(patterns: Sequence[Pattern], across: int, lengths: Sequence[int]) -> list[Pattern]:
    """The same pieces on lanes of about equal length: the longest piece to the shortest lane, one after the other."""
    pieces = [place for pattern in patterns for place, count in pattern.items() for _ in range(count)]
    lanes: list[Pattern] = [{} for _ in range(across)]
    for place in sorted(pieces, key=lambda place: -lengths[place]):
        lane = min(lanes, key=lambda lane: used(lane, lengths))
        lane[place] = lane.get(place, 0) + 1
    return [lane for lane in lanes if lane]


def new_rolls(size: int, room: int, across: int, sizes: Sequence[Size], left: Sequence[int]) -> list[Roll]:
    """New rolls of one length for the pieces left."""
    lengths = lengths_of(sizes)
    lanes = singly(cut(room, lengths, left).patterns)
    found = []
    for start in range(0, len(lanes), across):
        patterns = lanes[start : start + across]
        if len(patterns) < across:
            patterns = evened(patterns, across, lengths)
        found.append(Roll(size, room, [section(across, patterns, sizes)]))
    return found


def lay_out(size: int, room: int, on_hand: Sequence[int], wanted: Sequence[Wanted]) -> list[Roll]:
    """Every piece, on the rolls on hand first, then on new ones of one length; no roll that nothing is cut from."""
    rolls = [Roll(None, length) for length in on_hand]
    for across, counts in by_lanes(wanted).items():
        sizes, left = list(counts), list(counts.values())
        lay_on_rests(rolls, across, sizes, left)
        if any(left):
            rolls += new_rolls(size, room, across, sizes, left)
    return [roll for roll in rolls if roll.sections]


def counted(rolls: Iterable[Roll]) -> list[tuple[Roll, int]]:
    """Rolls alike told once, where the first of them stands."""
    found: dict[object, list[Roll]] = {}
    for roll in rolls:
        found.setdefault(roll.key, []).append(roll)
    return [(alike[0], len(alike)) for alike in found.values()]


def cut_of(rolls: Iterable[Roll]) -> Mapping[Size, int]:
    """How many pieces of each size are cut."""
    found: dict[Size, int] = {}
    for roll in rolls:
        for stretch in roll.sections:
            for lane in stretch.lanes:
                for size, count in lane:
                    found[size] = found.get(size, 0) + count
    return found
