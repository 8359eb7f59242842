"""Site and crew: what holds for all openings, looked over once more before it is costed."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any

from django.conf import settings

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Form, Input, make_form, said_of
from api.pages.views.schedules import head
from api.pages.views.site_fields import (
    CREW,
    FIELDS,
    KEEP,
    as_typed,
    at_fields,
    calendar_inputs,
    calendar_of,
    calendar_typed,
    condition_inputs,
    crew_inputs,
    place_of,
    request_typed,
)
from estimating.actions import estimates as actions
from estimating.actions.preparation import Prepared, prepare
from estimating.queries import climates, intake, requests
from rates.identity import read_id
from rates.queries import choices
from rates.queries.choices import Book, Choices


def show(visit: Visit) -> Show:
    """GET /schedules/{id}/site."""
    values = head(visit)
    books = choices.pricing_books(company=visit.company)
    stored = stored_values(visit, values)
    form, offered = site_form(visit, books, stored, values["costed"])
    values |= {
        "form": form,
        "calendar": [one for one in form.inputs if is_calendar(one)],
        "books": books,
        "offered": offered,
        "like": requests.like_jobs(company=visit.company),
        "copied": stored,
        "crew": [one for one in form.inputs if one.name.startswith("crew.")],
        "scope": intake.beside(company=visit.company, id=visit.id)["scope"],
    }
    return Show("schedules/site.html", values)


def stored_values(visit: Visit, values: Mapping[str, Any]) -> dict[str, str]:
    """What the fields begin with: a like job that was chosen, else what this project was costed with last."""
    chosen = read_id(visit.asked.get("like", ""))
    last = values["costed"]
    if chosen is None and last is None:
        return {}
    id = chosen or last.id
    found = as_typed(requests.request_of(company=visit.company, id=id))
    if chosen is not None:
        for name in ("work_date", "calendar_start"):
            found.pop(name, None)  # another job is worked on other days
    return found


def last_calendar(visit: Visit, last: Any) -> Mapping[str, Any]:
    """The calendar of the project's last estimate; blank where there is none."""
    return calendar_of(requests.request_of(company=visit.company, id=last.id)) if last is not None else {}


def site_form(visit: Visit, books: list[Book], stored: Mapping[str, str], last: Any) -> tuple[Form, Choices]:
    """The form, with who may work and which conditions there are by the book and day at hand.

    last: the project's last estimate.
    """
    typed: Mapping[str, Any] = visit.typed
    known = {str(book.id) for book in books}
    book = (typed or stored).get("rate_book", "")
    book = book if book in known else (str(books[0].id) if books else "")
    day = read_day((typed or stored).get("work_date", "")) or visit.now.date()
    offered = Choices()
    if book:
        first = next(one.first_day for one in books if str(one.id) == book)
        offered = choices.choices(
            company=visit.company, rate_book=read_id(book), work_date=max(day, first), known_at=visit.now  # type: ignore[arg-type]
        )  # fmt: skip
    book_input = Input(
        "rate_book", "Rate book", "choice" if len(books) > 1 else "hidden",
        choices=[(str(one.id), one.name) for one in books], value=book,
    )  # fmt: skip
    conditions = condition_inputs(offered.conditions or {})
    places = list(dict.fromkeys(row["place"] for row in climates.climates(company=visit.company).items))
    calendar = calendar_inputs(places, last_calendar(visit, last), str(last.id) if last is not None else "")
    inputs = (*FIELDS, *crew_inputs(offered.labour), *conditions, *calendar, book_input)
    stored = {"rate_book": book} | dict(stored) | {"climate": place_of(stored.get("climate", ""), places) or ""}
    faults = at_fields(visit.faults, offered.labour)
    return make_form(inputs, stored=stored, typed=typed, faults=faults), offered


def read_day(text: str) -> datetime.date | None:
    """A day as a date field sends it."""
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        return None


def ask(visit: Visit) -> Change | Show:
    """POST /schedules/{id}/site: looked over first, then costed."""
    if visit.typed.get("step") == "again":
        return show(visit)
    actions.refuse_long_queue(visit.company)
    request = request_typed(visit.typed, visit.caller.name) | {"schedule": str(visit.id)}
    last = head(visit)["costed"]
    kept = last_calendar(visit, last) if last is not None and visit.typed.get(KEEP) == str(last.id) else {}
    if calendar := calendar_typed(visit.typed, kept):
        request["calendar"] = calendar
    ready = prepare(company=visit.company, request=request, units=visit.caller.unit_system, now=visit.now)
    if visit.typed.get("step") != "cost":
        return check(visit, ready)

    def act() -> Made:
        at_once = ready.lines <= settings.SMALL_RUN_LINES
        run = actions.submit(
            company=visit.company, member=visit.caller.member, prepared=ready, at_once=at_once, now=visit.now
        )
        return Made(f"/estimates/{run.id}", run.id, claim=run.claim, job=ready.job)

    return Change("make-estimate", act)


def check(visit: Visit, ready: Prepared) -> Show:
    """Everything that the estimate will be asked for with, before it is."""
    values = head(visit)
    books = {str(book.id): book.name for book in choices.pricing_books(company=visit.company)}
    form, _ = site_form(visit, choices.pricing_books(company=visit.company), {}, values["costed"])
    hidden = ("csrfmiddlewaretoken", "step")
    values |= {
        "form": form,
        "ready": ready,
        "edition": ready.editions.main,
        "book": books.get(visit.typed.get("rate_book", ""), ""),
        "given": [(one, said_of(one, one.value)) for one in form.inputs if one.value and one.kind != "hidden"],
        "blank": [one for one in form.inputs if not one.value and one.kind != "hidden" and is_assumed(one)],
        "scope": intake.beside(company=visit.company, id=visit.id)["scope"],
        "kept": [(name, one) for name, every in visit.typed.lists() if name not in hidden for one in every],
    }
    return Show("schedules/check.html", values)


def is_calendar(one: Input) -> bool:
    """Whether a field is of the calendar."""
    return one.pointer.startswith("/calendar")


def is_assumed(one: Input) -> bool:
    """Whether something is assumed where it is left blank: not of workers, nor of a calendar, which moves no price."""
    return not one.name.startswith(CREW) and not is_calendar(one)
