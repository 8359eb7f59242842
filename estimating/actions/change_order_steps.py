"""What becomes of a change order: directed, agreed, disputed, withdrawn."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from estimating.actions.change_orders import lock_order, note_step
from estimating.actions.quotes import role_of
from estimating.core.contract import NEXT
from estimating.core.margins import Costs
from estimating.models import ChangeOrder
from estimating.queries import change_orders as shown
from estimating.queries.quote_blocks import limit_of
from estimating.states import ChangeOrderState
from rates.core.exact import read_decimal
from rates.core.money import read_money
from rates.core.problems import Problem, Refused, Unreadable
from rates.core.steps import CONTAINED, PASSED, steps_of
from rates.documents import pack, unpack
from rates.models import Company
from rates.refusals import Conflict, Expected, NotAllowed
from rates.roles import Role

SETTLED = "Price as agreed, less as it was priced"
BEYOND = "this gives away more than your role may; the principal may agree to it"


@transaction.atomic
def move(
    *,
    company: uuid.UUID,
    member: uuid.UUID,
    id: uuid.UUID,
    state: ChangeOrderState,
    said: str = "",
    directive: dict[str, Any] | None = None,
    agreed_price: str | None = None,
    expected: Expected,
    now: datetime.datetime,
) -> shown.ChangeOrder:
    """The change order in another state; NotThere, Stale, Conflict where that may not follow, Refused, NotAllowed."""
    row = lock_order(company, id, expected, now)
    if state not in NEXT[row.state]:
        raise Conflict("change_order_state", f"change order {row.number} is {row.state} and can't be {state}")
    if directive is not None:
        row.directive = directive
    if state == ChangeOrderState.AGREED:
        settle(row, agreed_price, role_of(company, member))
    row.state, row.version = state, row.version + 1
    row.save()
    note_step(row, state, member, said, now)
    return shown.change_order(company=company, id=id, now=now)


def settle(row: ChangeOrder, agreed: str | None, role: str) -> None:
    """The price that is agreed: as it was priced, or another, with the difference as a line; Refused, NotAllowed."""
    before = row.price_minor
    if agreed is None:
        if before is None:
            detail = "it has no price yet; price it, or say what was agreed"
            raise Refused([Problem("/price", "missing", detail)])
        return
    try:
        row.price_minor = read_money(agreed, row.currency)
    except Unreadable as why:
        raise Refused([Problem("/price", why.code, why.detail)]) from None
    pricing = unpack(row.pricing) if row.pricing is not None else {"lines": [], "build_up": [], "edition": None}
    require_offer(row, before, costs_of(pricing["build_up"]), role)
    left = row.price_minor - (before or 0)
    if left:
        title = SETTLED if before is not None else "Price as agreed"
        entry = {"title": title, "quantity": "1", "unit": "lump_sum", "price_minor": left}
        row.pricing = pack(pricing | {"lines": [*pricing["lines"], entry]})


def costs_of(build_up: Sequence[Mapping[str, Any]]) -> Costs | None:
    """What the price of time and material has to cover; None where no cost is known."""
    sums = [
        sum(line["amount_minor"] for line in build_up if line["step"] in steps)
        for steps in (PASSED["cost"], steps_of(CONTAINED))
    ]
    return Costs(*sums) if build_up else None


def require_offer(row: ChangeOrder, before: int | None, costs: Costs | None, role: str) -> None:
    """NotAllowed where another price than the one reckoned gives more away than the role may, or has not been reckoned.

    As with quotes, the sentence is the same whichever limit is passed, and the principal has none.
    """
    agreed = row.price_minor
    if role == Role.PRINCIPAL or agreed is None or (before is not None and agreed >= before):
        return
    company = Company.objects.get(pk=row.company_id)
    limit, floor = limit_of(company, role), company.margin_floor
    beyond = limit is not None and (before is None or 100 * (before - agreed) > read_decimal(limit) * abs(before))
    below = floor and costs is not None and not costs.reaches(agreed, read_decimal(floor))
    if beyond or below:
        raise NotAllowed("needs_approval", BEYOND)
