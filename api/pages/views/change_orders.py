"""Change orders of a project with what its contracts come to today, and one of them with its lines and steps."""

from __future__ import annotations

from typing import Any

from api.pages.exchange import Show, Visit
from api.plain import plain
from estimating.core.contract import NEXT
from estimating.queries import change_orders as queries
from estimating.queries import projects
from estimating.queries.contracts import contracts
from rates.paging import Wanted

LINES = 200
STEPS = {  # the state that a step leads to -> its word in the address, what its button says
    "agreed": ("agree", "It is agreed"),
    "directed": ("direct", "The customer says go ahead"),
    "disputed": ("dispute", "It is disputed"),
    "withdrawn": ("withdraw", "Withdraw it"),
}


def listing(visit: Visit) -> Show:
    """GET /projects/{id}/change-orders."""
    who: dict[str, Any] = {"company": visit.company, "project": visit.id}
    project = projects.project(company=visit.company, id=visit.id)
    found = visit.see("project-contract", contracts(**who))
    wanted = Wanted(LINES, visit.asked.get("cursor"), "number")
    page = visit.see("change-orders", queries.change_orders(**who, wanted=wanted, now=visit.now))
    values = {"project": project, "contracts": found.contracts, "lines": found.lines, "page": page}
    return Show("change-orders/listing.html", values)


def head(visit: Visit) -> dict[str, Any]:
    """What every page of a change order shows: itself as this person may see it."""
    found = queries.change_order(company=visit.company, id=visit.id, now=visit.now)
    order: dict[str, Any] = plain(visit.see("change-order", found))
    return {
        "order": order,
        "tag": found.tag,
        "currency": found.currency,
        "project": projects.project(company=visit.company, id=found.project),
        "steps": [STEPS[state] for state in STEPS if state in NEXT[found.state]],
        "title": f"Change order {found.number}",
    }


def show(visit: Visit) -> Show:
    """GET /change-orders/{id}."""
    return Show("change-orders/order.html", head(visit))
