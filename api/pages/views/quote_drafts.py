"""A quote drafted from an estimate, and what a draft says: customer, validity, terms, texts, addenda."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from functools import partial
from typing import Any

from django.http import QueryDict

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.quotes import NEWEST_FIRST, head
from api.quote_fields import CHANGE_QUOTE, NEW_QUOTE
from estimating.actions import quotes as actions
from estimating.outputs.quotes.texts import LISTS
from estimating.queries import estimate_lists, projects, quote_texts
from estimating.queries import quotes as queries
from rates.core.fields import Record
from rates.core.problems import Problem, Refused
from rates.paging import Wanted
from rates.refusals import Expected

MOST_ESTIMATES, MOST_REVISIONS, MOST_BEFORE, BLANK_ADDENDA = 50, 100, 5, 2
CUSTOMER = (
    Input("customer_name", "Customer", needed=True, pointer="/customer/name"),
    Input("customer_contact", "Person there", pointer="/customer/contact"),
    Input("customer_email", "Their e-mail address", pointer="/customer/email", hint="Nothing is sent by the service."),
    Input("customer_reference", "Their reference", pointer="/customer/reference"),
    Input("customer_address", "Address", "area", pointer="/customer/address", hint="As on an envelope, up to 8 lines."),
)
VALID = Input("valid_until", "Valid until", "date", hint="The last day on which it binds.")
ADDENDUM = re.compile(r"addendum_name_([0-9]{1,3})")
Place = Callable[[Problem], Problem]
OWN = "own_"  # before the name of a list: texts in words that the company doesn't keep


def as_it_is(problem: Problem) -> Problem:
    """A fault whose pointer is that of a field already."""
    return problem


def read_form(record: Record, body: Mapping[str, Any], place: Place = as_it_is) -> dict[str, Any]:
    """What a form says, read as the API reads it; Refused with every fault."""
    faults: list[Problem] = []
    found = record.read(body, "", faults)
    if faults:
        raise Refused([place(fault) for fault in faults])
    return dict(found)


def lines_of(text: str) -> list[str]:
    """The lines of a text that hold something."""
    return [line.strip() for line in text.splitlines() if line.strip()]


def typed_customer(typed: QueryDict) -> dict[str, Any]:
    """The customer as typed."""
    found: dict[str, Any] = {
        one.name.removeprefix("customer_"): typed.get(one.name, "").strip() or None for one in CUSTOMER
    }
    return found | {"address": lines_of(typed.get("customer_address", ""))}


def customer_values(customer: Mapping[str, Any]) -> dict[str, str]:
    """The customer as the form holds it."""
    return {f"customer_{name}": value for name, value in customer.items() if name != "address"} | {
        "customer_address": "\n".join(customer.get("address", ()))
    }


def new(visit: Visit) -> Show:
    """GET /projects/{id}/quotes/new: of which estimate, to whom."""
    who: dict[str, Any] = {"company": visit.company, "project": visit.id}
    project = projects.project(company=visit.company, id=visit.id)
    costed = estimate_lists.of_project(**who, wanted=Wanted(MOST_ESTIMATES, None, "-number"), state="costed").items
    before = queries.quotes(**who, wanted=Wanted(MOST_BEFORE, None, NEWEST_FIRST), now=visit.now).items
    choices = [
        (
            str(one.id),
            f"Estimate {one.number}: {visit.reader.money(one.price, one.currency)} {one.currency}, "
            f"costed {visit.reader.time(one.created_at)}",
        )
        for one in costed
    ]
    named = visit.asked.get("estimate", "")
    chosen = named if named in dict(choices) else choices[0][0] if choices else ""
    texts = quote_texts.quote_texts(company=visit.company)
    kept, days = any((*(texts.document[name] for name in LISTS), texts.terms)), texts.validity_days
    valid = replace(VALID, hint=f"The last day on which it binds. Left blank: {days} days from today.")
    inputs = (Input("estimate", "Estimate", "choice", choices=choices, value=chosen), *CUSTOMER, valid)
    form = make_form(inputs, typed=visit.typed, faults=visit.faults)
    told = {"form": form, "project": project, "enough": bool(choices), "before": before, "kept": kept}
    return Show("quotes/new.html", told)


def make(visit: Visit) -> Change:
    """POST /projects/{id}/quotes/new: worked out first, then stored."""
    projects.project(company=visit.company, id=visit.id)
    body = {
        "estimate": visit.typed.get("estimate") or None,
        "customer": typed_customer(visit.typed),
        "valid_until": visit.typed.get("valid_until") or None,
    }
    said = read_form(NEW_QUOTE, body)
    estimate = said.pop("estimate")
    ready = actions.prepare(company=visit.company, estimate=estimate, said=said, now=visit.now)
    if ready.row.project_id != visit.id:
        raise Refused([Problem("/estimate", "other_project", "this estimate is of another project")])

    def act() -> Made:
        quote = actions.draft(company=visit.company, member=visit.caller.member, ready=ready, now=visit.now)
        return Made(f"/quotes/{quote.id}/edit", quote.id, after=quote)

    return Change("make-quote", act)


def edit(visit: Visit) -> Show:
    """GET /quotes/{id}/edit: all that a draft says beside its lines."""
    values = head(visit)
    quote, tag = values["quote"], values["tag"]
    kept = quote_texts.quote_texts(company=visit.company).document
    revisions: Sequence[projects.Schedule] = ()
    if values["project"] is not None:
        wanted = Wanted(MOST_REVISIONS, None, "-revision")
        revisions = projects.schedules(company=visit.company, project=values["project"].id, wanted=wanted).items
    rows = list(addendum_inputs(len(quote["addenda"]) + BLANK_ADDENDA, visit.typed, revisions))
    texts = list(text_inputs(kept, quote))
    said = (
        VALID,
        Input("discount_percent", "Discount, percent", hint=limit_told(quote)),
        Input("terms", "Terms", "area", wide=True, hint="They stand at the end of the letter."),
        Input("note", "Note for the office", "area", wide=True, hint="It stands in no letter."),
    )
    stored = quote | customer_values(quote["customer"]) | texts_stored(kept, quote) | addenda_stored(quote)
    inputs = (*CUSTOMER, *said, *texts, *(one for row in rows for one in row))
    form = make_form(inputs, stored=stored, typed=visit.typed, faults=visit.faults, tag=tag, stale=visit.stale)
    values |= {
        "form": form,
        "customer": [form[one.name] for one in CUSTOMER],
        "texts": [form[one.name] for one in texts],
        "addenda": [[form[one.name] for one in row] for row in rows],
    }
    return Show("quotes/edit.html", values)


def limit_told(quote: Mapping[str, Any]) -> str:
    """How far a discount may go, and who decides beyond it."""
    limit = quote["discount_limit"]
    if limit is None:
        return "Taken off the price."
    if not Decimal(limit):
        return "Taken off the price. Your role gives none by itself: the principal is asked."
    return f"Taken off the price. Your role may give up to {limit} %; beyond that the principal is asked."


def text_inputs(kept: Mapping[str, Any], quote: Mapping[str, Any]) -> Iterator[Input]:
    """For each list of texts those to pick from, and room for other words."""
    for name in LISTS:
        picked = {entry["code"]: entry["text"] for entry in quote[name] if entry["code"]}
        known = {entry["code"]: entry["text"] for entry in kept[name]} | picked
        if known:
            yield Input(name, name.capitalize(), "ticks", choices=tuple(known.items()))
        title = f"{name.capitalize()} in other words" if known else name.capitalize()
        yield Input(f"{OWN}{name}", title, "area", wide=True, hint="One on a line.", pointer=f"/{OWN}{name}")


def texts_stored(kept: Mapping[str, Any], quote: Mapping[str, Any]) -> dict[str, str]:
    """The texts of a draft as the form holds them."""
    found = {}
    for name in LISTS:
        found[name] = "\n".join(entry["code"] for entry in quote[name] if entry["code"])
        found[f"{OWN}{name}"] = "\n".join(entry["text"] for entry in quote[name] if not entry["code"])
    return found


def addendum_inputs(
    count: int, typed: Mapping[str, Any], revisions: Sequence[projects.Schedule]
) -> Iterator[tuple[Input, ...]]:
    """Fields for addenda: so many rows, or as many as were typed."""
    rows = max([count, *(int(found[1]) + 1 for name in typed if (found := ADDENDUM.fullmatch(name)))])
    choices = [
        ("", "none"),
        *((str(one.id), f"Revision {one.revision} {one.drawing_issue}".strip()) for one in revisions),
    ]
    for row in range(rows):
        at = f"/addenda/{row}"
        yield (
            Input(f"addendum_name_{row}", "Name", pointer=f"{at}/name"),
            Input(f"addendum_day_{row}", "Acknowledged on", "date", pointer=f"{at}/acknowledged_on"),
            Input(f"addendum_schedule_{row}", "Led to", "choice", choices=choices, pointer=f"{at}/schedule"),
            Input(f"addendum_marks_{row}", "Marks", pointer=f"{at}/marks"),
        )


def addenda_stored(quote: Mapping[str, Any]) -> dict[str, str]:
    """The addenda of a draft as the form holds them."""
    found: dict[str, str] = {}
    for row, one in enumerate(quote["addenda"]):
        found |= {
            f"addendum_name_{row}": one["name"],
            f"addendum_day_{row}": one["acknowledged_on"],
            f"addendum_schedule_{row}": one["schedule"] or "",
            f"addendum_marks_{row}": ", ".join(one["marks"]),
        }
    return found


def typed_addenda(typed: QueryDict) -> tuple[list[dict[str, Any]], list[int]]:
    """The addenda as typed, those of rows that hold something, and which rows these are."""
    rows = sorted(int(found[1]) for name in typed if (found := ADDENDUM.fullmatch(name)))
    entries, places = [], []
    for row in rows:
        name, day, schedule, marks = (
            typed.get(f"addendum_{what}_{row}", "").strip() for what in ("name", "day", "schedule", "marks")
        )
        if name or day or marks:
            split = [mark.strip() for mark in marks.split(",") if mark.strip()]
            entry = {"name": name or None, "acknowledged_on": day or None, "schedule": schedule or None, "marks": split}
            entries.append(entry)
            places.append(row)
    return entries, places


def typed_texts(typed: QueryDict, quote: queries.Quote) -> dict[str, list[dict[str, Any]]]:
    """The texts as picked and typed: what stands in the quote already stays in its words."""
    found = {}
    for name in LISTS:
        stands = {entry["code"]: entry["text"] for entry in getattr(quote, name) if entry["code"]}
        picked = [{"code": code, "text": stands.get(code)} for code in typed.getlist(name)]
        found[name] = picked + [{"code": None, "text": line} for line in lines_of(typed.get(f"{OWN}{name}", ""))]
    return found


def in_form(problem: Problem, places: Sequence[int], picked: Mapping[str, int]) -> Problem:
    """A fault at the field of the form: addenda by their row, a text by whether it was picked or typed."""
    parts = problem.pointer.split("/")
    if len(parts) < 3 or not parts[2].isdigit():
        return problem
    place = int(parts[2])
    if parts[1] == "addenda":
        return replace(problem, pointer="/".join(["", "addenda", str(places[place]), *parts[3:]]))
    if parts[1] in LISTS and place >= picked[parts[1]]:
        return replace(problem, pointer=f"/{OWN}{parts[1]}")
    return problem


def change(visit: Visit) -> Change:
    """POST /quotes/{id}/edit."""
    stands = queries.quote(company=visit.company, id=visit.id, role=visit.caller.role, now=visit.now)
    typed = visit.typed
    addenda, places = typed_addenda(typed)
    picked = {name: len(typed.getlist(name)) for name in LISTS}
    body = {
        "customer": typed_customer(typed),
        "valid_until": typed.get("valid_until", ""),
        "terms": typed.get("terms", "").replace("\r\n", "\n"),
        "note": typed.get("note", "").replace("\r\n", "\n"),
        "discount_percent": typed.get("discount_percent", "").strip() or "0",
        "addenda": addenda,
        **typed_texts(typed, stands),
    }

    place = partial(in_form, places=places, picked=picked)
    said = read_form(CHANGE_QUOTE, body, place)
    return change_draft(visit, said, f"/quotes/{visit.id}{'/issue' if typed.get('then') == 'check' else ''}", place)


def change_draft(visit: Visit, said: Mapping[str, Any], to: str, place: Place = as_it_is) -> Change:
    """The change of a draft on the state that the form was shown in; `place` puts faults at fields of the form."""
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        who: dict[str, Any] = {
            "company": visit.company,
            "member": visit.caller.member,
            "id": visit.id,
            "now": visit.now,
        }
        try:
            quote = actions.change(**who, changes=said, expected=expected)
        except Refused as refused:
            raise Refused([place(fault) for fault in refused.problems]) from None
        return Made(to, visit.id, before=expected.seen, after=quote)

    return Change("change-quote", act)
