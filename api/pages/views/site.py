"""Site and crew: what holds for all openings, looked over once more before it is costed."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from typing import Any

from django.conf import settings

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Form, Input, make_form, said_of
from api.pages.views.line_words import summary
from api.pages.views.schedules import file_scope, head, revision_of
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
from estimating.queries import climates, intake, line_values, requests
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.queries import choices
from rates.queries.choices import Book, Choices

NEVER_ASSUMED = ("method_override", "no_primer_reason", "wall_area", "stated_rate")


def show(visit: Visit) -> Show:
    """GET /schedules/{id}/site."""
    revision = revision_of(visit)
    values = head(visit, revision)
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
    try:
        ready = prepare(company=visit.company, request=request, units=visit.caller.unit_system, now=visit.now)
    except Refused as refused:
        raise Refused(with_hidden_faults(visit, request, refused.problems)) from None
    if visit.typed.get("step") != "cost":
        return check(visit, ready)

    def act() -> Made:
        at_once = ready.lines <= settings.SMALL_RUN_LINES
        run = actions.submit(
            company=visit.company, member=visit.caller.member, prepared=ready, at_once=at_once, now=visit.now
        )
        return Made(f"/estimates/{run.id}", run.id, claim=run.claim, job=ready.job)

    return Change("make-estimate", act)


def with_hidden_faults(visit: Visit, request: Mapping[str, Any], faults: Sequence[Problem]) -> list[Problem]:
    """The faults, and those that only show once the fields with faults can be read.

    The lines are held against the request after all of its fields were read. So it is prepared once more with sound
    values in the fields at fault; what is then found elsewhere is told in the same answer.
    """
    at_fault = {fault.pointer.split("/")[1] for fault in faults if "/" in fault.pointer}
    books = {str(book.id): book for book in choices.pricing_books(company=visit.company)}
    book = books.get(str(request.get("rate_book", "")))
    if book is None or at_fault & {"schedule", "openings"}:
        return list(faults)
    day = max(visit.now.date(), book.first_day)
    offered = choices.choices(company=visit.company, rate_book=book.id, work_date=day, known_at=visit.now)
    members = [{"labour": code, "count": 1} for code, _ in offered.labour[:1]]
    sound = {"work_date": day.isoformat(), "method": "tape", "crew": {"members": members}}
    again = {name: value for name, value in request.items() if name not in at_fault}
    again |= {name: value for name, value in sound.items() if name in at_fault}
    try:
        prepare(company=visit.company, request=again, units=visit.caller.unit_system, now=visit.now)
    except Refused as refused:
        more = [one for one in refused.problems if one.pointer.split("/")[1:2] not in ([name] for name in at_fault)]
        return [*faults, *more]
    return list(faults)


def check(visit: Visit, ready: Prepared) -> Show:
    """Everything that the estimate will be asked for with, before it is."""
    revision = revision_of(visit)
    values = head(visit, revision)
    books = {str(book.id): book.name for book in choices.pricing_books(company=visit.company)}
    form, _ = site_form(visit, choices.pricing_books(company=visit.company), {}, values["costed"])
    hidden = ("csrfmiddlewaretoken", "step")
    report = intake.beside(revision)
    values |= {
        "form": form,
        "ready": ready,
        "edition": ready.editions.main,
        "lines": summary(line_values.of_schedule(company=visit.company, id=visit.id)),
        "book": books.get(visit.typed.get("rate_book", ""), ""),
        "given": [(one, said_of(one, one.value)) for one in form.inputs if one.value and one.kind != "hidden"],
        "blank": [one for one in form.inputs if not one.value and one.kind != "hidden" and is_assumed(one)],
        "scope": report["scope"],
        **file_scope(report),
        "kept": [(name, one) for name, every in visit.typed.lists() if name not in hidden for one in every],
    }
    return Show("schedules/check.html", values)


def is_calendar(one: Input) -> bool:
    """Whether a field is of the calendar."""
    return one.pointer.startswith("/calendar")


def is_assumed(one: Input) -> bool:
    """Whether something is assumed where it is left blank.

    Not of workers, nor of a calendar, which moves no price, nor of what only compares or is a reason: where a reason is
    needed, nothing is costed without it.
    """
    return not one.name.startswith(CREW) and not is_calendar(one) and one.name not in NEVER_ASSUMED
