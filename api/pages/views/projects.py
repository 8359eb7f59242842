"""Projects: the list, and one with its schedules and estimates."""

from __future__ import annotations

from api.pages.exchange import Show, Visit
from estimating.queries import desk, estimate_lists, quotes
from estimating.queries.quotes_found import awarded_with
from estimating.queries.received_files import received_files
from rates.paging import Wanted

PAGE_LINES, ESTIMATES, QUOTES = 50, 50, 50
ORDERINGS = (("-created_at", "newest first"), ("name", "by name"), ("number", "by number"))


def listing(visit: Visit) -> Show:
    """GET /projects: by words of name and number."""
    words, ordering = visit.asked.get("words", "")[:200], visit.asked.get("ordering", "")
    if ordering not in dict(ORDERINGS):
        ordering = ORDERINGS[0][0]
    wanted = Wanted(PAGE_LINES, visit.asked.get("cursor"), ordering)
    page = desk.projects_at_work(company=visit.company, now=visit.now, wanted=wanted, words=words)
    values = {"page": page, "words": words, "orderings": ORDERINGS, "ordering": ordering}
    return Show("projects/listing.html", values)


def show(visit: Visit) -> Show:
    """GET /projects/{id}."""
    company, project = visit.company, visit.id
    row = desk.project_at_work(company=company, id=project, now=visit.now)
    last = row.estimate.id if row.estimate is not None else None
    newest = Wanted(QUOTES, None, "-created_at")
    values = {
        "at_work": row,
        "awarded_with": [one for one in awarded_with(company=company, project=project) if one.estimate == last],
        "project": row.project,
        "files": received_files(company=company, project=project),
        "estimates": estimate_lists.of_project(
            company=company, project=project, wanted=Wanted(ESTIMATES, visit.asked.get("estimates"), "-number")
        ),
        "quotes": visit.see("quotes", quotes.quotes(company=company, project=project, wanted=newest, now=visit.now)),
    }
    return Show("projects/project.html", values)
