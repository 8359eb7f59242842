"""The climates that a company has loaded for its calendars: by place, and more from a file or a pasted table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from api.climate_sheets import read_climate_sheet
from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Input, make_form
from api.pages.views.taking_in import at_field
from estimating.actions import climates as actions
from estimating.core.climate_tables import MOST_ROWS, ROW
from estimating.core.schedule_lines import place_key
from estimating.outputs.calendar_answer import MONTHS
from estimating.queries import climates as queries
from rates.core.problems import Problem, Refused
from rates.refusals import Expected

ADD, WHOLE = "add", "whole"
INPUTS = (
    Input(
        "file", "A CSV file", "file",
        hint="Its first row names the fields: place, month, high, low, unit; at will wet_days, dry_hours, source.",
    ),
    Input("paste", "Or its rows, pasted", "area", wide=True, hint="Copied from a spreadsheet, the row of names first."),
    Input(
        "mode", "What is loaded", "radio", value=ADD,
        choices=(
            (ADD, "is added; a place that is there already is replaced"),
            (WHOLE, "takes the place of the whole table"),
        ),
    ),
)  # fmt: skip


def show(visit: Visit) -> Show:
    """GET /climates: the places, the months of one, and for who may load them the form."""
    found = queries.climates(company=visit.company)
    rows: Sequence[Mapping[str, Any]] = visit.see("climates", found).items
    places: dict[str, list[Mapping[str, Any]]] = {}
    for row in rows:
        places.setdefault(place_key(row["place"]), []).append(row)
    wanted = places.get(place_key(visit.asked.get("place", "")), [])
    values = {
        "places": list(places.values()),
        "months": [(MONTHS[row["month"] - 1], row) for row in sorted(wanted, key=lambda row: row["month"])],
        "kept": visit.asked.get("kept") == "yes",
        "fields": [(field.name, field.doc) for field in ROW.fields],
        "form": make_form(INPUTS, typed=visit.typed, faults=visit.faults, tag=found.tag),
    }
    return Show("climates/climates.html", values)


def put(visit: Visit) -> Change:
    """POST /climates: what is loaded added to what is there, or in its place."""
    file, text = visit.request.FILES.get("file"), visit.typed.get("paste", "")
    field, data = ("/file", file.read()) if file is not None and file.size else ("/paste", text.encode())
    if not data.strip():
        raise Refused([Problem("/file", "missing", "choose a file, or paste its rows")])
    try:
        loaded = read_climate_sheet(data)
    except Refused as refused:
        raise Refused([at_field(problem, field) for problem in refused.problems]) from None
    rows = loaded if visit.typed.get("mode") == WHOLE else added(queries.climates(company=visit.company).items, loaded)
    if len(rows) > MOST_ROWS:
        raise Refused([Problem(field, "too_many", f"with what is there these are more than {MOST_ROWS:,} rows")])
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        made = actions.put_climates(company=visit.company, rows=rows, expected=expected)
        return Made("/climates?kept=yes", None, before=expected.seen, after=made)

    return Change("put-climates", act)


def added(stored: Sequence[dict[str, Any]], loaded: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The rows of all places, those of a place that is loaded as they are loaded."""
    anew = {place_key(row["place"]) for row in loaded}
    return [row for row in stored if place_key(row["place"]) not in anew] + loaded
