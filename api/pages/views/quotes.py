"""Quotes: the list, one with what it says and what keeps it from issue, its documents as the customer has them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from api.pages.exchange import Send, Show, Visit
from api.plain import plain
from estimating.queries import projects, quote_content
from estimating.queries import quotes as queries
from estimating.queries.quotes_found import in_its_place
from rates.paging import Wanted
from rates.queries.members import member_names
from rates.refusals import NotThere

PAGE_LINES, SHOWN_LINES = 50, 100
NEWEST_FIRST = "-created_at"
DOCUMENTS = {  # name -> what it is called; those that open in the browser are HTML
    "letter.html": "Read the letter",
    "letter.pdf": "Save the letter as PDF",
    "changes.html": "Read the letter of changes",
    "changes.pdf": "Save the letter of changes as PDF",
    "ubl.xml": "Save it for the customer's systems (UBL 2.4)",
}
BASES = {
    "estimate": "the estimate's own price",
    "held": "held rates",
    "today": "today's rates",
    "blend": "blend: held for what is drawn as before, today's for what changed",
}
WAYS_ON = {  # code of a block -> the page where it is taken away
    "questions_open": "/schedules/{schedule}/questions",
    "matches_open": "/schedules/{schedule}/changes?from={since}",
    "assumptions_open": "/estimates/{estimate}/assumptions",
    "rates_changed": "/schedules/{schedule}/site",
    "validity_passed": "/quotes/{id}/edit",
    "letters_not_shown": "/quotes/{id}/edit",
    "held_too_long": "/quotes/{id}/offers",
    "needs_approval": "/quotes/{id}/edit",
}
APPROVED_AWAY = ("held_too_long", "needs_approval", "rates_changed")  # blocks that the principal's word takes away
STATES = tuple((state, state.replace("_", " ")) for state in queries.STATES)


def listing(visit: Visit) -> Show:
    """GET /quotes: by state, the newest first."""
    state = visit.asked.get("state", "")
    if state not in queries.STATES:
        state = ""
    wanted = Wanted(PAGE_LINES, visit.asked.get("cursor"), NEWEST_FIRST)
    page = visit.see("quotes", queries.quotes(company=visit.company, wanted=wanted, now=visit.now, state=state or None))
    values = {"page": page, "projects": names_in(visit, page.items), "state": state, "states": STATES}
    return Show("quotes/listing.html", values | {"keep": f"state={state}&" if state else ""})


def names_in(visit: Visit, lines: Sequence[queries.QuoteLine]) -> Mapping[Any, str]:
    """The names of the projects of some quotes."""
    return projects.project_names(company=visit.company, ids={one.project for one in lines if one.project is not None})


def head(visit: Visit, role: str = "") -> dict[str, Any]:
    """What every page of a quote shows: the quote as this person may see it, what keeps it from issue by a `role`."""
    found = queries.quote(company=visit.company, id=visit.id, role=role or visit.caller.role, now=visit.now)
    quote: dict[str, Any] = plain(visit.see("quote", found))
    project = found.project
    return {
        "quote": quote,
        "tag": found.tag,
        "project": projects.project(company=visit.company, id=project) if project is not None else None,
        "currency": found.currency,
        "bases": BASES,
        "whys": any(one["reason"] for one in quote["offers"]),
        "title": f"Quote {found.number}" if found.number is not None else "Draft of a quote",
    }


def whole(visit: Visit, role: str = "") -> dict[str, Any]:
    """A quote with its letter, what changed, and each block with the page where it is taken away."""
    values = head(visit, role)
    quote = values["quote"]
    found = quote_content.reading(company=visit.company, id=visit.id, now=visit.now)
    places = {"id": visit.id, "estimate": quote["estimate"], "schedule": found.schedule}
    if quote["replaces"]:
        id = visit.uuid_of(quote["replaces"])
        places["since"] = quote_content.quoted_schedule(company=visit.company, id=id)
    lines = found.letter["lines"]
    return values | {
        "letter": {**found.letter, "lines": lines[:SHOWN_LINES]},
        "left_out": max(len(lines) - SHOWN_LINES, 0),
        "changes": plain(found.changes) if found.changes is not None else None,
        "schedule": found.schedule,
        "blocks": [(block, way_on(visit, block["code"], places)) for block in quote["blocks"]],
    }


def way_on(visit: Visit, code: str, places: Mapping[str, Any]) -> str:
    """The page where a block is taken away; "" where none is."""
    if code in APPROVED_AWAY and visit.may("quotes.approve"):
        return f"/quotes/{visit.id}/approve"
    path = WAYS_ON.get(code, "/estimates/{estimate}")
    return "" if "{schedule}" in path and places["schedule"] is None else path.format(**places)


def show(visit: Visit) -> Show:
    """GET /quotes/{id}."""
    values = whole(visit)
    quote = values["quote"]
    people = {quote[name] for name in ("made_by", "issued_by", "closed_by") if quote[name]}
    people |= {quote["approval"]["by"]} if quote["approval"] else set()
    kept = [one["name"] for one in quote["documents"]]
    if quote["state"] == "drafted":
        kept = ["letter.html", "letter.pdf", *(["changes.html", "changes.pdf"] if quote["replaces"] else [])]
    values |= {
        "names": member_names(company=visit.company, ids=people),
        "documents": [(name, title) for name, title in DOCUMENTS.items() if name in kept],
        "after": visit.see("quotes", in_its_place(company=visit.company, id=visit.id, now=visit.now)),
    }
    return Show("quotes/quote.html", values)


def document(visit: Visit) -> Send:
    """GET /quotes/{id}/documents/{document}: the letter as the customer has it."""
    name = str(visit.places["document"])
    if name not in DOCUMENTS:
        raise NotThere
    found = quote_content.document(company=visit.company, id=visit.id, name=name, now=visit.now)
    return Send(found.content, found.media_type, found.file_name, opens=name.endswith(".html"))
