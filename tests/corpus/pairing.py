"""Lines of truth paired with the lines that were read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace

from estimating.intake.reading import Intake
from tests.corpus.lines import opening_of
from tests.corpus.truth import ALTERNATE, ANY, SET_ASIDE, UNKNOWN, Opening


@dataclass(frozen=True)
class Read:
    """A line that was read: its index, its place in the file, and how it compares."""

    index: int
    place: str
    opening: Opening


@dataclass(frozen=True)
class Pairs:
    """Openings of truth with the lines that are them, openings that none is, and lines that are none."""

    same: tuple[tuple[Opening, tuple[Read, ...]], ...]
    missed: tuple[Opening, ...]
    left: tuple[Read, ...]


def reads_of(intake: Intake) -> list[Read]:
    """The lines of an intake."""
    return [Read(i, intake.place(i, None), opening_of(line)) for i, line in enumerate(intake.lines)]


def pair(truth: Iterable[Opening], reads: list[Read]) -> Pairs:
    """Truth against what was read; lines of no openings stand beside no truth.

    Lines alike in all but quantity count together, in truth and as read.
    """
    wanted: Counter[Opening] = Counter()
    for opening in truth:
        wanted[replace(opening, quantity=0)] += opening.quantity
    left, same, missed = list(reads), [], []
    for opening, quantity in wanted.items():
        counted = replace(opening, quantity=quantity)
        found = [read for read in left if alike(opening, read.opening)]
        if found and (quantity == UNKNOWN or sum(read.opening.quantity for read in found) == quantity):
            same.append((counted, tuple(found)))
            left = [read for read in left if read not in found]
        else:
            missed.append(counted)
    return Pairs(tuple(same), tuple(missed), tuple(read for read in left if read.opening.quantity != 0))


def alike(truth: Opening, read: Opening) -> bool:
    """Whether a line is the opening of truth but for its quantity."""
    return truth.mark == read.mark and not differences(truth, read) - {"quantity"}


def differences(truth: Opening, read: Opening) -> set[str]:
    """What of an opening was read otherwise. Kind and size of one set aside price nothing, so they may be unknown."""
    places = ("elevation", "storey", "building")
    found = {name for name in places if getattr(truth, name) not in (ANY, getattr(read, name))}
    found |= {name for name in ("quantity", "state") if getattr(truth, name) != getattr(read, name)}
    if truth.state == read.state == ALTERNATE and truth.name.lower() not in read.name.lower():
        found.add("state")
    if truth.state == read.state == SET_ASIDE:
        return found
    if truth.kind != read.kind:
        found.add("kind")
    if truth.shape and truth.shape != read.shape:
        found.add("shape")
    return found
