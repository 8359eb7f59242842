"""The assumptions of an estimate, signed off by whoever stands behind them, and sign-offs taken back."""

from __future__ import annotations

from typing import Any

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import make_form
from api.pages.trade_words import in_words, places_in_brackets
from api.pages.views.estimates import head
from api.plain import plain
from estimating.actions import sign_offs as actions
from estimating.outputs.assumptions.item import ANSWER, NOTHING, PRICE, UNKNOWN
from estimating.outputs.assumptions.words import value_said
from estimating.queries import sign_offs as queries
from rates.core.problems import Problem, Refused
from rates.queries.members import member_names

SETTLED = "settled"
WAIT = ("open", "inherited")
GROUPS = (  # name, heading, what is known of them
    (PRICE, "Known to move the price", "Tried with the likeliest other values."),
    (UNKNOWN, "May move the price", "By how much is not worked out."),
    (NOTHING, "Moves nothing here", "Tried with the likeliest other values: the price stays the same."),
    (SETTLED, "Entered or answered", "Somebody's word already: no signature is needed."),
)
TICKED_WHOLE = (UNKNOWN, NOTHING)  # what moves the price is looked at one by one
SOURCES = {
    "default": "usual value",
    "edition": "usual value where the rates are silent",
    "learnt": "columns confirmed before",
    "answer": "answer on the schedule",
    "request": "entered for this estimate",
}


def show(visit: Visit) -> Show:
    """GET /estimates/{id}/assumptions: what nobody entered, those that wait for a signature apart from the others."""
    values = head(visit) | {"part": "assumptions", "form": make_form((), faults=visit.faults)}
    if values["estimate"]["state"] == "costed":
        found = plain(visit.see("sign-offs", queries.sign_offs(company=visit.company, id=visit.id)))
        groups = grouped([in_trade_words(one) for one in found["items"]])
        values |= {"found": found, "groups": groups, "names": names_of(visit, found["items"])}
    return Show("estimates/assumptions.html", values)


def in_trade_words(one: dict[str, Any]) -> dict[str, Any]:
    """An assumption as a person of the trade reads it."""
    said = value_said(one["field"], one["value"])
    sentence = one["sentence"]
    if one["source"] == ANSWER:
        said = in_words(one["value"])
        sentence = places_in_brackets(sentence.removesuffix(f"{one['value']}.") + f"{said}.")
    return {**one, "said": said, "sentence": sentence, "from": SOURCES[one["source"]]}


def grouped(items: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The assumptions by what is known of how they move the price, in the order of their list."""
    found = []
    for name, title, about in GROUPS:
        rows = [one for one in items if name == group_of(one)]
        waiting = [one["assumption"] for one in rows if one["state"] in WAIT]
        whole = waiting if name in TICKED_WHOLE and len(waiting) > 1 else []
        if rows:
            found.append({"name": name, "title": title, "about": about, "rows": rows, "whole": whole})
    return found


def group_of(one: dict[str, Any]) -> str:
    """The group that an assumption stands in."""
    return SETTLED if one["state"] in ("answered", "entered") else str(one["moves"])


def names_of(visit: Visit, items: list[dict[str, Any]]) -> dict[str, str]:
    """Who signed, by the id of the member."""
    signed = {str(one["signed_by"]) for one in items if one.get("signed_by")}
    return member_names(company=visit.company, ids=signed) if signed else {}


def sign(visit: Visit) -> Change:
    """POST /estimates/{id}/assumptions: those ticked, and all that a group ticked whole was shown with."""
    chosen, back = visit.typed.getlist("sign"), visit.typed.getlist("take_back")
    whole = [name for name in visit.typed.getlist("whole") if name in TICKED_WHOLE]
    chosen = list(
        dict.fromkeys([*chosen, *(key for name in whole for key in visit.typed.get(f"of_{name}", "").split())])
    )
    if not chosen and not back:
        raise Refused([Problem("", "missing", "tick the assumptions that you stand behind")])
    ready = actions.prepare(company=visit.company, id=visit.id, sign=chosen, take_back=back)

    def act() -> Made:
        found = actions.write(company=visit.company, member=visit.caller.member, ready=ready, now=visit.now)
        return Made(f"/estimates/{visit.id}/assumptions", visit.id, after={"open": found.open, "signed": chosen})

    return Change("sign-assumptions", act)
