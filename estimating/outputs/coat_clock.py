"""Coats of a zone on the clock: how many openings one after the other so that nobody waits, and when each is coated.

A batch of ceil(interval ÷ first coat) + 1 openings takes one worker just past the interval, so that the second coat
goes on the first of them at once. A smaller zone waits for the rest of the interval. Minutes are standard.
"""

from __future__ import annotations

from math import ceil
from typing import Any

from estimating.core.scheduling.limits import Limits
from estimating.core.scheduling.tasks import Task
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction

Row = dict[str, Any]
INTERVAL = Fraction(30)  # minutes between coats, or until the colour has changed (common practice, no source)
FIRST_SHARE = Fraction(1, 2)  # of the time of both coats, where the rates state none (common practice, no source)
MOST_SHOWN = 12  # openings of a batch on the clock


def batch_size(interval: Fraction, first_coat: Fraction) -> int:
    """How many openings keep one worker busy for the interval."""
    return ceil(interval / first_coat) + 1


def on_the_clock(
    openings: int, first: Fraction, second: Fraction, interval: Fraction
) -> list[tuple[Fraction, Fraction]]:
    """Minutes from the start at which the first and the second coat of each opening begin, worked by one."""
    free = openings * first
    found = []
    for place in range(openings):
        begins = max(free, (place + 1) * first + interval)
        found.append((place * first, begins))
        free = begins + second
    return found


def coat_row(task: Task, limits: Limits) -> Row | None:
    """Batch, waiting and clock of a zone; None where nothing in it takes coats."""
    works, lines = task.part.works, task.part.conditions.request.schedule.lines
    fluid = [(works[k], lines[i].quantity) for i in task.lines if (k := lines[i].kind) in works and k is not None]
    fluid = [(work, count) for work, count in fluid if work.method == "fluid"]
    openings = sum(count for _, count in fluid)
    if not openings:
        return None
    row = task.part.conditions.production.coats
    interval = INTERVAL if row is None else row.interval_minutes
    share = None if row is None else row.first_coat_share
    base = sum((work.base_minutes * count for work, count in fluid), Fraction(0)) / openings
    first = base * (FIRST_SHARE if share is None else share)
    batch = min(openings, batch_size(interval, first)) if first else openings
    times = on_the_clock(min(batch, MOST_SHOWN), first, base - first, interval) if batch <= MOST_SHOWN else []
    return {
        "openings": openings,
        "first_coat_minutes": print_quantity(first),
        "second_coat_minutes": print_quantity(base - first),
        "share_from": "default" if share is None else "rates",
        "interval_minutes": print_quantity(interval),
        "interval_from": "default" if row is None else "rates",
        "batch": batch,
        "waiting_minutes": print_quantity(max(Fraction(0), interval - (openings - 1) * first)),
        "dry_hours": print_quantity(limits.dry_hours),
        "dry_from": "rates" if limits.dry_stated else "default",
        "clock": [
            {"opening": place, "first_coat": print_quantity(one), "second_coat": print_quantity(two)}
            for place, (one, two) in enumerate(times, 1)
        ],
    }
