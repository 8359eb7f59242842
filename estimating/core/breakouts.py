"""The price broken out by building, elevation, storey and phase: prices of lines summed, so each sums to the price."""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.estimate import Estimate, part_of_lines
from estimating.core.schedule_lines import place_key
from rates.core.fraction import Fraction

BY = ("building", "elevation", "storey", "phase")
WHAT = PLACE, NOT_STATED, JOINTS, NO_OPENING = "place", "not_stated", "joints", "no_opening"


@dataclass
class Breakout:
    """What stands at one place, minor units. what: a place, lines that name none, the joints, a price on no opening."""

    by: str
    name: str
    what: str
    openings: int = 0
    touch_minutes: Fraction = Fraction(0)
    price_minor: int = 0

    def add(self, openings: int, touch_minutes: Fraction, price_minor: int) -> None:
        """Counts more at this place."""
        self.openings += openings
        self.touch_minutes += touch_minutes
        self.price_minor += price_minor


def broken_out(estimate: Estimate, by: str) -> tuple[Breakout, ...]:
    """The price by one of the fields of a line's place, in order of first appearance, then what stands at no place."""
    lines, prices = estimate.request.schedule.lines, estimate.allocation.line_prices
    owner, found = part_of_lines(estimate.parts), dict[str, Breakout]()
    for i in estimate.request.schedule.priced:
        line = lines[i]
        name = getattr(line, by)
        place = found.setdefault(place_key(name), Breakout(by, name, PLACE if name.strip() else NOT_STATED))
        part = owner.get(i)
        work = estimate.parts[part].works.get(line.kind) if part is not None and line.kind is not None else None
        touch = work.touch_minutes * line.quantity if work is not None else Fraction(0)
        place.add(line.quantity, touch, prices[i])
    apart = [mark for mark in estimate.allocation.marks if not mark.lines]
    for mark in apart:
        place = Breakout(by, "", JOINTS if mark.mark is not None else NO_OPENING)
        place.add(0, mark.touch_minutes, mark.price_minor)
        found[f"\0{place.what}"] = place
    return tuple(found.values())


def breakouts(estimate: Estimate) -> tuple[Breakout, ...]:
    """The price by each of them, one after the other."""
    return tuple(place for by in BY for place in broken_out(estimate, by))
