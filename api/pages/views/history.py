"""The history of a project: one line of time with who, when, why and price, and the prices as a picture."""

from __future__ import annotations

from api.pages.exchange import Show, Visit
from estimating.queries import projects
from estimating.queries.history import timeline
from estimating.queries.history.entries import HistoryEntry, Kind
from rates.paging import Page, Wanted

LINES = 100
PLACES = {  # kind -> the page of what an entry is of, the scope to see it
    Kind.SCHEDULE: ("/schedules/{subject}", "read"),
    Kind.EDITION: ("/editions/{subject}", "rates.read"),
    Kind.ESTIMATE: ("/estimates/{subject}", "read"),
    Kind.COMPARISON: ("/comparisons/{subject}", "read"),
    Kind.QUOTE: ("/quotes/{subject}", "read"),
    Kind.CHANGE_ORDER: ("/change-orders/{subject}", "read"),
}


def show(visit: Visit) -> Show:
    """GET /projects/{id}/history: the newest first."""
    kind = visit.asked.get("kind", "")
    if kind not in set(Kind):
        kind = ""
    who = {"company": visit.company, "project": visit.id}
    project = projects.project(company=visit.company, id=visit.id)
    wanted = Wanted(LINES, visit.asked.get("cursor"), "-at")
    found = timeline.history(**who, wanted=wanted, kind=kind or None)
    page: Page[HistoryEntry] = visit.see("project-history", found)
    values = {
        "project": project,
        "page": page,
        "entries": [(entry, place_of(visit, entry)) for entry in page.items],
        "kind": kind,
        "kinds": [str(one) for one in Kind],
        "keep": f"kind={kind}&" if kind else "",
        "picture": visit.see("project-history-picture", timeline.price_picture(**who)),
    }
    return Show("projects/history.html", values)


def place_of(visit: Visit, entry: HistoryEntry) -> str:
    """The page of what an entry is of; "" where there is none for this person."""
    path, scope = PLACES.get(entry.kind, ("", "read"))
    return path.format(subject=entry.subject) if visit.may(scope) else ""
