"""Change orders: proposed, revised, directed, agreed, disputed, withdrawn; what contracts come to; notices due."""

from __future__ import annotations

from collections.abc import Callable

from api.rest.exchange import Answer, Call, listing
from api.rest.quotes import who
from estimating.actions import change_order_steps
from estimating.actions import change_orders as actions
from estimating.queries import change_orders as queries
from estimating.queries.contracts import contracts as contracts_of
from estimating.states import ChangeOrderState
from rates.paging import Page


def orders(call: Call) -> Answer:
    """GET /v1/projects/{id}/change-orders: in JSON with what the contracts come to."""
    page = queries.change_orders(
        company=call.company, project=call.id, wanted=call.wanted, now=call.now, state=call.query["state"]
    )
    return listing(page, contracts=contracts_of(company=call.company, project=call.id).contracts)


def contract(call: Call) -> Answer:
    """GET /v1/projects/{id}/contract."""
    found = contracts_of(company=call.company, project=call.id)
    return listing(Page(tuple(found.lines), None), contracts=found.contracts)


def due(call: Call) -> Answer:
    """GET /v1/notices-due."""
    return listing(queries.notices_due(company=call.company, wanted=call.wanted, now=call.now))


def answer(order: queries.ChangeOrder) -> Answer:
    """A change order as an answer."""
    return Answer(order, tag=order.tag)


def sees_costs(call: Call) -> bool:
    """Whether the caller may see costs."""
    return "costs" in call.caller.scopes


def make(call: Call) -> Callable[[], Answer]:
    """POST /v1/projects/{id}/change-orders: priced before the transaction that numbers it."""
    ready = actions.prepare(company=call.company, project=call.id, said=call.body, sees_costs=sees_costs(call))

    def store() -> Answer:
        made = actions.propose(
            company=call.company, member=call.caller.member, project=call.id, ready=ready, now=call.now
        )
        return Answer(made, status=201, tag=made.tag, location=f"/v1/change-orders/{made.id}")

    return store


def show(call: Call) -> Answer:
    """GET /v1/change-orders/{id}."""
    return answer(queries.change_order(company=call.company, id=call.id, now=call.now))


def revise(call: Call) -> Callable[[], Answer]:
    """PATCH /v1/change-orders/{id}: priced before the transaction that stores it."""
    ready = actions.prepare_revision(company=call.company, id=call.id, said=call.body, sees_costs=sees_costs(call))
    return lambda: answer(actions.revise(**who(call), ready=ready))


def direct(call: Call) -> Answer:
    """POST /v1/change-orders/{id}/direct."""
    moved = change_order_steps.move(**who(call), state=ChangeOrderState.DIRECTED, directive=dict(call.body))
    return answer(moved)


def agree(call: Call) -> Answer:
    """POST /v1/change-orders/{id}/agree."""
    said = {"said": call.body.get("reason", ""), "agreed_price": call.body.get("price")}
    return answer(change_order_steps.move(**who(call), state=ChangeOrderState.AGREED, **said))


def dispute(call: Call) -> Answer:
    """POST /v1/change-orders/{id}/dispute."""
    return answer(change_order_steps.move(**who(call), state=ChangeOrderState.DISPUTED, said=call.body["reason"]))


def withdraw(call: Call) -> Answer:
    """POST /v1/change-orders/{id}/withdraw."""
    return answer(change_order_steps.move(**who(call), state=ChangeOrderState.WITHDRAWN, said=call.body["reason"]))
