"""The first day of a company: settings, rates, approval, an own file; each step says what is missing."""

from __future__ import annotations

import copy
import uuid
from collections.abc import Mapping
from dataclasses import replace
from typing import Any
from zoneinfo import available_timezones

from api import demo
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Input, make_form
from estimating.queries import desk
from rates.actions import books as book_actions
from rates.actions import companies, editions
from rates.core.currencies import MINOR_DIGITS
from rates.core.fraction import Fraction
from rates.core.length_styles import STYLES, LengthStyle
from rates.core.problems import Problem, Refused
from rates.paging import Wanted
from rates.queries import books, choices
from rates.queries import companies as company_queries
from rates.refusals import ANY_STATE, Expected, NotAllowed

SAMPLE_NM = 1_025_525_000  # 3'-4 3/8"
STYLE_WORDS = {"feet_inches": "feet and inches", "inches": "inches", "mm": "millimetres", "m": "metres"}
SETTINGS = (
    Input("name", "Name of the company", needed=True),
    Input("currency", "Currency", "choice", choices=[(code, code) for code in sorted(MINOR_DIGITS)],
          hint="Of new rate books. What is priced keeps its currency."),
    Input("unit_system", "Units of new estimates", "radio", choices=(("imperial", "imperial"), ("metric", "metric"))),
    Input("time_zone", "Time zone of the office", hint="As the IANA database names it: America/Chicago.", needed=True),
    Input("length_style", "How people read lengths", "radio",
          choices=[(one, f"{STYLE_WORDS[one]}: {LengthStyle(one).show(Fraction(SAMPLE_NM))}") for one in STYLES]),
)  # fmt: skip
# field -> (label, hint, where it stands in the starter's tables)
RATES = {
    "wage": ("Wage of a mechanic, per hour", "", ("labour", "mechanic", "wage")),
    "fringe": ("Fringe of a mechanic, per hour", "", ("labour", "mechanic", "fringe")),
    "helper_wage": ("Wage of an apprentice, per hour", "", ("labour", "apprentice", "wage")),
    "liquid": ("Fluid-applied flashing, a pail of 5 gal", "", ("materials", "liquid", "packs", 0, "price")),
    "mesh": ("Reinforcing mesh 9 in, a roll of 150 ft", "", ("materials", "mesh-9", "packs", 0, "price")),
    "tape": ("Flashing tape 9 in, a roll of 75 ft", "", ("materials", "tape-9", "packs", 0, "price")),
    "lift": ("Lift, a week", "", ("equipment", "lift", "rental", 1, "price")),
    "minutes": ("Minutes for one opening, at least", "", ("production", "opening_minutes", "minimum")),
    "office": ("Office overhead, percent of direct cost", "", ("overheads", "office", "percent")),
    "profit": ("Profit, percent of the price (margin)", "", ("overheads", "profit", "percent")),
}
DAY = Input("effective_from", "In force from", "date", needed=True, hint="The first work date that is priced by them.")
ALONE = Input("alone", "I approve alone: no second person looks at editions (the principal can switch it back)", "tick")
OWN = "entered on the first day"
NOTE = "Starter: what was not entered on the first day is invented. Replace it before a bid leaves the house."


def starter() -> dict[str, Any]:
    """The tables of the invented demo rates, to begin with."""
    return copy.deepcopy(dict(demo.read(demo.RATES[0])["tables"]))


def place(tables: Mapping[str, Any], path: tuple[Any, ...]) -> tuple[Any, Any]:
    """The object that holds the last step of a path, and that step: rows are found by their code."""
    table, *steps = path
    found = tables[table]
    if isinstance(found, list):
        code, *steps = steps
        found = next(row for row in found if row["code"] == code)
    for step in steps[:-1]:
        found = found[step]
    return found, steps[-1]


def rate_inputs() -> list[Input]:
    """The few rates that are asked for, each with the starter's invented value."""
    tables = starter()
    found = []
    for name, (label, _, path) in RATES.items():
        holder, last = place(tables, path)
        found.append(Input(name, label, "text", hint=f"Invented: {holder[last]}", value=str(holder[last]), needed=True))
    alone = Input(
        "alone", "I approve alone: no second person looks at editions (the principal can switch it back)", "tick"
    )
    day = Input(
        "effective_from", "In force from", "date", needed=True, hint="The first work date that is priced by them."
    )
    return [*found, day, alone]


def show(visit: Visit) -> Show:
    """GET /start."""
    company = company_queries.company(company=visit.company)
    priced_by = choices.pricing_books(company=visit.company)
    faults = [replace(fault, pointer=fault.pointer.removeprefix("/rates")) for fault in visit.faults]
    is_rates = visit.typed.get("step") == "rates"
    values = {
        "company": company,
        "settings": make_form(
            SETTINGS, stored=vars(company), tag=company.tag, stale=visit.stale,
            typed=None if is_rates else visit.typed, faults=() if is_rates else visit.faults,
        ),
        "rates": make_form(
            rate_inputs(), stored={"effective_from": visit.now.date().isoformat()},
            typed=visit.typed if is_rates else None, faults=faults if is_rates else (),
        ),
        "form": None,
        "priced_by": priced_by,
        "projects": desk.projects_at_work(company=visit.company, now=visit.now, wanted=Wanted(1)).items,
    }  # fmt: skip
    values["form"] = values["rates"] if is_rates else values["settings"]
    return Show("start/start.html", values)


def send(visit: Visit) -> Change:
    """POST /start: the settings, or the first rates with their approval; NotAllowed."""
    is_rates = visit.typed.get("step") == "rates"
    if (not is_rates or visit.typed.get("alone") == "yes") and not visit.may("company"):
        raise NotAllowed("missing_scope", "only a principal changes the company's settings")
    return first_rates(visit) if is_rates else settings(visit)


def settings(visit: Visit) -> Change:
    """The company's settings."""
    typed = {one.name: visit.typed.get(one.name, "").strip() for one in SETTINGS}
    faults = []
    if not 1 <= len(typed["name"]) <= 200 or not typed["name"].isprintable():
        faults.append(Problem("/name", "not_text", "a name of 1 to 200 characters is needed"))
    if typed["time_zone"] not in available_timezones():
        faults.append(Problem("/time_zone", "unknown_choice", "a time zone such as America/Chicago is expected"))
    for one in SETTINGS:
        if one.choices and typed[one.name] not in dict(one.choices):
            faults.append(Problem(f"/{one.name}", "unknown_choice", "choose one"))
    if faults:
        raise Refused(faults)
    expected = Expected({visit.typed.get("version", "")})

    def act() -> Made:
        changed = companies.change_company(company=visit.company, changes=typed, expected=expected, now=visit.now)
        return Made("/start", visit.company, before=expected.seen, after=changed)

    return Change("change-company", act)


def first_rates(visit: Visit) -> Change:
    """A first edition from the starter with what the office entered, handed over, and approved where one may alone."""
    tables = starter()
    for name, (_, _, path) in RATES.items():
        holder, last = place(tables, path)
        text = visit.typed.get(name, "").strip()
        if text != str(holder[last]):
            holder[last] = text
            own_row(tables, path)
    day = visit.typed.get("effective_from", "")
    company = company_queries.company(company=visit.company)
    document = {"effective_from": day, "currency": company.currency, "note": NOTE, "tables": tables}
    alone = visit.typed.get("alone") == "yes"

    def act() -> Made:
        company, member, now = visit.company, visit.caller.member, visit.now
        known = books.books(company=company, wanted=Wanted(1)).items
        book = known[0] if known else book_actions.make_book(company=company, name="Rates", now=now)
        try:
            drafted = editions.draft_edition(
                company=company, member=member, rate_book=book.id, document=document, now=now
            )
        except Refused as refused:
            raise Refused([at_field(fault, tables) for fault in refused.problems]) from None
        id = drafted.edition.id
        handed = editions.submit(company=company, member=member, id=id, expected=ANY_STATE, now=now)
        more: list[tuple[str, uuid.UUID, Any]] = [("submit-edition", id, handed)]
        if alone:
            changes = {"second_approval": False}
            changed = companies.change_company(company=company, changes=changes, expected=ANY_STATE, now=now)
            approved = editions.approve(
                company=company, member=member, id=id, reviewed=drafted.edition.digest, expected=ANY_STATE, now=now
            )
            more += [("change-company", company, changed), ("approve-edition", id, approved)]
        return Made("/start", id, after=drafted, more=more)

    return Change("draft-edition", act)


def own_row(tables: Mapping[str, Any], path: tuple[Any, ...]) -> None:
    """Says of a row that its number is the office's own."""
    if isinstance(tables[path[0]], list):
        row = next(row for row in tables[path[0]] if row["code"] == path[1])
        row["source"] = OWN


def at_field(fault: Problem, tables: Mapping[str, Any]) -> Problem:
    """A fault of the edition at the field that holds it."""
    for name, (_, _, path) in RATES.items():
        if fault.pointer.startswith(pointer_of(tables, path)):
            return replace(fault, pointer=f"/rates/{name}")
    name = "effective_from" if fault.pointer.endswith("/effective_from") else ""
    return replace(fault, pointer=f"/rates/{name}")


def pointer_of(tables: Mapping[str, Any], path: tuple[Any, ...]) -> str:
    """Where a value of the tables stands in the edition's document."""
    table, *steps = path
    if isinstance(tables[table], list):
        steps[0] = next(n for n, row in enumerate(tables[table]) if row["code"] == steps[0])
    return "/tables/" + "/".join(str(step) for step in (table, *steps))
