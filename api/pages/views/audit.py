"""Who changed what, when and from where: the newest first, of one member, one kind of change or one subject."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from typing import Any
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from api.pages.exchange import Show, Visit
from rates.identity import read_id
from rates.paging import Wanted
from rates.queries import audit as queries
from rates.queries import members

PAGE_LINES, MOST_MEMBERS, MOST_FIELDS, MOST_LETTERS = 50, 500, 40, 300
PLACES = {  # word in an operation's name -> where its subject is looked at; the first that fits
    "change-order": "/change-orders/",
    "member": "/people/",
    "invitation": "/people/",
    "project": "/projects/",
    "quote": "/quotes/",
    "edition": "/editions/",
    "estimate": "/estimates/",
    "schedule": "/schedules/",
    "assumptions": "/estimates/",
    "comparison": "/comparisons/",
}


def show(visit: Visit) -> Show:
    """GET /audit."""
    asked = {name: visit.asked.get(name, "").strip() for name in ("member", "action", "subject", "since")}
    day = read_day(asked["since"])
    start = datetime.datetime.combine(day, datetime.time(), ZoneInfo(visit.caller.time_zone)) if day else None
    member, subject = read_id(asked["member"]), read_id(asked["subject"])
    filter = queries.Filter(member=member, subject=subject, action=asked["action"] or None, since=start)
    wanted = Wanted(PAGE_LINES, visit.asked.get("cursor"), "-at")
    page = queries.entries(company=visit.company, wanted=wanted, filter=filter)
    people = members.members(company=visit.company, wanted=Wanted(MOST_MEMBERS, None, "name")).items
    keep = urlencode({name: value for name, value in asked.items() if value})
    values = {
        "page": page,
        "entries": [(one, list(changes_told(one)), place_of(visit, one)) for one in page.items],
        "people": [(str(one.id), one.name) for one in people],
        "actions": queries.actions_done(company=visit.company),
        "asked": asked,
        "keep": f"{keep}&" if keep else "",
    }
    return Show("audit/audit.html", values)


def read_day(text: str) -> datetime.date | None:
    """A day as a date field sends it; None for anything else."""
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        return None


def changes_told(entry: queries.AuditEntry) -> Iterator[tuple[str, str, str]]:
    """The fields that an entry keeps: name, before, after, each cut to what a line holds."""
    before = entry.before if isinstance(entry.before, Mapping) else {}
    after = entry.after if isinstance(entry.after, Mapping) else {}
    for name in list(dict.fromkeys((*before, *after)))[:MOST_FIELDS]:
        yield name, as_line(before.get(name)), as_line(after.get(name))


def as_line(value: Any) -> str:
    """A kept value on one line; "" for none."""
    if value is None or value == "" or value == []:
        return ""
    if isinstance(value, Mapping):
        text = "; ".join(f"{name}: {as_line(item)}" for name, item in value.items())
    elif isinstance(value, list):
        text = "; ".join(as_line(item) for item in value)
    else:
        text = ("yes" if value else "no") if isinstance(value, bool) else str(value)
    return text if len(text) <= MOST_LETTERS else f"{text[:MOST_LETTERS]}…"


def place_of(visit: Visit, entry: queries.AuditEntry) -> str:
    """The page of an entry's subject; "" where none is, or none for this person."""
    if entry.subject is None or entry.action.startswith("delete-"):
        return ""
    found = (path for word, path in PLACES.items() if word in entry.action)
    place = next((f"{path}{entry.subject}" for path in found), "")
    return "" if place.startswith("/people/") and not visit.may("company") else place
