"""People of a company: who they are, what each may do; invited, changed, let in again, removed."""

from __future__ import annotations

from typing import Any

from api.member_fields import CHANGE_MEMBER, NEW_MEMBER
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.quote_drafts import read_form
from rates.actions import people as actions
from rates.paging import Wanted
from rates.queries import members as queries
from rates.refusals import Expected
from rates.roles import Role

PEOPLE = 200
DOES = {  # role -> what it does in an office, in plain words
    Role.VIEWER: "looks: prices and quantities, no wages, no costs",
    Role.SALES: "takes schedules in, drafts and issues quotes, keeps change orders; sees no wages, no costs",
    Role.ESTIMATOR: "answers questions, signs assumptions off, costs and quotes; sees costs and margins",
    Role.RATE_KEEPER: "all that an estimator does; drafts rates, and approves those of others; sees who changed what",
    Role.PRINCIPAL: "everything: approves quotes below the floor, keeps the company, its people and its texts",
}
NAME = Input("name", "Name", needed=True)
EMAIL = Input("email", "E-mail address", "email", needed=True, hint="Nothing is sent: you hand the invitation over.")
ROLE = Input(
    "role", "What the person does here", "radio", needed=True,
    choices=[(role.value, f"{role.label.capitalize()}: {does}") for role, does in DOES.items()],
)  # fmt: skip


def listing(visit: Visit) -> Show:
    """GET /people."""
    page = queries.members(company=visit.company, wanted=Wanted(PEOPLE, visit.asked.get("cursor"), "name"))
    return Show("people/listing.html", {"page": page, "now": visit.now, "does": DOES})


def new(visit: Visit) -> Show:
    """GET /people/new."""
    return Show("people/new.html", {"form": make_form((NAME, EMAIL, ROLE), typed=visit.typed, faults=visit.faults)})


def typed(visit: Visit, *names: str) -> dict[str, str | None]:
    """What was typed, None for what was left blank."""
    return {name: visit.typed.get(name, "").strip() or None for name in names}


def invite(visit: Visit) -> Change:
    """POST /people/new: the invitation is shown this once."""
    said = read_form(NEW_MEMBER, typed(visit, "name", "email", "role"))

    def act() -> Made:
        return handed_over(actions.invite(company=visit.company, now=visit.now, **said))

    return Change("invite-member", act)


def handed_over(made: actions.Invited) -> Made:
    """A member with the invitation, which is in no audit."""
    shown = Show("people/invited.html", {"member": made.member, "invitation": made.invitation})
    return Made(f"/people/{made.member.id}", made.member.id, after=made.member, shown=shown)


def head(visit: Visit) -> dict[str, Any]:
    """What every page of a person shows."""
    member = queries.member(company=visit.company, id=visit.id)
    return {"member": member, "now": visit.now, "faults": visit.faults, "does": DOES}


def show(visit: Visit) -> Show:
    """GET /people/{id}."""
    values = head(visit)
    member = values["member"]
    stored = {"name": member.name, "role": member.role}
    told, faults = visit.typed, visit.faults
    form = make_form((NAME, ROLE), stored=stored, typed=told, faults=faults, tag=member.tag, stale=visit.stale)
    return Show("people/person.html", values | {"form": form})


def change(visit: Visit) -> Change:
    """POST /people/{id}: the name and the role, from the next request on."""
    said = read_form(CHANGE_MEMBER, {name: value for name, value in typed(visit, "name", "role").items() if value})
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        made = actions.change_member(company=visit.company, id=visit.id, changes=said, expected=expected)
        return Made("/people", visit.id, before=expected.seen, after=made)

    return Change("change-member", act)


def asks_again(visit: Visit) -> Show:
    """GET /people/{id}/invitation."""
    return Show("people/again.html", head(visit) | {"form": make_form((), faults=visit.faults)})


def renew(visit: Visit) -> Change:
    """POST /people/{id}/invitation: a new one, shown this once."""

    def act() -> Made:
        return handed_over(actions.renew(company=visit.company, id=visit.id, now=visit.now))

    return Change("renew-invitation", act)


def asks_removal(visit: Visit) -> Show:
    """GET /people/{id}/removal."""
    values = head(visit)
    return Show("people/removal.html", values | {"form": make_form((), faults=visit.faults, tag=values["member"].tag)})


def remove(visit: Visit) -> Change:
    """POST /people/{id}/removal: out from the next request on, with every session and key."""
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        actions.remove_member(company=visit.company, id=visit.id, expected=expected, now=visit.now)
        return Made("/people", visit.id, before=expected.seen)

    return Change("remove-member", act)
