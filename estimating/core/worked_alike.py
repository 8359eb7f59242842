"""Whether a line that changed is worked as before: what shifts on to it from others is then no change of its own."""

from __future__ import annotations

from dataclasses import replace

from estimating.core.comparison import Match
from estimating.core.estimate import Plan
from estimating.core.kinds import Kind, settle
from estimating.core.worked import highest_passed
from rates.core.fraction import Fraction

ACCESS = "ground"  # where a line says none


def is_worked_alike(before: Plan, after: Plan, found: Match, of_no_money: frozenset[str]) -> bool:
    """Whether a line says other factors that come to the same material, minutes and access under the earlier rates."""
    if found.before is None or found.after is None or not (of_no_money | {"factors"}).issuperset(found.classes):
        return False
    old, new = before.request.schedule.lines[found.before].kind, after.request.schedule.lines[found.after].kind
    return old is not None and new is not None and as_worked(before, old, before) == as_worked(after, new, before)


def as_worked(plan: Plan, index: int, under: Plan) -> tuple[Kind, tuple[Fraction, ...]]:
    """The kind with what the request says of all, without what only checks look at, and its factors for height."""
    kind, _ = settle(plan.request.schedule.kinds[index], plan.request.given)
    height = kind.height_above_grade_nm
    cards = [part.card for part, _ in under.parts]
    factors = [
        highest_passed(height or Fraction(0), *((row.over_nm, row.factor) for row in card.production.height))
        for card in cards
    ]
    bare = replace(
        kind,
        access=kind.access or ACCESS,
        override=None,
        height_above_grade_nm=None,
        external=None,
        from_inside=False,
        snapped=(),
    )
    return bare, tuple(factors)
