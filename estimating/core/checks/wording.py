"""Marks, lengths, amounts and access as sentences of checks say them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import islice

from estimating.core.request import Request
from rates.core.exact import print_quantity, round_half_up
from rates.core.fraction import Fraction
from rates.core.texts import counted
from rates.core.units import LENGTH_NM, print_feet_inches

NAMED = 4  # marks by name in one sentence
JOINTS = "The sheathing joints"
FROM = {
    "ground": "the ground",
    "step_ladder": "a step ladder",
    "ladder": "a ladder",
    "extension_ladder": "an extension ladder",
    "rolling_scaffold": "a rolling scaffold",
    "frame_scaffold": "a frame scaffold",
    "lift": "a lift",
    "swing_stage": "a swing stage",
}


def marks(request: Request, lines: Sequence[int]) -> str:
    """The marks of lines with their openings, the first few by name: W1 (6 openings), W2 (1 opening) and 3 more."""
    every = request.schedule.lines
    counts: dict[str, int] = {}
    for i in lines:
        line = every[i]
        counts[line.mark_key] = counts.get(line.mark_key, 0) + line.quantity
    first = dict(islice(counts.items(), NAMED))
    written = [next(every[i].mark for i in lines if every[i].mark_key == key) for key in first]
    named = [f"{mark} ({counted(count, 'opening')})" for mark, count in zip(written, first.values(), strict=True)]
    if len(counts) > NAMED:
        rest = sum(counts.values()) - sum(first.values())
        more = counted(len(counts) - NAMED, "more mark")
        return f"{', '.join(named)} and {more} ({counted(rest, 'opening')})"
    return listed(named)


def length(nm: Fraction, metric: bool) -> str:
    """A length as read on a site: feet and inches to 1/8 in, or millimetres."""
    return f"{print_quantity(nm / LENGTH_NM['mm'], 0)} mm" if metric else print_feet_inches(nm, 8)


def amount(value: Fraction) -> str:
    """Money of the major unit with two places: 3,400.00."""
    cents = round_half_up(value * 100)
    return f"{cents // 100:,}.{cents % 100:02d}"


def percent(rate: Fraction) -> str:
    """A rate as a percentage."""
    return print_quantity(rate * 100, 2)


def listed(words: Iterable[str]) -> str:
    """Words in a row: sill, jambs and head."""
    every = list(words)
    return " and ".join(part for part in (", ".join(every[:-1]), *every[-1:]) if part)
