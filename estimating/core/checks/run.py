"""The checks of an estimate, and those of an edition alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from estimating.core.checks.case import Finding, Rates, Work
from estimating.core.checks.table import CHECKS
from estimating.core.estimate import Estimate
from estimating.core.part import Part
from rates.core.card import Card


def all_rates(card: Card) -> Rates:
    """Every row of an edition."""
    return Rates(card, card.labour, card.materials, card.equipment, whole=True)


def rates_used(estimate: Estimate, part: Part) -> Rates:
    """The rows that price a part."""
    return Rates(
        part.plan.card,
        tuple(dict.fromkeys(rate.row for rate in part.crew.rates)),
        tuple(line.row for line in part.materials),
        tuple(line.row for line in part.equipment),
        temperature=part.conditions.temperature,
        metric=estimate.request.units == "metric",
    )


def once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings that say the same once: parts of a season split often do."""
    return tuple({(*found.key, found.sentence, found.case.lines): found for found in findings}.values())


def found_in(works: Iterable[Work], rates: Iterable[Rates]) -> Iterator[Finding]:
    """Every finding, in the order of the table."""
    parts, editions = list(works), list(rates)
    for check in CHECKS:
        for work in parts if check.of_work else ():
            yield from (Finding(check, case) for case in check.of_work(work))  # type: ignore[misc]
        for edition in editions if check.of_rates else ():
            yield from (Finding(check, case) for case in check.of_rates(edition))  # type: ignore[misc]


def checks(estimate: Estimate) -> tuple[Finding, ...]:
    """What is unlikely in an estimate, of its request, its schedule and the rows that price it."""
    priced = [part for part in estimate.parts if part.every_work]
    return once(found_in([Work(estimate, part) for part in priced], [rates_used(estimate, part) for part in priced]))


def edition_checks(card: Card) -> tuple[Finding, ...]:
    """What is unlikely in an edition by itself."""
    return once(found_in((), [all_rates(card)]))
