"""Which counts of several parts leave no doubt: 2+3, 3R/2L, 4 (four), x2, 4 per floor."""

from __future__ import annotations

import re

from estimating.intake.count_words import CountText

ONE = frozenset({"number", "each", "bracket", "word", "dozen"})
HANDS = frozenset({"left", "right"})
SUMMED = HANDS | {"add"}
_UNITS = re.compile(r"[0-9]{1,4}\s*(?:units?|openings?|opngs?)\.?", re.IGNORECASE | re.ASCII)


def each_floor(said: CountText) -> int | None:
    """The count of 4 per floor or 2 ea. level, which counts on each storey of its line."""
    hows = [part.how for part in said.parts]
    per = [part for part in said.parts if part.how == "per" and part.per == "floor"]
    numbers = [part.count for part in said.parts if part.count is not None]
    return (
        numbers[0]
        if per and len(numbers) == 1 and not said.residue and set(hows) <= {"per", "number", "each"}
        else None
    )


def sure_count(said: CountText) -> int | None:
    """The count of parts without a doubt: plus signs, left and right, of a total or not, one said twice, x2."""
    hows = [part.how for part in said.parts]
    numbers = [part.count for part in said.parts if part.count is not None]
    if not numbers or len(numbers) != len(hows) or said.residue:
        return None
    if hows[0] in ONE and len(hows) > 1 and set(hows[1:]) <= HANDS:  # 4 (2L, 2R): the hands of these four
        return numbers[0] if sum(numbers[1:]) == numbers[0] else None
    joined = said.signs.count("+") == len(said.signs)
    if set(hows[1:]) <= SUMMED and (hows[0] in ONE or hows[0] in SUMMED) and len(hows) > 1 and not said.signs:
        return sum(numbers)
    if set(hows) <= ONE and len(hows) > 1 and joined and len(said.signs) == len(hows) - 1:
        return sum(numbers)
    if set(hows) <= ONE and len(hows) == 2 and len(set(numbers)) == 1 and len(set(hows)) == 2 and not said.signs:
        return numbers[0]
    if hows == ["times"] or (hows == ["places"] and _UNITS.fullmatch(said.consumed[0])):
        return None if said.signs else numbers[0]
    return None
