"""Access keys of a company's programs: listed, made with what they may do, revoked."""

from __future__ import annotations

import datetime
from typing import Any
from zoneinfo import ZoneInfo

from api.access_key_fields import NEW_KEY
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.quote_drafts import read_form
from rates.actions import companies as actions
from rates.actions.companies import KEY_START
from rates.core.problems import Problem, Refused
from rates.paging import Wanted
from rates.queries import companies as queries
from rates.queries.members import member_names
from rates.refusals import Expected
from rates.roles import SCOPES

KEYS = 200
TITLE = Input("title", "What the key is for", needed=True, hint="Such as: bids to the accounts program.")
LAST_DAY = Input("last_day", "Last day", "date", pointer="/expires_at", hint="Left blank, it ends when it is revoked.")


def listing(visit: Visit) -> Show:
    """GET /access-keys."""
    wanted = Wanted(KEYS, visit.asked.get("cursor"), "-created_at")
    page = queries.keys(company=visit.company, wanted=wanted)
    return Show("access-keys/listing.html", {"page": page} | told_of(visit, *page.items))


def told_of(visit: Visit, *keys: queries.AccessKey) -> dict[str, Any]:
    """What the pages say of keys beside themselves: who made them, how they begin, which have ended."""
    names = member_names(company=visit.company, ids={str(key.member) for key in keys})
    people = {visit.uuid_of(id): name for id, name in names.items()}
    return {"people": people, "start": f"{KEY_START}_", "now": visit.now}


def inputs_of(visit: Visit) -> tuple[Input, ...]:
    """The fields of a new key: it may do no more than its maker."""
    offered = [(scope, f"{does} ({scope})") for scope, does in SCOPES.items() if scope in visit.caller.scopes]
    return TITLE, Input("scopes", "What it may do", "ticks", choices=offered), LAST_DAY


def new(visit: Visit) -> Show:
    """GET /access-keys/new."""
    return Show("access-keys/new.html", {"form": make_form(inputs_of(visit), typed=visit.typed, faults=visit.faults)})


def make(visit: Visit) -> Change:
    """POST /access-keys/new: the key is shown this once."""
    body: dict[str, Any] = {"title": visit.typed.get("title", "").strip(), "scopes": visit.typed.getlist("scopes")}
    body = {name: value for name, value in body.items() if value}
    if ends := end_of(visit.typed.get("last_day", "").strip(), visit.caller.time_zone):
        body["expires_at"] = ends
    said = read_form(NEW_KEY, body)

    def act() -> Made:
        made = actions.give_key(
            company=visit.company, member=visit.caller.member, within=visit.caller.scopes, title=said["title"],
            scopes=said["scopes"], expires_at=said.get("expires_at"), now=visit.now,
        )  # fmt: skip
        shown = Show("access-keys/made.html", {"key": made.key, "secret": made.secret})
        return Made(f"/access-keys/{made.key.id}", made.key.id, after=made.key, shown=shown)

    return Change("make-access-key", act)


def end_of(day: str, zone: str) -> str:
    """The end of a day in the company's time, as the field table reads it; blank for none; Refused."""
    if not day:
        return ""
    try:
        after = datetime.date.fromisoformat(day) + datetime.timedelta(days=1)
    except (ValueError, OverflowError):
        raise Refused([Problem("/expires_at", "not_a_day", "a day is expected, such as 2027-12-31")]) from None
    return datetime.datetime.combine(after, datetime.time(), ZoneInfo(zone)).isoformat()


def show(visit: Visit) -> Show:
    """GET /access-keys/{id}."""
    key = queries.key(company=visit.company, id=visit.id)
    values = {"key": key, "does": SCOPES, "form": make_form((), faults=visit.faults, tag=key.tag)}
    return Show("access-keys/key.html", values | told_of(visit, key))


def revoke(visit: Visit) -> Change:
    """POST /access-keys/{id}: refused from the next request on."""
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        made = actions.revoke_key(company=visit.company, id=visit.id, expected=expected, now=visit.now)
        return Made("/access-keys", visit.id, before=expected.seen, after=made)

    return Change("revoke-access-key", act)
