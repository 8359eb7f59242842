"""Rolls of mesh and tape by the cut plan: what they take, and how many of each size, in place of a waste percentage.

Lengths are cut to 1/8 in, or to 1 mm where the answer is metric, rounded up (so that no piece is short).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from estimating.core.cutting.joining import wanted_in_steps
from estimating.core.cutting.rolls import Rolls, plan_rolls
from estimating.core.figures.figure import constant
from estimating.core.figures.printing import LENGTH
from estimating.core.figures.rules import product, rule
from rates.core.fraction import Fraction
from rates.core.rows import MaterialRow
from rates.core.units import LENGTH_NM

ROLES = ("mesh", "tape")
CUT_PLAN = "cut_plan"
STEPS = {"imperial": LENGTH_NM["in"] / 8, "metric": LENGTH_NM["mm"]}
CUT_TO = {
    "imperial": constant("1/8 in, that lengths are cut to", STEPS["imperial"], LENGTH),
    "metric": constant("1 mm, that lengths are cut to", STEPS["metric"], LENGTH),
}
Cut = tuple[Fraction, Fraction, int]  # length, width, count
Offer = tuple[Fraction, Fraction]  # length of a roll, price


def too_short(row: MaterialRow, lap: Fraction, step: Fraction) -> bool:
    """Whether a roll of a row is no longer than the lap of a joint, so that nothing can be joined of it."""
    return any(pack.size <= lap or pack.size < step for pack in row.packs)


def rolls_for(
    step: Fraction, lap: Fraction, wide: Fraction, stock: Fraction, offers: Sequence[Offer], cuts: Iterable[Cut]
) -> Rolls:
    """The plan of one material: nm as given, whole steps in the plan. ValueError for a roll no longer than the lap."""
    sizes = tuple((int(size // step), price) for size, price in offers)
    wanted = wanted_in_steps(step, lap, wide, max(size for size, _ in sizes), cuts)
    return plan_rolls(sizes, wide, max(0, int(stock // step)), wanted)


def rolls_of_terms(step: Fraction, lap: Fraction, wide: Fraction, stock: Fraction, terms: Any) -> Rolls:
    """The plan of a rule's inputs: (roll, price) of each size on offer, then (…counts, length, width) of each piece."""
    offers = [term for term in terms if len(term) == 2]
    cuts = [(term[-2], term[-1], int(product.function(*term[:-2]))) for term in terms if len(term) > 2]
    return rolls_for(step, lap, wide, stock, offers, cuts)


@rule(
    "length of the rolls that the cut plan takes, stock first, less the longest rest; inputs: what lengths are rounded "
    "up to, lap of a joint, width of a roll, stock, (roll, price) of each size, (counts, length, width) of each piece"
)
def rolls_taken(step: Fraction, lap: Fraction, wide: Fraction, stock: Fraction, *terms: Any) -> Fraction:
    """In nm."""
    return rolls_of_terms(step, lap, wide, stock, terms).taken * step


@rule("new rolls of the size at `place` in the cut plan; inputs after it as for the length that it takes")
def rolls_to_buy(
    place: Fraction, step: Fraction, lap: Fraction, wide: Fraction, stock: Fraction, *terms: Any
) -> Fraction:
    """How many."""
    return Fraction(rolls_of_terms(step, lap, wide, stock, terms).new[int(place)])


@rule("Σ count × size over terms, less the first")
def left_of_rolls(needed: Fraction, *rolls: tuple[Fraction, Fraction]) -> Fraction:
    """What new rolls hold over what is needed of them."""
    return sum((count * size for count, size in rolls), Fraction(0)) - needed


@rule("the stock that the cut plan takes for the whole job")
def chosen_for_job(code: str) -> str:
    """Its code."""
    return code
