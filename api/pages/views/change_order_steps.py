"""The steps of a change order: directed, agreed, disputed, withdrawn."""

from __future__ import annotations

from typing import Any

from api.change_order_fields import AGREE, DIRECT, WHY
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.change_orders import STEPS, head
from api.pages.views.quote_drafts import read_form
from estimating.actions import change_order_steps as actions
from estimating.states import ChangeOrderState
from rates.refusals import Expected, NotThere

WORDS = {word: state for state, (word, _) in STEPS.items()}
REASON = Input("reason", "Why", "area", needed=True, wide=True)
FORMS = {
    "agree": (
        Input("price", "Price that was agreed", hint="Left blank: as it is priced. Below 0 for a credit: -250.00"),
        Input("reason", "What was agreed, and by which document", "area", wide=True, hint="May stay blank."),
    ),
    "direct": (
        Input("by", "Who gave it", needed=True),
        Input("reference", "Their letter or number"),
        Input("on", "Day", "date", needed=True),
    ),
    "dispute": (REASON,),
    "withdraw": (REASON,),
}
RECORDS = {"agree": AGREE, "direct": DIRECT, "dispute": WHY, "withdraw": WHY}


def step_of(visit: Visit) -> str:
    """The step that the address names; NotThere."""
    step = str(visit.places["step"])
    if step not in FORMS:
        raise NotThere
    return step


def show(visit: Visit) -> Show:
    """GET /change-orders/{id}/{step}."""
    step, values = step_of(visit), head(visit)
    typed, faults = visit.typed, visit.faults
    form = make_form(FORMS[step], typed=typed, faults=faults, tag=values["tag"], stale=visit.stale)
    told = {"form": form, "step": step, "button": dict(values["steps"]).get(step, "")}
    return Show("change-orders/step.html", values | told)


def take(visit: Visit) -> Change:
    """POST /change-orders/{id}/{step}."""
    step = step_of(visit)
    body = {one.name: " ".join(visit.typed.get(one.name, "").split()) or None for one in FORMS[step]}
    body = {name: value for name, value in body.items() if value is not None}
    said: dict[str, Any] = read_form(RECORDS[step], body)
    expected = Expected({visit.typed.get(TAG, "")})
    told: dict[str, Any] = {"directive": said} if step == "direct" else {"said": said.get("reason", "")}
    if step == "agree":
        told["agreed_price"] = said.get("price")

    def act() -> Made:
        moved = actions.move(
            company=visit.company, member=visit.caller.member, id=visit.id, state=ChangeOrderState(WORDS[step]),
            expected=expected, now=visit.now, **told,
        )  # fmt: skip
        return Made(f"/change-orders/{visit.id}", visit.id, before=expected.seen, after=moved)

    return Change(f"{step}-change-order", act)
