"""Between which temperatures the materials of a part may be put on, and how long they take to dry."""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.part import Part
from rates.core.fraction import Fraction

APPLIED = ("liquid", "tape", "primer", "sealant")
LOWEST_FAHRENHEIT = Fraction(40)  # and rising, where no data sheet is in the rates (from memory)
DRY_HOURS = Fraction(2)  # about, in cool weather (common practice, no source)


@dataclass(frozen=True)
class Limits:
    """The narrowest of what the part's materials allow. lowest_stated: whether the rates say it of each of them.

    dry_hours: of the last coat; 0 where nothing is fluid. dry_stated: whether the rates say it.
    """

    lowest_fahrenheit: Fraction
    highest_fahrenheit: Fraction | None
    lowest_stated: bool
    dry_hours: Fraction
    dry_stated: bool


def limits_of(part: Part) -> Limits:
    """What governs a part: the highest of the lowest temperatures, the lowest of the highest, its drying time."""
    rows = [line.row for line in part.materials if line.row.role in APPLIED]
    lows = [row.lowest_temperature_fahrenheit for row in rows]
    highs = [row.highest_temperature_fahrenheit for row in rows]
    stated = [low for low in lows if low is not None]
    fully = len(stated) == len(rows)
    lowest = max(stated if fully and stated else [*stated, LOWEST_FAHRENHEIT])
    fluid, coats = any(row.role == "liquid" for row in rows), part.conditions.production.coats
    dry = Fraction(0) if not fluid else DRY_HOURS if coats is None else coats.dry_hours
    highest = min((high for high in highs if high is not None), default=None)
    return Limits(lowest, highest, fully, dry, coats is not None or not fluid)
