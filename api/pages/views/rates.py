"""Rate books, and the editions of one."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Input, make_form
from rates.actions import editions as actions
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.paging import Wanted
from rates.queries import books
from rates.queries.members import member_names

MOST_BOOKS, MOST_EDITIONS = 50, 100
NEW = (
    Input("from", "Copied from", "choice", needed=True),
    Input("effective_from", "Holds from", "date", needed=True, hint="The first day of work that it prices."),
    Input("note", "Note", wide=True, hint="What it is for: the supplier's letter, the wage notice."),
)
MOST_NOTE = 2000


def listing(visit: Visit) -> Show:
    """GET /rates."""
    found = books.books(company=visit.company, wanted=Wanted(MOST_BOOKS))
    return Show("rates/listing.html", {"books": found.items})


def show(visit: Visit) -> Show:
    """GET /rates/{id}: its editions, newest first, the one in force today told, and a form for a new one."""
    company, book = visit.company, visit.id
    wanted = Wanted(MOST_EDITIONS, visit.asked.get("cursor"), "-number")
    page = books.editions(company=company, rate_book=book, wanted=wanted)
    today = visit.now.date()
    ruling = books.in_force(company=company, rate_book=book, work_date=today, known_at=visit.now)
    sources = [
        (str(one.id), f"edition {one.number}, {one.state}, from {visit.reader.date(one.effective_from)}")
        for one in page.items
    ]
    first = next((str(one.id) for one in page.items if one.state == "approved"), sources[0][0] if sources else "")
    inputs = (Input("from", "Copied from", "choice", needed=True, choices=sources, value=first), *NEW[1:])
    values = {
        "book": books.book(company=visit.company, id=visit.id),
        "page": page,
        "in_force": ruling,
        "today": today,
        "names": names_in(visit, [one.drafted_by for one in page.items] + [one.approved_by for one in page.items]),
        "form": make_form(inputs, typed=visit.typed, faults=visit.faults),
    }
    return Show("rates/book.html", values)


def names_in(visit: Visit, members: Iterable[uuid.UUID | None]) -> dict[uuid.UUID, str]:
    """The names of members by their ids."""
    found = member_names(company=visit.company, ids={str(id) for id in members if id is not None})
    return {uuid.UUID(id): name for id, name in found.items()}


def draft(visit: Visit) -> Change:
    """POST /rates/{id}: a draft with the tables of another edition of the company."""
    source = read_id(visit.typed.get("from", ""))
    if source is None:
        raise Refused([Problem("/from", "missing", "choose the edition that the new one starts as")])
    changes = {"effective_from": read_date(visit.typed.get("effective_from", "")), "note": visit.typed.get("note", "")}

    def act() -> Made:
        whole = actions.copy_edition(
            company=visit.company,
            rate_book=visit.id,
            member=visit.caller.member,
            source=source,
            changes=changes,
            now=visit.now,
        )
        return Made(f"/editions/{whole.edition.id}", whole.edition.id, after=whole)

    return Change("draft-edition", act)


def read_date(text: str) -> str:
    """A day as typed, in ISO 8601; Refused."""
    try:
        return datetime.date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        raise Refused(
            [Problem("/effective_from", "not_a_date", "choose the first day of work that it prices")]
        ) from None
