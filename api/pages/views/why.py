"""How a figure of an estimate was reached: one step, what it is made from, and where each of that stands."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.pages.exchange import Show, Visit
from api.pages.views.estimates import LINES, PARTS, head, start_of
from estimating.core.figures.figure import word as spell
from estimating.queries import estimates as queries
from rates.core.card import TABLES
from rates.identity import read_id

APART = "~~"  # between the figures of the way down, which the address keeps
MOST_STEPS = 8
PART_OF = {  # the first word of a figure's name -> the part of the estimate that shows it
    **dict.fromkeys(("material", "taxable_materials"), "materials"),
    **dict.fromkeys(("hours", "hour_cost", "labour", "labour_cost", "crew", "setup", "learning", "zone"), "hours"),
    **dict.fromkeys(("touch_minutes", "base_minutes", "idle_minutes", "learning_factor"), "hours"),
    **dict.fromkeys(("crew_days", "worker_days", "opening_equivalents"), "hours"),
    "equipment": "equipment",
    **dict.fromkeys(("kind", "joints", "line", "perimeter", "treated_area", "openings"), "openings"),
    "cost_code": "cost-codes",
    "per_area": "per-area",
}
BY_SITE = ("crew", "mobilisations", "treated_depth", "wall_area")  # fields of the request that site and crew hold


def show(visit: Visit) -> Show:
    """GET /estimates/{id}/why/{figure}."""
    figure = str(visit.places["figure"])
    trail = [one for one in visit.asked.get("by", "").split(APART)[-MOST_STEPS:] if one]
    start = start_of(visit)
    found = queries.figure_page(
        company=visit.company, id=visit.id, figure=figure, trail=trail, start=start, count=LINES
    )
    way = [name for name, _ in found["trail"]]
    part = part_of(figure)
    values = head(visit)
    values |= {
        "node": found,
        "inputs": [with_place(visit, one, values["estimate"]) for one in found["inputs"]],
        "trail": [(name, title, APART.join(way[:n])) for n, (name, title) in enumerate(found["trail"])],
        "way": APART.join(way),
        "by": APART.join([*way, figure]),
        "part": part if part and visit.may(PARTS[part][1]) else "",
        "part_title": PARTS[part][0] if part else "",
        "start": start,
        "next": start + LINES if found["more"] else None,
    }
    return Show("estimates/why.html", values)


def part_of(figure: str) -> str:
    """The part of the estimate that a figure belongs to; blank where it is the price itself or what it is made of."""
    steps = figure.split(".")
    if steps[0] == "part" and len(steps) > 2:
        steps = steps[2:]
    if steps[0] == "kind" and len(steps) > 2 and steps[2] in ("piece", "stock", "use"):
        return "pieces"
    return PART_OF.get(steps[0], "")


def with_place(visit: Visit, one: Mapping[str, Any], estimate: Mapping[str, Any]) -> dict[str, Any]:
    """An input of a step with the page that its source stands on, as far as this person sees that."""
    source = one["source"]
    steps = str(source.get("pointer", "")).split("/")[1:]
    found = {**one, "field": steps[-1] if steps else "", "by_site": bool(steps) and steps[0] in BY_SITE}
    if len(steps) > 1 and steps[0] == "openings" and steps[1].isdigit():
        schedule, line = estimate["schedule"], steps[1]
        there = f"/schedules/{schedule['id']}?line={line}#line-{line}" if schedule else ""
        return found | {"line": int(line) + 1, "there": there}
    edition = str(source.get("edition", ""))
    if source.get("table") and visit.may("rates.read") and read_id(edition) is not None:
        row = spell(source["row"] or source["field"])  # a row of the production table is a field
        is_table = source["table"] in TABLES
        found["there"] = f"/editions/{edition}" + (f"/tables/{source['table']}#row-{row}" if is_table else "")
    return found
