"""Projects by name and number, openings by mark, quotes by number and customer."""

from __future__ import annotations

from typing import Any

from api.pages.exchange import Show, Visit
from api.pages.views.quotes import names_in
from estimating.queries import desk
from estimating.queries.marks import MOST_PROJECTS, find_marks
from estimating.queries.quotes_found import find_quotes
from rates.paging import Page, Wanted

MOST_WORDS, PROJECTS, QUOTES = 200, 20, 20


def show(visit: Visit) -> Show:
    """GET /search."""
    words = visit.asked.get("words", "").strip()[:MOST_WORDS]
    nothing: Page[desk.AtWork] = Page((), None)
    who: dict[str, Any] = {"company": visit.company, "now": visit.now}
    wanted = Wanted(PROJECTS, None, "-created_at")
    quoted = find_quotes(**who, words=words, most=QUOTES) if words else []
    values = {
        "words": words,
        "page": desk.projects_at_work(**who, wanted=wanted, words=words) if words else nothing,
        "marks": find_marks(company=visit.company, words=words) if words else [],
        "most": MOST_PROJECTS,
        "quotes": visit.see("quotes", quoted),
        "projects": names_in(visit, quoted),
    }
    return Show("search/search.html", values)
