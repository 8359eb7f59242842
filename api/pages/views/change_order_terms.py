"""What a change order says: its title, what it is priced by, when notice is due; a new one, and an open one."""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any

from django.http import QueryDict

from api.change_order_fields import NEW_CHANGE_ORDER, REVISION
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.change_orders import head
from api.pages.views.quote_drafts import read_form
from estimating.actions import change_orders as actions
from estimating.change_words import COMPARISON, TIME_AND_MATERIAL, UNIT_PRICES
from estimating.queries import comparisons, projects, requests
from estimating.queries.contracts import contracts
from estimating.queries.quote_content import quoted_estimate
from rates.core.problems import Problem, Refused
from rates.identity import read_id
from rates.queries import choices
from rates.refusals import Expected

MOST_COMPARED, ROWS = 50, 4
LABOUR, RENTED = "hours.", "days."  # before the code of a row
TERMS = (
    Input("title", "What it is called", needed=True),
    Input("description", "What is to be done, and why", "area", wide=True),
    Input("work_date", "Day of the work", "date", hint="Left blank: the quoted estimate's. Unit prices need it."),
)
NOTICE = (
    Input("known_on", "The change became known on", "date", pointer="/notice/known_on"),
    Input("days", "Days that the contract gives", "number", pointer="/notice/days"),
    Input(
        "counted", "Counted in", "choice", pointer="/notice/counted",
        choices=(("calendar", "every day"), ("working", "Monday to Friday, without holidays")),
    ),
    Input("holidays", "Holidays", hint="With commas between them: 2027-05-31, 2027-07-05", pointer="/notice/holidays"),
    Input("given_on", "Notice was given on", "date", pointer="/notice/given_on"),
    Input("reference", "Its letter or number", pointer="/notice/reference"),
)  # fmt: skip
LATER, KEPT = ("", "not priced yet"), ("", "as it is priced now")
WAYS = {
    COMPARISON: "the difference of two estimates",
    UNIT_PRICES: "the unit prices of the quote",
    TIME_AND_MATERIAL: "time and material",
}


@dataclass
class Asked:
    """What a form says, as the API's body, and which field each fault belongs to."""

    body: dict[str, Any]
    places: dict[str, str] = field(default_factory=dict)  # pointer of the body -> that of the form's field


def inputs_of(visit: Visit, project: uuid.UUID, estimate: uuid.UUID | None, first: tuple[str, str]) -> list[Input]:
    """The fields of a change order's terms, with what there is to choose from."""
    costs = visit.may("costs")
    ways = [first, *((way, label) for way, label in WAYS.items() if costs or way != TIME_AND_MATERIAL)]
    compared = comparisons.compared_in(company=visit.company, project=project, most=MOST_COMPARED)
    differences = [(str(one.id), f"estimate {one.after} less estimate {one.before}") for one in compared]
    told = [("", "choose one"), *differences]
    found = [*TERMS, Input("way", "Priced by", "radio", choices=ways)]
    found.append(Input(COMPARISON, "Which difference", "choice", choices=told))
    for row in range(ROWS):
        found.append(Input(f"unit_mark_{row}", f"Mark {row + 1}"))
        found.append(Input(f"unit_openings_{row}", f"Openings {row + 1}", "decimal"))
    if costs:
        labour, equipment = rows_of(visit, estimate)
        found += [Input(f"{LABOUR}{code}", f"Hours, {title}", "decimal") for code, title in labour]
        for row in range(ROWS):
            found.append(Input(f"bought_{row}", f"Material {row + 1}"))
            found.append(Input(f"bought_cost_{row}", f"Paid for it {row + 1}", "decimal"))
        found += [Input(f"{RENTED}{code}", f"Days, {title}", "decimal") for code, title in equipment]
    return [*found, *NOTICE]


def rows_of(visit: Visit, estimate: uuid.UUID | None) -> tuple[Sequence[tuple[str, str]], Sequence[tuple[str, str]]]:
    """(code, title) of who can work and what can be rented, by the rate book of the contract's estimate."""
    if estimate is None:
        return (), ()
    asked = requests.request_of(company=visit.company, id=estimate)
    book, day = read_id(str(asked.get("rate_book", ""))), str(asked.get("work_date", ""))
    books = choices.pricing_books(company=visit.company)
    chosen = book or (books[0].id if books else None)
    if chosen is None or not day:
        return (), ()
    on = datetime.date.fromisoformat(day[:10])
    found = choices.choices(company=visit.company, rate_book=chosen, work_date=on, known_at=visit.now)
    return found.labour, found.equipment


def shown(visit: Visit, inputs: Sequence[Input], stored: Mapping[str, Any], tag: str = "") -> dict[str, Any]:
    """The form, and its fields by what they belong to."""
    typed, faults = visit.typed, visit.faults
    form = make_form(inputs, stored=stored, typed=typed, faults=faults, tag=tag, stale=visit.stale)
    pairs = [(form[f"unit_mark_{row}"], form[f"unit_openings_{row}"]) for row in range(ROWS)]
    values = {
        "form": form,
        "terms": [form[one.name] for one in TERMS],
        "units": pairs,
        "hours": [one for one in form.inputs if one.name.startswith(LABOUR)],
        "rented": [one for one in form.inputs if one.name.startswith(RENTED)],
        "notice": [form[one.name] for one in NOTICE],
    }
    if visit.may("costs"):
        values["bought"] = [(form[f"bought_{row}"], form[f"bought_cost_{row}"]) for row in range(ROWS)]
    return values


def new(visit: Visit) -> Show:
    """GET /projects/{id}/change-orders/new."""
    project = projects.project(company=visit.company, id=visit.id)
    found = contracts(company=visit.company, project=visit.id).contracts
    named = visit.typed.get("quote", "") or visit.asked.get("quote", "")
    chosen = next((one for one in found if str(one.quote) == named), found[0] if found else None)
    estimate = quoted_estimate(company=visit.company, id=chosen.quote) if chosen is not None else None
    which = [(str(one.quote), f"Quote {one.number} to {one.customer}") for one in found]
    value = str(chosen.quote) if chosen is not None else ""
    contract = Input("quote", "Contract", "choice" if len(found) > 1 else "hidden", choices=which, value=value)
    values = shown(visit, [contract, *inputs_of(visit, visit.id, estimate, LATER)], {})
    return Show("change-orders/new.html", values | {"project": project, "contracts": found})


def make(visit: Visit) -> Change:
    """POST /projects/{id}/change-orders/new: priced before it is numbered."""
    asked = read_asked(visit.typed)
    if quote := visit.typed.get("quote", ""):
        asked.body["quote"] = quote
    said = read_form(NEW_CHANGE_ORDER, asked.body, partial(in_form, asked=asked))
    ready = in_place(asked, actions.prepare, company=visit.company, project=visit.id, said=said, **sees(visit))

    def act() -> Made:
        made = in_place(
            asked, actions.propose, company=visit.company, member=visit.caller.member, project=visit.id, ready=ready,
            now=visit.now,
        )  # fmt: skip
        return Made(f"/change-orders/{made.id}", made.id, after=made)

    return Change("make-change-order", act)


def edit(visit: Visit) -> Show:
    """GET /change-orders/{id}/edit."""
    values = head(visit)
    order = values["order"]
    notice = order["notice"] or {}
    stored = {name: order[name] for name in ("title", "description", "work_date")}
    stored |= {name: notice.get(name) for name in ("known_on", "days", "counted", "given_on", "reference")}
    stored["holidays"] = ", ".join(notice.get("holidays", ()))
    estimate = quoted_estimate(company=visit.company, id=visit.uuid_of(order["quote"]))
    first = KEPT if order["price"] is not None else LATER
    inputs = inputs_of(visit, values["project"].id, estimate, first)
    return Show("change-orders/edit.html", values | shown(visit, inputs, stored, values["tag"]))


def change(visit: Visit) -> Change:
    """POST /change-orders/{id}/edit: priced before it is stored."""
    asked = read_asked(visit.typed)
    asked.body.setdefault("description", "")
    said = read_form(REVISION, asked.body, partial(in_form, asked=asked))
    ready = in_place(asked, actions.prepare_revision, company=visit.company, id=visit.id, said=said, **sees(visit))
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        made = in_place(
            asked, actions.revise, company=visit.company, member=visit.caller.member, id=visit.id, ready=ready,
            expected=expected, now=visit.now,
        )  # fmt: skip
        return Made(f"/change-orders/{visit.id}", visit.id, before=expected.seen, after=made)

    return Change("revise-change-order", act)


def sees(visit: Visit) -> dict[str, bool]:
    """Whether the person may see costs, as the actions take it."""
    return {"sees_costs": visit.may("costs")}


def in_place(asked: Asked, act: Any, **said: Any) -> Any:
    """What an action gives; its faults at the fields of the form."""
    try:
        return act(**said)
    except Refused as refused:
        raise Refused([in_form(fault, asked) for fault in refused.problems]) from None


def in_form(fault: Problem, asked: Asked) -> Problem:
    """A fault at the field that its pointer came from; one of a whole way of pricing at the choice of the way."""
    for pointer, place in asked.places.items():
        if fault.pointer == pointer or fault.pointer.startswith(f"{pointer}/"):
            return replace(fault, pointer=place)
    if fault.pointer in (f"/{UNIT_PRICES}", f"/{TIME_AND_MATERIAL}"):
        return replace(fault, pointer="/way")
    return fault


def read_asked(typed: QueryDict) -> Asked:
    """The form as the API's body: of the ways of pricing the one that was chosen."""
    told = {name: typed.get(name, "").strip() for name in ("title", "work_date", COMPARISON)}
    description = typed.get("description", "").replace("\r\n", "\n").strip()
    body = {name: told[name] for name in ("title", "work_date") if told[name]}
    asked = Asked(body | ({"description": description} if description else {}))
    way = typed.get("way", "")
    if way == COMPARISON:
        asked.body[COMPARISON] = told[COMPARISON]
    elif way == UNIT_PRICES:
        read_units(typed, asked)
    elif way == TIME_AND_MATERIAL:
        read_ticket(typed, asked)
    read_notice(typed, asked)
    return asked


def add(asked: Asked, entries: list[dict[str, Any]], at: str, **fields: tuple[str, str]) -> None:
    """An entry of a list of the body: (field of the form, what was typed) by the body's name, blank ones left out."""
    for name, (place, _) in fields.items():
        asked.places[f"{at}/{len(entries)}/{name}"] = f"/{place}"
    asked.places[f"{at}/{len(entries)}"] = f"/{next(iter(fields.values()))[0]}"
    entries.append({name: text for name, (_, text) in fields.items() if text})


def read_units(typed: QueryDict, asked: Asked) -> None:
    """Marks with how many come or go."""
    entries: list[dict[str, Any]] = []
    for row in range(ROWS):
        names = {"mark": f"unit_mark_{row}", "openings": f"unit_openings_{row}"}
        if any(typed.get(name, "").strip() for name in names.values()):
            told = {key: (name, typed.get(name, "").strip().removeprefix("+")) for key, name in names.items()}
            add(asked, entries, f"/{UNIT_PRICES}", **told)
    asked.body[UNIT_PRICES] = entries
    asked.places[f"/{UNIT_PRICES}"] = "/way"


def read_ticket(typed: QueryDict, asked: Asked) -> None:
    """Hours, what was bought, what was rented."""
    at = f"/{TIME_AND_MATERIAL}"
    ticket: dict[str, list[dict[str, Any]]] = {"labour": [], "materials": [], "equipment": []}
    for name in typed:
        text = typed.get(name, "").strip()
        if name.startswith(LABOUR) and text:
            add(asked, ticket["labour"], f"{at}/labour", hours=(name, text), labour=(name, name[len(LABOUR) :]))
        if name.startswith(RENTED) and text:
            days = int(text) if text.isascii() and text.isdigit() and len(text) < 10 else text
            add(asked, ticket["equipment"], f"{at}/equipment", days=(name, text), equipment=(name, name[len(RENTED) :]))
            ticket["equipment"][-1]["days"] = days
    for row in range(ROWS):
        names = {"title": f"bought_{row}", "cost": f"bought_cost_{row}"}
        if any(typed.get(name, "").strip() for name in names.values()):
            told = {key: (name, typed.get(name, "").strip()) for key, name in names.items()}
            add(asked, ticket["materials"], f"{at}/materials", **told)
    asked.body[TIME_AND_MATERIAL] = ticket
    asked.places[at] = "/way"


def read_notice(typed: QueryDict, asked: Asked) -> None:
    """When notice is due, where anything is said of it."""
    told = {one.name: typed.get(one.name, "").strip() for one in NOTICE}
    days = told["days"]
    holidays = [day.strip() for day in told["holidays"].split(",") if day.strip()]
    if not any(value for name, value in told.items() if name != "counted"):
        return
    plain = ("known_on", "counted", "given_on", "reference")
    notice: dict[str, Any] = {name: told[name] for name in plain if told[name]}
    if days:
        notice["days"] = int(days) if days.isascii() and days.isdigit() and len(days) < 10 else days
    asked.body["notice"] = notice | ({"holidays": holidays} if holidays else {})
