"""What the contracts of a project come to today: awards and change orders, where each counts, and the sums."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from estimating.awards import accepted_names
from estimating.core.contract import AGREED, DIRECTED, DISPUTED, PROPOSED, WITHDRAWN, Counted, standing
from estimating.models import ChangeOrder, Quote, QuoteState
from estimating.outputs.documents.change_orders import State
from estimating.outputs.documents.scalars import Money, Named
from estimating.queries.projects import require_project
from rates.core.money import print_money

AWARD, CHANGE_ORDER = "award", "change_order"
LineKind = Annotated[str, Named("ContractLineKind", words=(AWARD, CHANGE_ORDER))]


@dataclass(frozen=True)
class Contract:
    """An awarded quote, its change orders: contract = awarded + agreed, exposure = proposed + directed + disputed."""

    quote: uuid.UUID
    number: int
    customer: str
    currency: str
    awarded: Money
    agreed: Money
    contract: Money
    proposed: Money
    directed: Money
    disputed: Money
    exposure: Money
    withdrawn: Money
    unpriced: Annotated[int, "open change orders that have no price yet"]


@dataclass(frozen=True)
class ContractLine:
    """An award or a change order; the column contract sums to the contract of today, exposure to what is not agreed."""

    kind: LineKind
    quote_number: int
    number: int
    title: str
    state: State | None
    currency: str
    price: Money | None
    contract: Money
    exposure: Money


@dataclass(frozen=True)
class Contracts:
    """A project's contracts, and the lines that they are made of."""

    contracts: Sequence[Contract]
    lines: Sequence[ContractLine]


def contracts(*, company: uuid.UUID, project: uuid.UUID) -> Contracts:
    """The contracts of a project by the number of their quotes; NotThere."""
    require_project(company=company, id=project)
    awards = Quote.objects.of(company).filter(project_id=project, state=QuoteState.AWARDED)
    orders: dict[uuid.UUID, list[ChangeOrder]] = {}
    for row in ChangeOrder.objects.of(company).filter(project_id=project).defer("pricing").order_by("number"):
        orders.setdefault(row.quote_id, []).append(row)
    found, lines = [], []
    for quote in awards.defer("prepared", "content").order_by("number"):
        own = orders.get(quote.pk, [])
        found.append(show_contract(quote, own))
        lines += [show_award(quote), *(show_order(quote, row) for row in own)]
    return Contracts(found, lines)


def show_contract(quote: Quote, orders: Sequence[ChangeOrder]) -> Contract:
    """One contract with its sums."""
    found = standing(quote.awarded_minor, (Counted(row.state, row.price_minor) for row in orders))
    assert quote.number is not None  # it was issued

    def text(minor: int) -> str:
        return print_money(minor, quote.currency)

    return Contract(
        quote=quote.pk,
        number=quote.number,
        customer=quote.customer_name,
        currency=quote.currency,
        awarded=text(found.awarded_minor),
        agreed=text(found.by_state[AGREED]),
        contract=text(found.contract_minor),
        proposed=text(found.by_state[PROPOSED]),
        directed=text(found.by_state[DIRECTED]),
        disputed=text(found.by_state[DISPUTED]),
        exposure=text(found.exposure_minor),
        withdrawn=text(found.by_state[WITHDRAWN]),
        unpriced=found.unpriced,
    )


def show_award(quote: Quote) -> ContractLine:
    """An awarded quote as a line."""
    assert quote.number is not None
    price = print_money(quote.awarded_minor, quote.currency)
    nothing = print_money(0, quote.currency)
    names = accepted_names(quote)
    title = f"quote {quote.number} to {quote.customer_name}" + (
        f", with alternates {', '.join(names)}" if names else ""
    )
    return ContractLine(AWARD, quote.number, quote.number, title, None, quote.currency, price, price, nothing)


def show_order(quote: Quote, row: ChangeOrder) -> ContractLine:
    """A change order as a line."""
    counted = Counted(row.state, row.price_minor)
    assert quote.number is not None
    return ContractLine(
        kind=CHANGE_ORDER,
        quote_number=quote.number,
        number=row.number,
        title=row.title,
        state=row.state,
        currency=row.currency,
        price=None if row.price_minor is None else print_money(row.price_minor, row.currency),
        contract=print_money(counted.contract_minor, row.currency),
        exposure=print_money(counted.exposure_minor, row.currency),
    )
