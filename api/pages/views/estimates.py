"""One estimate: its price first, each part of it and the way to any figure one step away."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any

import orjson

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import new_once
from api.pages.views.opening_sizes import sizes_of
from estimating.actions import estimates as actions
from estimating.outputs.pictures.of_documents import picture_of_build_up
from estimating.outputs.printed.blocks import Figure
from estimating.outputs.site_documents import amount_of
from estimating.queries import cut_plans, pictures, pieces, projects
from estimating.queries import estimates as queries
from estimating.queries.brief import SAME_DOUBT, brief
from estimating.queries.quotes_found import awarded_with
from estimating.snapshots import FIRST_MARKS
from estimating.states import UNFINISHED
from rates.paging import Page, Wanted, write_cursor
from rates.refusals import Conflict

LINES = 100
FILES = {  # part -> what is saved of it: the end of its address, what it is called, the scope to have it
    "cut-plan": ((".pdf", "PDF for the foreman", "read"), (".xlsx", "workbook", "read"), (".csv", "CSV", "read")),
    "purchase-list": ((".pdf", "PDF with prices", "costs"), (".xlsx", "workbook", "read"), (".csv", "CSV", "read")),
    "calendar": (
        (".ics", "iCalendar", "read"),
        (".xlsx", "workbook of its days", "read"),
        (".csv", "CSV of its days", "read"),
        (".svg", "picture", "read"),
    ),
}
WITHOUT_MONEY = ("calendar", "crew")
PARTS = {  # part -> its title, the scope to see it
    "openings": ("Openings", "read"),
    "hours": ("Hours", "read"),
    "materials": ("Materials", "read"),
    "equipment": ("Equipment", "read"),
    "cost-codes": ("Cost codes", "costs"),
    "methods": ("By each method", "costs"),
    "alternates": ("Alternates", "costs"),
    "per-area": ("Per opening, per area", "read"),
    "assumptions": ("Assumptions", "read"),
    "cut-plan": ("Cut plan", "read"),
    "purchase-list": ("Purchase list", "read"),
    "pieces": ("Pieces to cut", "read"),
    "calendar": ("Calendar", "read"),
    "crew": ("Crew sheets", "read"),
}
TABS = PARTS | {"": ("Price", "read"), "what-if": ("What if", "estimate"), "progress": ("Progress on site", "read")}
OF_PRICE = ("", "openings", "hours", "materials", "equipment", "cost-codes", "methods", "alternates", "per-area")
GROUPS = (  # what the tabs of an estimate are for
    ("Price", (*OF_PRICE, "what-if")),
    ("To sign", ("assumptions",)),
    ("For the yard", ("cut-plan", "purchase-list", "pieces")),
    ("For the site", ("calendar", "crew", "progress")),
)


def document_of(visit: Visit) -> dict[str, Any]:
    """The estimate, with no more than the first of many marks, as this person may see it; NotThere."""
    found = visit.see("estimate", queries.estimate(company=visit.company, id=visit.id, whole=False))
    if isinstance(found, queries.Estimate):
        kept = found.document
        return dict(orjson.loads(kept) if isinstance(kept, bytes) else kept)
    return dict(found)


def head(visit: Visit) -> dict[str, Any]:
    """What every page of an estimate shows."""
    document = document_of(visit)
    project = document["project"]
    return {
        "estimate": document,
        "project": projects.project(company=visit.company, id=uuid.UUID(project)) if project else None,
        "currency": document["currency"],
        "is_finished": document["state"] not in UNFINISHED,
        "awarded_with": awarded_with(company=visit.company, estimate=visit.id),
        **tabs_of(visit, document),
    }


def tabs_of(visit: Visit, document: Mapping[str, Any]) -> dict[str, Any]:
    """The parts that a person may see, in groups by what they are for, and those that hold nothing here apart."""
    filled = queries.parts_with_content(company=visit.company, id=visit.id)
    empty = {name for name in ("equipment", "per-area") if name not in filled}
    if not document["scope"]["alternates"]:
        empty.add("alternates")
    if document["state"] != "costed":
        empty = set()
    seen = [name for name, (_, scope) in TABS.items() if visit.may(scope)]
    groups = [(title, [(n, TABS[n][0]) for n in names if n in seen and n not in empty]) for title, names in GROUPS]
    return {
        "tabs": [group for group in groups if group[1]],
        "empty_parts": [(name, TABS[name][0]) for name in seen if name in empty],
    }


def show(visit: Visit) -> Show:
    """GET /estimates/{id}: how far it is, why it has no price, or the price."""
    values = head(visit) | {"once": new_once(), "faults": visit.faults}
    marks = values["estimate"]["by_mark"]
    values["marks"] = [printed_mark(visit, i, one, values["currency"]) for i, one in enumerate(marks[:FIRST_MARKS])]
    values["has_more_marks"] = len(marks) > FIRST_MARKS
    if values["estimate"]["state"] == "costed":
        beside = brief(company=visit.company, id=visit.id, document=values["estimate"])
        values |= {"hours": beside, "remarks": remarks_of(values["estimate"], beside.answers)}
    steps = values["estimate"]["build_up"]
    titles = [step["title"] for step in steps]
    values["twice"] = [title for title in titles if titles.count(title) > 1]  # lines apart by cost code alone
    values["picture"] = picture_of_build_up(steps, values["currency"]) if steps else None
    if visit.is_part and not values["is_finished"]:
        return Show("estimates/progress.html", values)
    return Show("estimates/estimate.html", values)


def remarks_of(document: Mapping[str, Any], answers: Mapping[str, Sequence[str]]) -> list[dict[str, Any]]:
    """The remarks, with the answer that the schedule has to the same doubt, else the line where it can be settled."""
    schedule, found = document["schedule"], []
    for one in document["remarks"]:
        line = one["pointer"].split("/")[2] if one["pointer"].startswith("/openings/") else ""
        found.append(
            {
                "severity": "to_check" if one["code"] in SAME_DOUBT else one["severity"],
                "words": one["detail"],
                "answers": answers.get(SAME_DOUBT.get(one["code"], ""), []),
                "line": int(line) if schedule and line.isdigit() else None,
            }
        )
    return found


def printed_mark(visit: Visit, place: int, mark: Mapping[str, Any], currency: str) -> dict[str, str]:
    """The cells of a mark in the reader's way, and where its price is explained to whom costs are shown."""
    number, money = visit.reader.number, visit.reader.money
    return {
        "mark": str(mark["mark"]),
        "why": f"/estimates/{visit.id}/why/mark.{place}.price" if visit.may("costs") else "",
        "quantity": number(mark["quantity"]),
        "hours": number(mark["hours"], 2),
        **{name: money(mark[name], currency) for name in ("price", "unit_price", "residual")},
    }


def cancel(visit: Visit) -> Change:
    """POST /estimates/{id}: the run is cancelled."""

    def act() -> Made:
        found = actions.cancel(company=visit.company, id=visit.id)
        return Made(f"/estimates/{visit.id}", visit.id, after=visit.see("cancel-estimate", found, "estimate"))

    return Change("cancel-estimate", act)


def part(name: str, read: Callable[[Visit, str], dict[str, Any]] | None = None) -> Callable[[Visit], Show]:
    """The view of GET /estimates/{id}/{part}; `read` gives its values."""

    def show_part(visit: Visit) -> Show:
        files = [(end, title) for end, title, scope in FILES.get(name, ()) if visit.may(scope)]
        values = head(visit) | {"part": name, "part_title": PARTS[name][0], "files": files}
        values["shows_price"] = name not in WITHOUT_MONEY
        if values["estimate"]["state"] == "costed":
            try:
                values |= (read or read_part)(visit, name)
                values["picture"] = picture_of(visit, name, values["estimate"])
            except Conflict as missing:  # the request did not ask for it
                values["missing"] = missing.detail
        return Show("estimates/part.html", values | {"part_template": f"estimates/parts/{name}.html"})

    return show_part


def picture_of(visit: Visit, name: str, document: Mapping[str, Any]) -> Figure | None:
    """The picture of a part that has one."""
    who = {"company": visit.company, "id": visit.id}
    if name == "hours":
        return pictures.hours_picture(**who)
    return pictures.break_even_picture(**who, document=document) if name == "per-area" else None


def read_part(visit: Visit, name: str) -> dict[str, Any]:
    """A part as this person may see it: a page of a list, or an object."""
    who = {"company": visit.company, "id": visit.id}
    scope, shape = PARTS[name][1], f"estimate-{name}"
    if name == "pieces":
        found = visit.see(shape, pieces.pieces(**who).document, scope)
        return {"found": found, "titles": titles_of(visit)} | lines_of(visit, found["items"])
    if name == "cut-plan":
        return read_plan(visit, visit.see(shape, cut_plans.plan_of(**who), scope))
    if not queries.is_list(**who, name=name):
        found = as_object(visit.see(shape, queries.part(**who, name=name), scope))
        return {"found": found} | lines_of(visit, list(found.get("touch_minutes", {}).items()))
    start = start_of(visit)
    cursor = write_cursor(start) if start else None
    page: Page[Any] = visit.see(shape, queries.part_page(**who, name=name, wanted=Wanted(LINES, cursor)), scope)
    items = [as_object(item) for item in page.items]
    if name == "openings":
        sizes = sizes_of(visit, document_of(visit)["schedule"], start, LINES)
        items = [
            {**one, "minutes_each": shared_by(one["touch_minutes"], one["quantity"]), "size": sizes.get(one["line"])}
            for one in items
        ]
    if name == "materials":
        items = [{**one, "pack_price": pack_price(one)} for one in items]
    filled = {column for one in items for column, value in one.items() if value not in (None, "", [])}
    whole = name == "purchase-list" and visit.may("costs") and not start and not page.next
    total = amount_of(items, document_of(visit)["currency"]) if whole else None
    return {
        "items": items,
        "filled": filled,
        "total": total,
        "start": start,
        "next": start + LINES if page.next else None,
    }


def shared_by(total: str, count: int) -> Decimal | None:
    """What one of so many takes of a printed figure."""
    return Decimal(total) / count if count else None


def pack_price(material: Mapping[str, Any]) -> Decimal | None:
    """What a pack costs, by the amount of all; None of several sizes, or where it does not come out to the cent."""
    packs = material["packs"]
    if len(packs) != 1 or material.get("amount") is None or material.get("priced_as") == "used":
        return None
    each, left = divmod(Decimal(material["amount"]).scaleb(2), packs[0]["count"])
    return None if left else each.scaleb(-2)


def start_of(visit: Visit) -> int:
    """How many lines the page before has shown."""
    text = visit.asked.get("from", "0")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 8 else 0


def titles_of(visit: Visit) -> dict[str, str]:
    """What the materials are called, by their codes."""
    found = visit.see("estimate-materials", queries.part(company=visit.company, id=visit.id, name="materials"))
    return {row["code"]: row["title"] for row in map(as_object, found)}


def read_plan(visit: Visit, plan: Mapping[str, Any]) -> dict[str, Any]:
    """A cut plan: its rolls or, where they are asked for, its bundles, so many lines of them."""
    by = "bundles" if visit.asked.get("by") == "bundles" else "rolls"
    shown = lines_of(visit, plan["bundles" if by == "bundles" else "items"])
    titles = {row["material"]: row["title"] for row in plan["materials"]}
    return {"found": plan, "titles": titles, "by": by, "keep": "by=bundles&" if by == "bundles" else ""} | shown


def lines_of(visit: Visit, every: Sequence[Any]) -> dict[str, Any]:
    """So many lines of a list that is whole, from where the page before ended."""
    start = start_of(visit)
    more = start + LINES if len(every) > start + LINES else None
    return {"items": every[start : start + LINES], "start": start, "next": more}


def as_object(value: Any) -> Any:
    """A stored part, or an item of one, as values."""
    return orjson.loads(value) if isinstance(value, bytes) else value
