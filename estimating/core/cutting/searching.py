"""Whether pieces fit on so many rolls, by trying every layout in whole numbers; given up after a number of tries.

Each roll takes the longest piece left. All rolls together may waste what they hold over the pieces: a filling that
leaves more than what may still be wasted is not tried, and pieces left that led nowhere once are not tried again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from estimating.core.cutting.filling import Pattern


class GivenUp(Exception):
    """Neither a layout nor the proof that there is none was found within the tries."""


class Search:
    """One search; lengths stand longest first."""

    def __init__(self, room: int, lengths: Sequence[int], demand: Sequence[int], most_tries: int) -> None:
        self.room, self.lengths, self.left = room, lengths, list(demand)
        self.tries, self.hopeless = most_tries, set[tuple[int, ...]]()
        self.found: list[Pattern] = []

    def fits(self, rolls: int) -> bool:
        """Whether so many rolls hold everything; GivenUp. The layout stands in `found`."""
        waste = rolls * self.room - sum(n * c for n, c in zip(self.lengths, self.left, strict=True))
        return waste >= 0 and self._next_roll(waste)

    def _next_roll(self, waste: int) -> bool:
        first = next((place for place, count in enumerate(self.left) if count), None)
        if first is None:
            return True
        state = tuple(self.left)
        if state in self.hopeless:
            return False
        self.left[first] -= 1
        for pattern, rest in self._fillings(first, self.room - self.lengths[first], waste):
            self.found.append({**pattern, first: pattern.get(first, 0) + 1})
            if self._next_roll(waste - rest):
                return True
            self.found.pop()
        self.left[first] += 1
        self.hopeless.add(state)
        return False

    def _fillings(self, place: int, room: int, waste: int) -> Iterator[tuple[Pattern, int]]:
        """Fillings of a room, lengths from `place` on, that leave at most `waste`; meanwhile taken off what is left."""
        self.tries -= 1
        if self.tries < 0:
            raise GivenUp
        while place < len(self.lengths) and not (self.left[place] and self.lengths[place] <= room):
            place += 1
        if place == len(self.lengths):
            if room <= waste:
                yield {}, room
            return
        length = self.lengths[place]
        for count in range(min(self.left[place], room // length), -1, -1):
            self.left[place] -= count
            for pattern, rest in self._fillings(place + 1, room - count * length, waste):
                yield ({**pattern, place: count} if count else pattern), rest
            self.left[place] += count


def search(room: int, lengths: Sequence[int], demand: Sequence[int], rolls: int, tries: int) -> list[Pattern] | None:
    """A layout on so many rolls, or None where there is none; GivenUp. Lengths longest first."""
    looking = Search(room, lengths, demand, tries)
    return looking.found if looking.fits(rolls) else None
