"""Fewer rolls by cutting some of them anew, over and over, in an order that changes by a fixed sequence of numbers.

The sequence is the same everywhere (a linear congruential one), and what ends the attempts is a number of rolls filled,
never a clock: so the same pieces give the same rolls on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence

from estimating.core.cutting.filling import Pattern, Patterns, fill_rolls, longest_first, used

MOST_FILLINGS = 6_000
MOST_MOVED = 120  # rolls that are looked at: those that leave most
WASTEFUL = 20  # a roll that leaves more than a twentieth is always cut anew
EIGHTHS = 8
SPREAD = 40  # percent by which a length may count for more in the order
Cost = tuple[int, int]


class Sequence64:
    """x → a·x + c modulo 2^64, from 1; its upper half is used (constants of Knuth's MMIX)."""

    def __init__(self) -> None:
        self.state = 1

    def below(self, limit: int) -> int:
        """The next number, from 0 to limit − 1."""
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % (1 << 64)
        return (self.state >> 33) % limit


class Improving:
    """Rolls one by one as cut so far, and the attempts to do with fewer."""

    def __init__(self, room: int, lengths: Sequence[int], rolls: Sequence[Pattern]) -> None:
        self.room, self.lengths, self.rolls = room, lengths, list(rolls)
        self.numbers, self.fillings = Sequence64(), 0
        self.plain = longest_first(lengths)

    def rest(self, pattern: Pattern) -> int:
        """What a roll leaves."""
        return self.room - used(pattern, self.lengths)

    def cost(self, rolls: Sequence[Pattern]) -> Cost:
        """Fewer rolls are better, then rests that lie together on few."""
        return len(rolls), -sum(self.rest(pattern) ** 2 for pattern in rolls)

    def order(self) -> list[int]:
        """The longest first, or nearly so."""
        if self.numbers.below(2):
            return self.plain
        keys = [length * (100 + self.numbers.below(SPREAD)) for length in self.lengths]
        return sorted(self.plain, key=lambda place: -keys[place])

    def attempt(self) -> None:
        """Some rolls cut anew, kept where that is no worse."""
        kept, demand, share = [], [0] * len(self.lengths), 2 + self.numbers.below(6)
        for pattern in self.rolls:
            if self.rest(pattern) * WASTEFUL > self.room or self.numbers.below(EIGHTHS) < share:
                for place, count in pattern.items():
                    demand[place] += count
            else:
                kept.append(pattern)
        anew = singly(fill_rolls(self.room, self.lengths, demand, self.order()))
        self.fillings += len(anew) + 1
        if self.cost(kept + anew) <= self.cost(self.rolls):
            self.rolls = kept + anew


def singly(patterns: Patterns) -> list[Pattern]:
    """One pattern for each roll."""
    return [pattern for pattern, times in patterns for _ in range(times)]


def together(rolls: Sequence[Pattern]) -> Patterns:
    """Equal rolls told once, where the first of them stands."""
    counts: dict[tuple[tuple[int, int], ...], int] = {}
    for pattern in rolls:
        key = tuple(sorted(pattern.items()))
        counts[key] = counts.get(key, 0) + 1
    return [(dict(key), count) for key, count in counts.items()]


def improve(room: int, lengths: Sequence[int], patterns: Patterns, least: int) -> Patterns:
    """The same pieces on as few rolls as the attempts find, ended early at `least`."""
    every = singly(patterns)
    by_rest = sorted(range(len(every)), key=lambda i: used(every[i], lengths))
    moved = set(by_rest[:MOST_MOVED])
    kept = [pattern for i, pattern in enumerate(every) if i not in moved]
    improving = Improving(room, lengths, [every[i] for i in sorted(moved)])
    while len(kept) + len(improving.rolls) > least and improving.fillings < MOST_FILLINGS:
        improving.attempt()
    return together(kept + improving.rolls)
