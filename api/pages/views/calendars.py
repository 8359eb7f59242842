"""The calendar of an estimate and the sheets of its crew; no money stands on any of these pages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from api.pages.exchange import Show, Visit
from api.pages.views.estimates import head, lines_of
from estimating.outputs.calendar_answer import MONTHS
from estimating.outputs.crew_document import heading_of, sheet_blocks
from estimating.outputs.pictures.site_calendar import calendar_picture
from estimating.outputs.printed.blocks import Block, Column, Heading, Table
from estimating.queries import calendars, crew_sheets
from estimating.queries.crew_sheets import MOST_PRINTED
from rates.refusals import NotThere

WAYS = ("zones", "days", "off")  # how the calendar is listed: the zones, each day with its zones, days without work
STOPS = ("late", "not_planned")  # remarks that somebody has to act on
FIRST_REMARKS = 8  # shown at once; the others on a click
MOST_ZONES = 10**6


def calendar_of(visit: Visit) -> Mapping[str, Any]:
    """The calendar's document as this person may see it."""
    found: Mapping[str, Any] = visit.see("estimate-calendar", calendars.calendar_of(company=visit.company, id=visit.id))
    return found


def read_calendar(visit: Visit, name: str) -> dict[str, Any]:
    """The calendar: what to know first, its picture, then one of its lists."""
    found = calendar_of(visit)
    by = visit.asked.get("by", "")
    by = by if by in WAYS else WAYS[0]
    listed = {"zones": found["zones"], "days": found["items"], "off": found["days_off"]}[by]
    remarks = sorted(found["remarks"], key=lambda one: one["code"] not in STOPS)
    return {
        "found": found,
        "by": by,
        "keep": f"by={by}&",
        "late": sum(bool(row["late"]) for row in found["zones"]),
        "stops": sum(one["code"] in STOPS for one in remarks),
        "remarks": remarks[:FIRST_REMARKS],
        "more_remarks": remarks[FIRST_REMARKS:],
        "svg": calendar_picture(found, name.capitalize()),
        "months": [(part, MONTHS[row["month"] - 1], row) for part in found["parts"] for row in part["months"]],
    } | lines_of(visit, listed)


def read_crew(visit: Visit, name: str) -> dict[str, Any]:
    """The zones, each with its days and the way to its sheet; the sheets as files of so many."""
    found = calendar_of(visit)
    zones = found["zones"]
    return {"found": found, "keep": "", "printed": printed(zones)} | lines_of(visit, zones)


def printed(zones: Sequence[Any]) -> list[tuple[int, int]]:
    """(first, last) zone of each file of sheets."""
    starts = range(1, len(zones) + 1, MOST_PRINTED)
    return [(first, min(first + MOST_PRINTED - 1, len(zones))) for first in starts]


def show_sheet(visit: Visit) -> Show:
    """GET /estimates/{id}/crew/{zone}: one sheet, as the PDF has it."""
    text = str(visit.places["zone"])
    zone = int(text) if text.isascii() and text.isdigit() and len(text) < len(str(MOST_ZONES)) else 0
    if not zone:
        raise NotThere
    sheets = crew_sheets.sheets_of(company=visit.company, id=visit.id, first=zone, last=zone + 1)
    if not sheets or sheets[0]["zone"] != zone:
        raise NotThere
    sheet = visit.see("estimate-crew", {"items": sheets})["items"][0]
    blocks = [block for block in sheet_blocks(sheet) if not (isinstance(block, Heading) and block.level == 1)]
    values = head(visit) | {
        "part": "crew",
        "zone": zone,
        "title": heading_of(sheet),
        "blocks": [(type(block).__name__, block, cells_of(block)) for block in blocks],
        "before": zone - 1,
        "after": zone + 1 if len(sheets) > 1 else None,
    }
    return Show("estimates/crew_sheet.html", values)


def cells_of(block: Block) -> list[list[tuple[Column, str]]]:
    """The rows of a table, each cell with its column; nothing of other blocks."""
    return [list(zip(block.columns, row, strict=True)) for row in block.rows] if isinstance(block, Table) else []
