"""The first page: what is due with the way on, drafts and quotes that end soon, every project with its next step."""

from __future__ import annotations

from typing import Any

from api.pages.exchange import Show, Visit
from api.pages.views.quotes import NEWEST_FIRST, names_in
from estimating.queries import bids_due, change_orders, desk, quotes
from rates.paging import Wanted

PAGE_LINES, DUE, QUOTES, NOTICES = 50, 20, 20, 20
WAITS = {  # what a bid waits for, as people say it
    "schedule": "its schedule",
    "answers": "answers to questions",
    "estimate": "costing",
    "quote": "a quote",
    "issue": "the quote to be issued",
    "nothing": "nothing more",
}
OPEN = ("issued", "expired", "not_awarded")  # states of a quote that can be made anew


def show(visit: Visit) -> Show:
    """GET /."""
    wanted = Wanted(PAGE_LINES, visit.asked.get("cursor"), "-created_at")
    due = bids_due.bids_due(company=visit.company, wanted=Wanted(DUE), now=visit.now)
    values: dict[str, Any] = {
        "waits": WAITS,
        "due": [(bid, way_on(visit, bid), is_theirs(visit, bid)) for bid in visit.see("bids-due", due).items],
        "page": desk.projects_at_work(company=visit.company, now=visit.now, wanted=wanted),
    }
    if visit.may("quotes"):
        values |= quoted(visit)
    return Show("work/work.html", values)


def is_theirs(visit: Visit, bid: bids_due.DueBid) -> bool:
    """Whether a bid waits for somebody of this person's role."""
    return bool(bid.who) and bid.who == visit.caller.role


def way_on(visit: Visit, bid: bids_due.DueBid) -> str:
    """The page of a bid's next step, for who may take it; else of what it waits for."""
    anew = f"/quotes/{bid.quote}/requote" if visit.may("quotes") and bid.quote_state in OPEN else ""
    ways = {
        "schedule": f"/projects/{bid.project}/schedules/new" if visit.may("estimate") else "",
        "answers": f"/schedules/{bid.schedule}/questions",
        "estimate": anew or (f"/schedules/{bid.schedule}/site" if visit.may("estimate") else ""),
        "quote": anew or (f"/projects/{bid.project}/quotes/new" if visit.may("quotes") else ""),
        "issue": f"/quotes/{bid.quote}",
    }
    return ways.get(bid.waits_for, "")


def quoted(visit: Visit) -> dict[str, Any]:
    """Quotes that are drafted, and those out with customers, by the day on which they end."""
    drafts, out = (
        quotes.quotes(company=visit.company, wanted=Wanted(QUOTES, None, order), now=visit.now, state=state)
        for state, order in (("drafted", NEWEST_FIRST), ("issued", "valid_until"))
    )
    both = visit.see("quotes", drafts), visit.see("quotes", out)
    notices = change_orders.notices_due(
        company=visit.company, wanted=Wanted(NOTICES, None, "notice_due"), now=visit.now
    )
    told = {"notices": visit.see("notices-due", notices).items}
    return told | {"drafts": both[0].items, "out": both[1].items, "projects": names_in(visit, drafts.items + out.items)}
