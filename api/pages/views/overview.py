"""What a company has out: bids by state with value and margin, editions that wait for approval, wins and losses."""

from __future__ import annotations

from api.pages.exchange import Show, Visit
from api.pages.views.rates import names_in
from api.plain import plain
from estimating.queries.overview import overview
from rates.paging import Page, Wanted
from rates.queries import books

EDITIONS, BOOKS = 50, 500


def show(visit: Visit) -> Show:
    """GET /overview."""
    found = plain(visit.see("overview", overview(company=visit.company, now=visit.now)))
    waiting: Page[books.Edition] = Page((), None)
    named = {}
    if visit.may("rates.read"):
        waiting = books.submitted(company=visit.company, wanted=Wanted(EDITIONS))
        named = {one.id: one.name for one in books.books(company=visit.company, wanted=Wanted(BOOKS)).items}
    values = {
        "found": found,
        "waiting": waiting.items,
        "books": named,
        "names": names_in(visit, [one.submitted_by for one in waiting.items]),
    }
    return Show("overview/overview.html", values)
