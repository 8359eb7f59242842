"""Rolls filled one after the other: the first piece in the order, then the pieces that leave the least of the roll.

Which sums the pieces left can make is a row of bits, shifted once for each power of two of a count, so the best filling
of a roll is found exactly. A pattern is a count for each length by its place; lengths and rooms are whole steps.
"""

from __future__ import annotations

from collections.abc import Sequence

Pattern = dict[int, int]
Patterns = list[tuple[Pattern, int]]  # each with how many rolls are cut by it
Reached = list[tuple[int, int, int, int]]  # place, length, most of it, sums of those before
MOST_LENGTHS = 160
REPEATED = 3  # rolls that a pattern may be cut of before half of them are kept open


def reach(room: int, lengths: Sequence[int], left: Sequence[int], order: Sequence[int]) -> tuple[int, Reached]:
    """The sums up to `room` that the pieces left can make, as bits; the steps there, last in order first."""
    mask, sums, steps = (1 << (room + 1)) - 1, 1, Reached()
    for place in reversed(order):
        length = lengths[place]
        most = min(left[place], room // length)
        if most <= 0:
            continue
        steps.append((place, length, most, sums))
        step, rest = 1, most
        while rest:
            taken = min(step, rest)
            sums |= (sums << (length * taken)) & mask
            rest -= taken
            step *= 2
    return sums, steps


def fill(room: int, lengths: Sequence[int], left: Sequence[int], order: Sequence[int]) -> Pattern:
    """The pieces that fill a room best, those earlier in the order preferred; the first that fits is among them.

    Of very many lengths only the first and the last in the order are tried: they fill a room as well, and soon.
    """
    fitting = [place for place in order if left[place] and lengths[place] <= room]
    if not fitting:
        return {}
    if len(fitting) > MOST_LENGTHS:
        fitting[MOST_LENGTHS // 2 : -MOST_LENGTHS // 2] = []
    first, rest = fitting[0], list(left)
    rest[first] -= 1
    sums, steps = reach(room - lengths[first], lengths, rest, fitting)
    best, found = sums.bit_length() - 1, {first: 1}
    for place, length, most, before in reversed(steps):
        count = min(most, best // length)
        while not before >> (best - count * length) & 1:
            count -= 1
        if count:
            found[place] = found.get(place, 0) + count
            best -= count * length
    return found


def fill_rolls(room: int, lengths: Sequence[int], demand: Sequence[int], order: Sequence[int]) -> Patterns:
    """Every piece on rolls of one length; ValueError for a piece that is longer."""
    left, found = list(demand), Patterns()
    while any(left):
        pattern = fill(room, lengths, left, order)
        if not pattern:
            raise ValueError("a piece is longer than the roll")
        times = min(left[place] // count for place, count in pattern.items())
        times = times // 2 if times > REPEATED else 1
        for place, count in pattern.items():
            left[place] -= count * times
        found.append((pattern, times))
    return found


def longest_first(lengths: Sequence[int]) -> list[int]:
    """Places by length, the longest first."""
    return sorted(range(len(lengths)), key=lambda place: -lengths[place])


def used(pattern: Pattern, lengths: Sequence[int]) -> int:
    """How much of a roll a pattern takes."""
    return sum(lengths[place] * count for place, count in pattern.items())
