"""A schedule typed line by line: a grid of plain inputs with one box to paste into, read as a program's lines are."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.conf import settings

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Fault, Form, Input, make_form
from api.pages.views.taking_in import ISSUE, UNIT, read_text, store
from estimating.actions import estimates as runs
from estimating.actions import intake
from estimating.actions.intake import Received, Told
from estimating.actions.preparation import prepare
from estimating.core.request_reading import LENGTH_UNITS
from estimating.intake.shown import show_value
from estimating.queries import estimate_lists, projects, requests
from rates.core.problems import Problem, Refused
from rates.paging import Wanted
from rates.queries.companies import length_style

COLUMNS = (
    "mark", "quantity", "kind", "width", "height", "diameter", "elevation", "storey", "access", "height_above_grade",
    "note",
)  # fmt: skip
HEADINGS = {
    "mark": "mark", "type": "mark", "tag": "mark", "quantity": "quantity", "qty": "quantity", "count": "quantity",
    "no.": "quantity", "kind": "kind", "width": "width", "w": "width", "rough width": "width", "height": "height",
    "h": "height", "rough height": "height", "diameter": "diameter", "elevation": "elevation", "elev.": "elevation",
    "storey": "storey", "story": "storey", "level": "storey", "floor": "storey", "access": "access",
    "height above grade": "height_above_grade", "remark": "note", "remarks": "note", "note": "note", "notes": "note",
}  # fmt: skip
BLANK_ROWS, MOST_ROWS = 12, 2_000
PASTE = Input("paste", "Paste a block from a spreadsheet", "area", wide=True, hint="With or without headings.")
LAST = "cost_as_last"


@dataclass(frozen=True)
class Cell:
    """One input of the grid. shown: the length as it was read, in the company's style."""

    name: str
    value: str
    error: str = ""
    shown: str = ""


def show(visit: Visit) -> Show:
    """GET /projects/{id}/schedules/grid."""
    rows = typed_rows(visit)
    return Show("projects/grid.html", page_of(visit, rows, visit.faults))


def page_of(visit: Visit, rows: Sequence[Mapping[str, str]], faults: Sequence[Problem]) -> dict[str, Any]:
    """The grid with what was typed, each fault at its cell, each length as read below it."""
    style, unit = length_style(company=visit.company), visit.typed.get("length_unit", "")
    at_cells = {fault.pointer: fault.detail for fault in faults if fault.pointer.startswith("/openings/")}
    other = [fault for fault in faults if fault.pointer not in at_cells]
    form = make_form((ISSUE, UNIT, PASTE), typed=typed_around(visit), faults=other)
    grid = []
    for number in range(max(len(rows), BLANK_ROWS)):
        row = rows[number] if number < len(rows) else {}
        cells = []
        for name in COLUMNS:
            value, error = row.get(name, ""), at_cells.get(f"/openings/{number}/{name}", "")
            shown = show_value(name, value, unit or None, style) if value and not error else None
            cells.append(Cell(name, value, error, shown if shown and shown != value else ""))
        grid.append((number, at_cells.get(f"/openings/{number}", ""), cells))
    wanted = Wanted(1, None, "-number")
    last = estimate_lists.of_project(company=visit.company, project=visit.id, wanted=wanted, state="costed")
    return {
        "project": projects.project(company=visit.company, id=visit.id),
        "form": with_cells(form, at_cells),
        "columns": COLUMNS,
        "grid": grid,
        "count": len(grid),
        "last": last.items[0] if last.items else None,
        "checked": bool(visit.typed) and not faults,
    }


def typed_around(visit: Visit) -> dict[str, str]:
    """What was typed beside the grid; what was pasted stands in the grid by now, unless it found no place there."""
    pasted = visit.typed.get("paste", "") if any(one.pointer == "/paste" for one in visit.faults) else ""
    around = {name: visit.typed.get(name, "") for name in ("drawing_issue", "length_unit")}
    return around | {"paste": pasted} if visit.typed else {}


def with_cells(form: Form, at_cells: Mapping[str, str]) -> Form:
    """The form whose list of faults names those of the cells as well, each a link."""
    told = []
    for pointer, detail in at_cells.items():
        _, _, row, *rest = pointer.split("/")
        name = rest[0] if rest else COLUMNS[0]
        told.append(Fault(f"row {int(row) + 1}, {name.replace('_', ' ')}: {detail}", f"cell-{row}-{name}"))
    return replace(form, faults=(*form.faults, *told))


def typed_rows(visit: Visit) -> list[dict[str, str]]:
    """The rows of the grid that hold anything."""
    text = visit.typed.get("rows", "0")
    count = min(int(text), MOST_ROWS) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    typed = [{name: visit.typed.get(f"{name}.{row}", "").strip() for name in COLUMNS} for row in range(count)]
    return [row for row in typed if any(row.values())]


def pasted_rows(text: str) -> list[dict[str, str]]:
    """The cells of a pasted block by the columns of the grid; Refused where one has no place there."""
    if not text.strip():
        return []
    delimiter = "\t" if "\t" in text else ";" if ";" in text else ","
    block = [[cell.strip() for cell in row] for row in csv.reader(io.StringIO(text), delimiter=delimiter)]
    block = [row for row in block if any(row)]
    names = [HEADINGS.get(cell.lower()) for cell in block[0]]
    if any(name is not None for name in names):
        unknown = [cell for cell, name in zip(block[0], names, strict=True) if name is None and cell]
        if unknown:
            detail = f"the grid has no column for {', '.join(unknown)}; take the list in as a pasted list instead"
            raise Refused([Problem("/paste", "no_column", detail)])
        block = block[1:]
    else:
        names = list(COLUMNS)
    wide = [number for number, row in enumerate(block, 1) if any(row[len(names) :])]
    if wide:
        detail = f"row {wide[0]} of the block has more cells than the grid has columns"
        raise Refused([Problem("/paste", "too_wide", detail)])
    if len(block) > MOST_ROWS:
        raise Refused([Problem("/paste", "too_many", f"the grid takes up to {MOST_ROWS:,} rows; send a file")])
    return [{name: cell for name, cell in zip(names, row, strict=False) if name} for row in block]


def send(visit: Visit) -> Change | Show:
    """POST /projects/{id}/schedules/grid: checked only, or taken in as a revision, or costed as last time as well."""
    rows = [*typed_rows(visit), *pasted_rows(visit.typed.get("paste", ""))]
    step = visit.typed.get("step", "")
    if step == "rows":
        return Show("projects/grid.html", page_of(visit, [*rows, *({} for _ in range(BLANK_ROWS))], ()))
    if not rows:
        raise Refused([Problem("/paste", "missing", "type a line into the grid, or paste a block")])
    try:
        received = read(visit, rows)
    except Refused as refused:
        return Show("projects/grid.html", page_of(visit, rows, refused.problems), 422)
    if step == "check":
        return Show("projects/grid.html", page_of(visit, rows, ()))
    return change(visit, received, step == LAST)


def read(visit: Visit, rows: Sequence[Mapping[str, str]]) -> Received:
    """The rows as the intake reads a program's lines; Refused with each fault at its cell."""
    unit = visit.typed.get("length_unit", "")
    openings = [{name: as_value(name, text) for name, text in row.items() if text} for row in rows]
    document = {"openings": openings} | ({"length_unit": unit} if unit in LENGTH_UNITS else {})
    data = json.dumps(document, ensure_ascii=False, indent=1).encode()
    return intake.receive(company=visit.company, project=visit.id, data=data, told=Told("typed.json"))


def as_value(name: str, text: str) -> Any:
    """A cell as a line of a schedule holds it."""
    return int(text) if name == "quantity" and text.isascii() and text.isdigit() and len(text) < 10 else text


def change(visit: Visit, received: Received, at_once: bool) -> Change:
    """The new revision; costed as the project's last estimate was where that is wanted and nothing is in the way."""
    faults: list[Problem] = []
    issue = read_text(visit, "drawing_issue", faults)
    if faults:
        raise Refused(faults)

    def act() -> Made:
        schedule = store(visit, visit.id, received, issue)
        there = Made(f"/schedules/{schedule.id}", schedule.id, after=schedule)
        if not at_once or schedule.questions["blocks_costing"]:
            return there
        last = estimate_lists.of_project(
            company=visit.company, project=visit.id, wanted=Wanted(1, None, "-number"), state="costed"
        )
        request = requests.request_of(company=visit.company, id=last.items[0].id) | {"schedule": str(schedule.id)}
        ready = prepare(company=visit.company, request=request, units=visit.caller.unit_system, now=visit.now)
        small = ready.lines <= settings.SMALL_RUN_LINES
        who = {"company": visit.company, "member": visit.caller.member}
        run = runs.submit(**who, prepared=ready, at_once=small, now=visit.now)
        made = ("make-estimate", run.id, None)
        return replace(there, to=f"/estimates/{run.id}", more=(made,), claim=run.claim, job=ready.job)

    return Change("add-opening-schedule", act)
