"""The offers of a re-quote: held rates, today's, and their blend; and which line of the quote before is which now."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from estimating.compared.lines import line_sentence, sides_of
from estimating.compared.values import Reader
from estimating.core.blend import blend
from estimating.core.comparison import Decided, match
from estimating.core.estimate import Estimate, estimate
from estimating.core.job import Job, cost
from estimating.core.request import Request
from estimating.core.schedule import Schedule
from estimating.intake.said import Show
from estimating.outputs.quotes.prepared import Offer, Paired, line_prices
from rates.core.problems import Refused

OWN_USE = "own_use"
HELD, TODAY, BLEND = "held", "today", "blend"


@dataclass(frozen=True)
class Sides:
    """A new schedule under the editions of the quote before and under today's; held None: refused, `why`."""

    before: Request
    held: Job | None
    today: Job
    decided: Decided
    why: str = ""


def offers_of(sides: Sides, today: Estimate, held_editions: Sequence[Any], editions: Sequence[Any]) -> list[Offer]:
    """Today's price first, then held rates and the blend, or why there are none."""
    found = [Offer(TODAY, today.up.price_minor, line_prices(today), editions)]
    if sides.held is None:
        return [*found, Offer(HELD, None, why=sides.why), Offer(BLEND, None, why=sides.why)]
    try:
        held = cost(sides.held)
    except Refused as refused:
        why = refused.problems[0].detail
        return [*found, Offer(HELD, None, why=why), Offer(BLEND, None, why=why)]
    found.append(Offer(HELD, held.up.price_minor, line_prices(held), held_editions))
    mixed = blend(sides.before, by_own_use(sides.held, held), by_own_use(sides.today, today), sides.decided)
    lines = [mixed.lines[i] for i in today.request.schedule.priced]
    return [*found, Offer(BLEND, mixed.price_minor, [*lines, *mixed.beside], editions)]


def by_own_use(job: Job, costed: Estimate) -> Estimate:
    """The estimate with its price allocated to lines by own use."""
    if costed.request.allocate_by == OWN_USE:
        return costed
    plan = job.plan
    return estimate(replace(plan, request=replace(plan.request, allocate_by=OWN_USE)))


def paired(
    before: Schedule, after: Schedule, decided: Decided, show: Show, beside: tuple[int, int]
) -> Iterator[Paired]:  # fmt: skip
    """Which priced line of the quote before is which line now, then what stands on no line, in its order.

    beside: how many of those the quote before and this one have.
    """
    olds = {line: place for place, line in enumerate(before.priced)}
    news = {line: place for place, line in enumerate(after.priced)}
    for found in match(before, after, decided):
        sentence = line_sentence(sides_of(found, before, after), Reader(show)) if found.classes else ""
        places = (olds.get(found.before, None), news.get(found.after, None))  # type: ignore[arg-type]
        if places != (None, None):
            yield Paired(*places, sentence)
    for place in range(max(beside)):
        old_place = len(olds) + place if place < beside[0] else None
        new_place = len(news) + place if place < beside[1] else None
        words = "" if place < min(beside) else "Work on no opening of its own came or went."
        yield Paired(old_place, new_place, words)


def open_proposals(before: Schedule, after: Schedule, decided: Decided) -> list[tuple[str, str]]:
    """(mark before, mark now) of lines that size and place alone match, and of which no person has said that."""
    return [
        (before.lines[found.before].mark, after.lines[found.after].mark)
        for found in match(before, after, decided)
        if found.proposed and found.before is not None and found.after is not None
    ]
