"""Operations on change orders, on what contracts come to, and on notices that are due."""

from __future__ import annotations

from api import change_order_fields as fields
from api.rest import change_orders as views
from api.rest.common_fields import PAGE, ordering
from api.rest.exchange import Operation
from estimating.states import ChangeOrderState
from rates.core.fields import Field, choice

LISTS = ("json", "csv", "xlsx")
STEPS = (
    ("direct", views.direct, "The customer has directed that it be done; its price is not agreed", fields.DIRECT),
    ("agree", views.agree, "It is part of the contract from now on, at its price or another; nothing of it changes "
     "any more", fields.AGREE),
    ("dispute", views.dispute, "The customer does not accept it or its price", fields.WHY),
    ("withdraw", views.withdraw, "It is asked for no longer; it keeps its number", fields.WHY),
)  # fmt: skip

OPERATIONS = (
    Operation(
        "GET",
        "/v1/projects/{id}/change-orders",
        "change-orders",
        views.orders,
        "The change orders of a project, and what its contracts come to",
        "read",
        {200: "ChangeOrders"},
        query=(
            *PAGE,
            ordering("number", "created_at"),
            Field("state", choice(*ChangeOrderState.values), "only change orders in this state"),
        ),
        formats=LISTS,
    ),
    Operation(
        "POST",
        "/v1/projects/{id}/change-orders",
        "make-change-order",
        views.make,
        "Propose a change to a contract: numbered, priced by a comparison, by unit prices or by time and material",
        "quotes",
        {201: "ChangeOrder"},
        body=fields.NEW_CHANGE_ORDER,
        idempotency="accepted",
        atomic=False,
    ),
    Operation(
        "GET",
        "/v1/projects/{id}/contract",
        "project-contract",
        views.contract,
        "The contract of today line by line: each award and change order, with columns that sum to contract and "
        "exposure",
        "read",
        {200: "ContractLines"},
        formats=LISTS,
    ),
    Operation(
        "GET",
        "/v1/change-orders/{id}",
        "change-order",
        views.show,
        "One change order",
        "read",
        {200: "ChangeOrder"},
    ),
    Operation(
        "PATCH",
        "/v1/change-orders/{id}",
        "revise-change-order",
        views.revise,
        "Change what an open change order says, or what it is priced by",
        "quotes",
        {200: "ChangeOrder"},
        body=fields.REVISION,
        if_match=True,
        atomic=False,
    ),
    *(
        Operation(
            "POST",
            f"/v1/change-orders/{{id}}/{name}",
            f"{name}-change-order",
            view,
            summary,
            "quotes",
            {200: "ChangeOrder"},
            body=body,
            if_match=True,
            idempotency="accepted",
        )
        for name, view, summary, body in STEPS
    ),
    Operation(
        "GET",
        "/v1/notices-due",
        "notices-due",
        views.due,
        "Open change orders of which the customer has to be told, by the last day for it",
        "read",
        {200: "DueNotice[]"},
        query=(*PAGE, ordering("notice_due")),
        formats=LISTS,
    ),
)
