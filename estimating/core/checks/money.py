"""Checks of the way to the price: profit, overhead and burden that are not there, percentages that are unlikely."""

from __future__ import annotations

from collections.abc import Iterator

from estimating.core.checks.bands import BURDEN, PERCENTAGES, PRODUCTIVE_SHARE, Band
from estimating.core.checks.case import Case, OfRates, Rates
from estimating.core.checks.wording import listed
from rates.core.exact import print_quantity
from rates.core.fraction import Fraction


def without_step(step: str) -> OfRates:
    """The condition that an edition has no row of a step, or only rows of nothing."""

    def condition(rates: Rates) -> Iterator[Case]:
        rows = [row for row in rates.card.overheads if row.step == step]
        if not any(row.rate or row.amount or any(tier.rate for tier in row.tiers or ()) for row in rows):
            yield Case()

    return condition


def no_burden(rates: Rates) -> Iterator[Case]:
    """Classes of worker on whose wage no burden falls."""
    bare = [row.title for row in rates.labour if not any(burden.rate for burden in row.burden)]
    if bare:
        yield Case(" ".join(bare), {"titles": listed(bare)})


def told(about: str, title: str, value: Fraction, likely: Band, unit: str) -> Case:
    """A value outside what is likely."""
    low, high = (print_quantity(end) for end in likely)
    return Case(about, {"title": title, "value": f"{print_quantity(value)}{unit}", "low": low, "high": f"{high}{unit}"})


def percentages(rates: Rates) -> Iterator[Case]:
    """Percentages of overheads and burdens, and productive shares, that are unlikely; 0 is another check's."""
    for row in rates.card.overheads:
        stated = [100 * rate for rate in (row.rate, *(tier.rate for tier in row.tiers or ())) if rate]
        likely = PERCENTAGES.get(row.step)
        outside = [value for value in stated if likely is not None and not likely.holds(value)]
        if outside and likely is not None:
            yield told(f"overheads {row.code}", row.title, outside[0], likely, " %")
    for worker in rates.labour:
        burden = sum((entry.percent for entry in worker.burden), Fraction(0))
        if burden and not BURDEN.holds(burden):
            yield told(f"burden {worker.code}", f"Burden of {worker.title}", burden, BURDEN, " %")
        if not PRODUCTIVE_SHARE.holds(worker.productive_share):
            title = f"Productive share of {worker.title}"
            yield told(f"share {worker.code}", title, worker.productive_share, PRODUCTIVE_SHARE, "")
