"""The blend of a re-quote: unchanged openings at held rates, all others at today's, each as part of the whole job.

The new schedule is costed whole twice, under the held editions and under today's. A line that is unchanged brings its
price of the first, every other one its price of the second; of a line whose quantity grew the held count brings the
first's, the rest the second's. So one more opening never buys a pail of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.core.comparison import Decided, Match, match
from estimating.core.estimate import Estimate
from estimating.core.request import Request
from rates.core.fraction import Fraction
from rates.core.money import allocate_values

OF_NO_MONEY = frozenset({"renumbered", "source"})
GREW = OF_NO_MONEY | {"quantity"}
# what the requests say of every opening, or of the work on all of them: where it differs, no line is unchanged
SAID_OF_LINES = (
    "given", "seal", "only_external", "temperature", "congestion", "rework", "crew", "materials", "no_primer_reason",
)  # fmt: skip
SAID_OF_JOB = ("joints", "subcontracts", "allowances")


@dataclass(frozen=True)
class Blend:
    """The price in minor units, what each line and what stands on no line brings, and how many lines are held.

    lines: by line of the new schedule, 0 where a line is not priced. beside: joints and the job, as allocated.
    rounded_up: how much of it rounding up brought; it is shared over lines and beside already.
    """

    price_minor: int
    lines: tuple[int, ...]
    beside: tuple[int, ...]
    held: tuple[int, ...]
    rounded_up_minor: int


def held_counts(before: Request, after: Request, decided: Decided) -> tuple[int, ...]:
    """How many openings of each new line are at held rates: all, those that were there before, or none."""
    counts = [0] * len(after.schedule.lines)
    if any(getattr(before, name) != getattr(after, name) for name in SAID_OF_LINES):
        return tuple(counts)
    for found in match(before.schedule, after.schedule, decided):
        if found.before is not None and found.after is not None:
            counts[found.after] = held_count(before, after, found)
    return tuple(counts)


def held_count(before: Request, after: Request, found: Match) -> int:
    """How many openings of one matched line are held."""
    assert found.before is not None and found.after is not None
    old, new = before.schedule.lines[found.before], after.schedule.lines[found.after]
    classes = set(found.classes)
    if classes <= OF_NO_MONEY:
        return int(new.quantity)
    grew = classes <= GREW and new.quantity > old.quantity
    return int(old.quantity) if grew else 0


def beside_prices(estimate: Estimate) -> list[int]:
    """The prices of what stands on no line, minor units: the joints, and a price with nothing to put it on."""
    marks = estimate.allocation.marks
    return [mark.price_minor for mark in marks if not mark.lines and (mark.mark is None or mark.quantity)]


def blend(before: Request, held: Estimate, today: Estimate, decided: Decided) -> Blend:
    """The blend of a schedule costed under held editions and under today's; `before` is what was quoted.

    Nothing changed gives the held price, everything changed today's; the sum is rounded up once as today's edition
    says.
    """
    after = today.request
    counts = held_counts(before, after, decided)
    quantities = [line.quantity for line in after.schedule.lines]
    exact = [
        split(first, second, count, quantity)
        for first, second, count, quantity in zip(
            held.allocation.line_prices, today.allocation.line_prices, counts, quantities, strict=True
        )
    ]
    same_job = all(getattr(before, name) == getattr(after, name) for name in SAID_OF_JOB)
    beside = [Fraction(minor) for minor in beside_prices(held if same_job else today)]
    priced = set(after.schedule.priced)
    all_held = same_job and all(counts[i] == quantities[i] for i in priced)
    return total(exact, beside, counts, 0 if all_held else step_of(today))


def split(held_minor: int, today_minor: int, count: int, quantity: int) -> Fraction:
    """What a line brings: the held count at the first's unit share, the rest at the second's."""
    if not quantity:
        return Fraction(today_minor)
    return Fraction(held_minor * count + today_minor * (quantity - count), quantity)


def step_of(estimate: Estimate) -> int:
    """What the edition rounds prices up to, in minor units; 0 where it doesn't."""
    rows = [row.amount for row in estimate.card.overheads if row.step == "round_up_to" and row.amount is not None]
    return int(estimate.till.minor(rows[0])) if rows else 0


def total(exact: Sequence[Fraction], beside: Sequence[Fraction], counts: tuple[int, ...], step: int) -> Blend:
    """The sum rounded to the minor unit, rounded up once, and shared over what it is the sum of."""
    values = [*exact, *beside]
    whole = sum(values, Fraction(0))
    minor = int((2 * whole.numerator + whole.denominator) // (2 * whole.denominator))
    price = -(-minor // step) * step if step else minor
    shares = share(values, whole, minor, price)
    return Blend(price, tuple(shares[: len(exact)]), tuple(shares[len(exact) :]), counts, price - minor)


def share(values: Sequence[Fraction], whole: Fraction, minor: int, price: int) -> list[int]:
    """The price over exact values, by largest remainder."""
    if not whole:
        return [0] * len(values)
    scaled = values if minor == price == whole else [value * price / whole for value in values]
    return allocate_values(scaled, price)
