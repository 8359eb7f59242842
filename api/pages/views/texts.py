"""The texts that a company keeps for its quotes: inclusions, exclusions, clarifications, terms, letterhead."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from django.http import QueryDict

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.quote_drafts import lines_of, read_form
from estimating.actions import quote_texts as actions
from estimating.outputs.quotes.facts import KNOWN, OF_OPENINGS, WHOLE
from estimating.outputs.quotes.texts import LISTS, TEXTS
from estimating.queries import quote_texts as queries
from rates.core.problems import Problem
from rates.refusals import Expected

BLANK, PARTS = 2, ("code", "text", "when")
ROW = re.compile(rf"({'|'.join(LISTS)})_code_([0-9]{{1,3}})")
REST = (
    Input("terms", "Terms of new quotes", "area", wide=True),
    Input("letterhead", "Lines below the company's name", "area", hint="Address, licence: up to 8 lines."),
    Input("validity_days", "For how many days new quotes are valid", "number"),
)


def show(visit: Visit) -> Show:
    """GET /texts: to read, or for the principal as a form."""
    found = queries.quote_texts(company=visit.company)
    values: dict[str, Any] = {"texts": visit.see("quote-texts", found).document, "lists": LISTS}
    values["kept"] = visit.asked.get("kept") == "yes"
    if not visit.may("quotes.approve"):
        return Show("texts/texts.html", values)
    rows = {name: list(row_inputs(name, len(found.document[name]), visit.typed)) for name in LISTS}
    inputs = (*(one for name in LISTS for row in rows[name] for one in row), *REST)
    told, faults = visit.typed, visit.faults
    stored = stored_values(found.document)
    form = make_form(inputs, stored=stored, typed=told, faults=faults, tag=found.tag, stale=visit.stale)
    shown = [(name, [[form[one.name] for one in row] for row in rows[name]]) for name in LISTS]
    facts = [*WHOLE, *(f"{what}:{one}" for what, known in KNOWN.items() for one in known)]
    others = [what for what in OF_OPENINGS if what not in KNOWN]
    rest = [form[one.name] for one in REST]
    values |= {"form": form, "rows": shown, "rest": rest, "facts": facts, "others": others}
    return Show("texts/edit.html", values)


def row_inputs(name: str, kept: int, typed: Mapping[str, Any]) -> Iterator[tuple[Input, ...]]:
    """The fields of the texts of a list: those that are kept and a few more, or as many as were typed."""
    last = [int(found[2]) for one in typed if (found := ROW.fullmatch(one)) and found[1] == name]
    for row in range(max([kept + BLANK, *(place + 1 for place in last)])):
        at = f"/{name}/{row}"
        yield (
            Input(f"{name}_code_{row}", f"Short name {row + 1}", pointer=f"{at}/code"),
            Input(f"{name}_text_{row}", f"As customers read it {row + 1}", "area", wide=True, pointer=f"{at}/text"),
            Input(f"{name}_when_{row}", f"Only with {row + 1}", pointer=f"{at}/when"),
        )


def stored_values(document: Mapping[str, Any]) -> dict[str, Any]:
    """The texts as the form holds them."""
    found: dict[str, Any] = {"terms": document["terms"], "validity_days": document["validity_days"]}
    found["letterhead"] = "\n".join(document["letterhead"])
    for name in LISTS:
        for row, entry in enumerate(document[name]):
            told = {"code": entry["code"], "text": entry["text"], "when": ", ".join(entry["when"])}
            found |= {f"{name}_{part}_{row}": told[part] for part in PARTS}
    return found


def typed_texts(typed: QueryDict) -> tuple[dict[str, Any], dict[str, list[int]]]:
    """The texts as typed, of rows that hold something, and which rows these are by list."""
    body: dict[str, Any] = {name: [] for name in LISTS}
    places: dict[str, list[int]] = {name: [] for name in LISTS}
    for found in sorted(filter(None, map(ROW.fullmatch, typed)), key=lambda one: int(one[2])):
        name, row = found[1], int(found[2])
        code, text, when = (" ".join(typed.get(f"{name}_{part}_{row}", "").split()) for part in PARTS)
        if code or text or when:
            facts = [one.strip() for one in when.split(",") if one.strip()]
            body[name].append({"code": code or None, "text": text or None, "when": facts})
            places[name].append(row)
    body["terms"] = typed.get("terms", "").replace("\r\n", "\n").strip()
    body["letterhead"] = lines_of(typed.get("letterhead", ""))
    days = typed.get("validity_days", "").strip()
    body["validity_days"] = int(days) if days.isascii() and days.isdigit() and len(days) < 10 else days or None
    return body, places


def put(visit: Visit) -> Change:
    """POST /texts: all of them in the place of those before; quotes that stand keep what they say."""
    body, places = typed_texts(visit.typed)

    def in_row(problem: Problem) -> Problem:
        parts = problem.pointer.split("/")
        if len(parts) < 3 or parts[1] not in places or not parts[2].isdigit():
            return problem
        return replace(problem, pointer="/".join(["", parts[1], str(places[parts[1]][int(parts[2])]), *parts[3:]]))

    said = read_form(TEXTS, {name: value for name, value in body.items() if value is not None}, in_row)
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        made = actions.put_texts(company=visit.company, document=said, expected=expected)
        return Made("/texts?kept=yes", None, before=expected.seen, after=made)

    return Change("put-quote-texts", act)
