"""Pieces in whole steps of length, rounded up, and those longer than a roll joined of several, lapped at each joint."""

from __future__ import annotations

from collections.abc import Iterable

from estimating.core.cutting.layout import Wanted
from rates.core.fraction import Fraction


def joined(length: int, roll: int, lap: int) -> list[tuple[int, int]]:
    """(length, count) of the lengths that a piece is made of: itself, or whole rolls and a last one, lapped.

    ValueError where a roll is no longer than its lap.
    """
    if length <= roll:
        return [(length, 1)]
    if roll <= lap:
        raise ValueError("a roll is no longer than its lap")
    whole = -(-(length - lap) // (roll - lap)) - 1
    return [(roll, whole), (length - whole * (roll - lap), 1)]


def wanted_in_steps(
    step: Fraction, lap: Fraction, wide: Fraction, roll: int, pieces: Iterable[tuple[Fraction, Fraction, int]]
) -> tuple[Wanted, ...]:
    """(length, width, count) in nm as pieces to cut, alike ones together, the longest first. ValueError as `joined`.

    roll: the longest on offer, in steps; wide: its width.
    """
    found: dict[tuple[int, Fraction], int] = {}
    for length, width, count in pieces:
        for part, times in joined(int(-(-length // step)), roll, int(-(-lap // step))):
            if part and times and count:
                found[part, width] = found.get((part, width), 0) + times * count
    ordered = sorted(found.items(), reverse=True)
    return tuple(Wanted(length, width, count, max(1, int(wide // width))) for (length, width), count in ordered)
