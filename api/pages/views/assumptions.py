"""The assumptions of an estimate, signed off by whoever stands behind them, and sign-offs taken back."""

from __future__ import annotations

from typing import Any

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import make_form
from api.pages.views.estimates import head
from api.plain import plain
from estimating.actions import sign_offs as actions
from estimating.queries import sign_offs as queries
from rates.core.problems import Problem, Refused
from rates.queries.members import member_names


def show(visit: Visit) -> Show:
    """GET /estimates/{id}/assumptions: what nobody entered, those that wait for a signature apart from the others."""
    values = head(visit) | {"part": "assumptions", "form": make_form((), faults=visit.faults)}
    if values["estimate"]["state"] == "costed":
        found = plain(visit.see("sign-offs", queries.sign_offs(company=visit.company, id=visit.id)))
        values |= {"found": found, "names": names_of(visit, found["items"])}
    return Show("estimates/assumptions.html", values)


def names_of(visit: Visit, items: list[dict[str, Any]]) -> dict[str, str]:
    """Who signed, by the id of the member."""
    signed = {str(one["signed_by"]) for one in items if one.get("signed_by")}
    return member_names(company=visit.company, ids=signed) if signed else {}


def sign(visit: Visit) -> Change:
    """POST /estimates/{id}/assumptions."""
    chosen, back = visit.typed.getlist("sign"), visit.typed.getlist("take_back")
    if not chosen and not back:
        raise Refused([Problem("", "missing", "tick the assumptions that you stand behind")])
    ready = actions.prepare(company=visit.company, id=visit.id, sign=chosen, take_back=back)

    def act() -> Made:
        found = actions.write(company=visit.company, member=visit.caller.member, ready=ready, now=visit.now)
        return Made(f"/estimates/{visit.id}/assumptions", visit.id, after={"open": found.open, "signed": chosen})

    return Change("sign-assumptions", act)
