"""Assumptions and who stands behind each: signed of this estimate, or of an earlier one of its project."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from estimating.models import Estimate as EstimateRow
from estimating.models import SignOff
from estimating.outputs.assumptions.item import ANSWER, REQUEST
from estimating.outputs.documents.scalars import Money
from estimating.outputs.quotes.prepared import Assumed, assumed
from estimating.queries.assumptions import found_assumptions
from estimating.queries.estimates import require_costed
from rates.core.money import print_money


@dataclass(frozen=True)
class SignedAssumption:
    """One assumption of an estimate. state: open, signed, inherited (of an earlier estimate), answered or entered.

    moves: whether another value would move the price, as far as it is known; stake: by how much at most.
    """

    assumption: str
    field: str
    value: str
    source: str
    openings: int
    sentence: str
    state: str
    estimate: uuid.UUID | None  # of which it was signed
    signed_by: uuid.UUID | None
    signed_at: datetime.datetime | None
    moves: str
    stake: Money | None


STATES = ("open", "signed", "inherited", "answered", "entered")
UNSIGNED = {ANSWER: "answered", REQUEST: "entered"}  # what was somebody's word already


@dataclass(frozen=True)
class SignOffs:
    """Every assumption of an estimate, and how many still wait for a person."""

    open: int
    items: tuple[SignedAssumption, ...]


def standing(*, company: uuid.UUID, row: EstimateRow) -> Mapping[str, SignOff]:
    """The sign-offs that hold for an estimate by the key of what was signed, the latest of each."""
    rows = SignOff.objects.of(company).filter(taken_back_at=None)
    if row.project_id is None:
        rows = rows.filter(estimate_id=row.pk)
    else:
        rows = rows.filter(project_id=row.project_id, estimate__number__lte=row.number)
    return {found.key: found for found in rows.order_by("signed_at")}


def unsigned(
    *, company: uuid.UUID, row: EstimateRow, items: Collection[Assumed]
) -> list[Assumed]:  # fmt: skip
    """The assumptions that nobody stands behind yet."""
    signed = standing(company=company, row=row)
    return [item for item in items if item.needs_sign_off and item.key not in signed]


def sign_offs(*, company: uuid.UUID, id: uuid.UUID) -> SignOffs:
    """Every assumption of a costed estimate with its sign-off; NotThere, Conflict until costed."""
    require_costed(company, id)
    row = EstimateRow.objects.of(company).get(pk=id)
    return show(company, row, assumed(found_assumptions(company=company, row=row)))


def show(company: uuid.UUID, row: EstimateRow, items: Collection[Assumed]) -> SignOffs:
    """Assumptions of an estimate with their sign-offs."""
    signed = standing(company=company, row=row)
    shown = tuple(show_one(item, signed.get(item.key), row) for item in items)
    return SignOffs(sum(item.state == "open" for item in shown), shown)


def show_one(item: Assumed, signed: SignOff | None, row: EstimateRow) -> SignedAssumption:
    """One assumption with its sign-off."""
    state = UNSIGNED.get(item.source, "open")
    if item.needs_sign_off and signed is not None:
        state = "signed" if signed.estimate_id == row.pk else "inherited"
    known = signed if state in ("signed", "inherited") else None
    return SignedAssumption(
        assumption=item.key,
        field=item.field,
        value=item.value,
        source=item.source,
        openings=item.openings,
        sentence=item.sentence,
        state=state,
        estimate=known.estimate_id if known else None,
        signed_by=known.signed_by_id if known else None,
        signed_at=known.signed_at if known else None,
        moves=item.moves,
        stake=None if item.stake_minor is None else print_money(item.stake_minor, row.currency),
    )
