"""A change priced by quoted unit prices: so many openings of a mark more or fewer, within count and time of each."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimating.core.estimate import Estimate
from estimating.core.schedule_lines import mark_key
from estimating.core.unit_prices import UnitPrice, asked, unit_price
from rates.core.problems import Problem
from rates.core.texts import counted


@dataclass(frozen=True)
class Asked:
    """Openings of a mark that come (above 0) or go."""

    mark: str
    openings: int


@dataclass(frozen=True)
class Priced:
    """What they do: the unit price and the amount in minor units, both below 0 where openings go."""

    mark: str
    openings: int
    unit_minor: int
    amount_minor: int


def price_by_units(
    estimate: Estimate, wanted: Sequence[Asked], day: datetime.date, taken: Mapping[tuple[str, bool], int]
) -> tuple[list[Priced], list[Problem]]:
    """(openings × unit price of each entry, every reason why an entry has no quoted unit price).

    day: of the work; taken: by key of the mark and whether openings come, how many the contract's other change orders
    have used of the range. Beyond it packs, set-up and rental of the whole job are others, so it is no price.
    """
    known = {mark_key(of.mark): of for of in asked(estimate)}
    used = dict(taken)
    priced, faults = [], []
    for place, entry in enumerate(wanted):
        at, key = f"/unit_prices/{place}", (mark_key(entry.mark), entry.openings > 0)
        of = known.get(key[0])
        if of is None:
            detail = f'no unit price was quoted for the mark "{entry.mark}"'
            faults.append(Problem(f"{at}/mark", "not_quoted", detail))
            continue
        found = unit_price(estimate, of)
        used[key] = used.get(key, 0) + abs(entry.openings)
        wrong = [*out_of_time(found, day, at), *out_of_range(found, entry, used[key], of.quantity, at)]
        change = found.add if key[1] else found.deduct
        if wrong or change is None:
            faults += wrong
            continue
        amount = change.unit_minor * abs(entry.openings)
        priced.append(Priced(found.mark, entry.openings, change.unit_minor, amount))
    return priced, faults


def out_of_time(found: UnitPrice, day: datetime.date, at: str) -> list[Problem]:
    """Why the unit price does not hold on the day of the work."""
    if found.valid_from <= day and (found.valid_until is None or day <= found.valid_until):
        return []
    until = f" until {found.valid_until}" if found.valid_until is not None else " on"
    detail = f'the unit price of "{found.mark}" holds from {found.valid_from}{until}, not on {day}'
    return [Problem(at, "out_of_time", detail)]


def out_of_range(found: UnitPrice, entry: Asked, used: int, most: int, at: str) -> list[Problem]:
    """Why the unit price does not hold for so many, those of other change orders with them."""
    way = "added" if entry.openings > 0 else "taken away"
    if used > most:
        detail = f'the unit price of "{found.mark}" holds for {counted(most, "opening")} {way}, not for {used:,}'
        return [Problem(f"{at}/openings", "out_of_range", detail)]
    if (found.add if entry.openings > 0 else found.deduct) is None:
        return [Problem(at, "not_quoted", f"no unit price was quoted for openings {way}: {found.reason}")]
    return []
