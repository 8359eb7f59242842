"""Unit prices for openings added to and deducted from a mark: the change of the whole price over the range, by piece.

Each is two full estimates: packs, set-up, rental and minimum of the whole job, with so many more and so many fewer.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, replace

from estimating.core.estimate import Estimate
from estimating.core.request import Request, UnitPriceAsked
from estimating.core.schedule_lines import mark_key
from estimating.core.variants import evaluate
from rates.core.fraction import Fraction
from rates.core.money import ROUNDINGS


@dataclass(frozen=True)
class Change:
    """What so many openings more or fewer do: minor units. change = unit × openings + residual."""

    openings: int
    change_minor: int
    unit_minor: int
    residual_minor: int


@dataclass(frozen=True)
class UnitPrice:
    """The unit prices of a mark, None where there is none with its reason; the days from and until which they hold."""

    mark: str
    add: Change | None
    deduct: Change | None
    reason: str | None
    valid_from: datetime.date
    valid_until: datetime.date | None


def with_more(request: Request, key: str, more: int) -> Request | None:
    """The request with more of a mark on its first base line, or fewer from its last; None where it lacks them."""
    lines, left = list(request.schedule.lines), more
    places = [i for i, line in enumerate(lines) if line.mark_key == key and line.priced and line.kind is not None]
    for i in places[:1] if more > 0 else reversed(places):
        taken = max(left, -lines[i].quantity)
        lines[i] = lines[i]._replace(quantity=lines[i].quantity + taken)
        left -= taken
    return None if left else replace(request, schedule=replace(request.schedule, lines=tuple(lines)))


def priced_change(estimate: Estimate, key: str, more: int) -> tuple[Change | None, str | None]:
    """(what so many more or fewer of a mark do, why it can't be said)."""
    request = with_more(estimate.request, key, more)
    if request is None:
        return None, f"the base has fewer than {-more:,} of this mark" if more < 0 else "the base has no such mark"
    found = evaluate(estimate, "", request)
    if found.up is None:
        return None, found.reason
    change = found.up.price_minor - estimate.up.price_minor
    unit = ROUNDINGS["half_up"](Fraction(change, abs(more)))
    return Change(abs(more), change, unit, change - unit * abs(more)), None


def asked(estimate: Estimate) -> Sequence[UnitPriceAsked]:
    """The unit prices that the request asks for; where it asks for none, one more and one fewer of every mark."""
    marks = (mark.mark for mark in estimate.allocation.marks if mark.mark is not None and mark.lines)
    return estimate.request.unit_prices or [UnitPriceAsked(mark, 1, None, None) for mark in marks]


def unit_price(estimate: Estimate, of: UnitPriceAsked) -> UnitPrice:
    """The unit prices of one mark by two full estimates."""
    key = mark_key(of.mark)
    add, why_not = priced_change(estimate, key, of.quantity)
    deduct, why = priced_change(estimate, key, -of.quantity)
    start = of.valid_from or estimate.request.work_date
    return UnitPrice(of.mark, add, deduct, why_not or why, start, of.valid_until)
