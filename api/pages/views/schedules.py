"""One revision of a schedule: what was read from which cell, what is set aside, the file beside it."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from api.pages.exchange import Send, Show, Visit
from api.pages.forms import make_form
from estimating.intake.questions import BLOCKS_COSTING
from estimating.intake.sheets_state import LEFT_OUT
from estimating.queries import estimate_lists, intake, projects, quotes, source_cells
from estimating.queries.received_files import received_file
from rates.core.problems import Problem, Refused
from rates.paging import Wanted, write_cursor

PAGE_LINES, PAGE_ROWS = 100, 200
NEWEST = Wanted(1, None, "-created_at")
COLUMNS = ("mark", "kind", "quantity", "width", "height", "elevation", "storey", "access", "height_above_grade")
TAKEN = {  # code of a question -> what is taken while it is open
    "access_missing": "openings without access are priced from the ground",
    "access_unknown": "openings whose access is not understood are priced from the ground",
    "door_sides": "doors without sides are treated on all four",
}
APART_COLUMNS = frozenset({*COLUMNS, "id"})
# questions that block costing and change no count: what they ask is a size, a unit, a shape, sides or a method
OF_SIZES = frozenset(
    {
        "decimal_comma", "encoding", "kind_beside", "leaves", "method_unknown", "pipe_size", "shape_words",
        "sides_unknown", "size_basis", "size_basis_of_line", "size_in_words", "size_out_of_band", "size_unknown",
        "size_unreadable", "unit_implausible", "unit_unknown", "width_in_length_column", "words_beside_size",
    }
)  # fmt: skip
OF_COUNTS = frozenset({"duplicate_line", "notes_words"})  # that change one, whether they block costing or not


def revision_of(visit: Visit) -> intake.Received:
    """The revision that the address names; NotThere."""
    return intake.received(company=visit.company, id=visit.id)


def head(visit: Visit, revision: intake.Received | None = None) -> dict[str, Any]:
    """What every page of a revision shows: the revision, its project, the newest revision, what was costed last."""
    revision = revision or revision_of(visit)
    schedule = projects.show_schedule(revision.row)
    who = {"company": visit.company, "project": schedule.project}
    newest = projects.schedules(**who, wanted=Wanted(1, None, "-revision")).items[0]
    costed = estimate_lists.of_project(**who, wanted=Wanted(1, None, "-number"), state="costed").items
    return {
        "schedule": schedule,
        "project": projects.project(company=visit.company, id=schedule.project),
        "newest": newest if newest.id != schedule.id else None,
        "costed": costed[0] if costed else None,
        "quoted": last_quoted(visit, schedule.project),
        "left_open": left_open(revision) if schedule.questions["blocks_issue"] else [],
    }


def left_open(revision: intake.Received) -> list[str]:
    """What the price takes for open questions about access and sides until they are answered."""
    return list(dict.fromkeys(TAKEN[code] for code, _ in revision.open_questions() if code in TAKEN))


def last_quoted(visit: Visit, project: uuid.UUID) -> quotes.QuoteLine | None:
    """The project's newest quote that a customer has, for who may quote it anew."""
    if not visit.may("quotes"):
        return None
    found = quotes.quotes(company=visit.company, wanted=NEWEST, now=visit.now, state="issued", project=project).items
    return found[0] if found else None


def show(visit: Visit) -> Show:
    """GET /schedules/{id}: what becomes of the file's openings, then line by line what was read."""
    start = read_start(visit.asked.get("line", "0"), PAGE_LINES)
    cursor = write_cursor(start) if start else None
    revision = revision_of(visit)
    values = head(visit, revision)
    page = intake.reading(revision, Wanted(PAGE_LINES, cursor))
    report = intake.beside(revision)
    columns = [name for name in COLUMNS if any(name in line["fields"] for line in page.items)]
    values |= {
        "lines": [line_of(line, columns) for line in page.items],
        "report": report,
        **file_scope(report),
        "apart": [one for one in report["apart"] if not is_left_out(one)],
        "counting": counting_questions(revision),
        "received": received_file(company=visit.company, schedule=values["schedule"]),
        "columns": columns,
        "start": start,
        "next": start + PAGE_LINES if page.next else None,
        "form": make_form(()),
        "back": max(start - PAGE_LINES, 0) if start else None,
    }
    return Show("schedules/schedule.html", values)


def file_scope(report: Mapping[str, Any]) -> dict[str, Any]:
    """What answers leave out of a file, and how many openings it has with them."""
    gone = left_out(report)
    return {"left_out": gone, "in_all": report["scope"]["in_file"] + sum(count for _, count in gone)}


def is_left_out(apart: Mapping[str, Any]) -> bool:
    """Whether the report tells of lines that an answer leaves out."""
    return str(apart["what"]).startswith(LEFT_OUT)


def left_out(report: Mapping[str, Any]) -> list[tuple[str, int]]:
    """Where answers left lines out, and how many openings these count."""
    found = [(one["what"], one.get("count", 0)) for one in report["apart"] if is_left_out(one)]
    return [(what.removeprefix(LEFT_OUT).removeprefix(" of "), count) for what, count in found if count]


def counting_questions(revision: intake.Received) -> int:
    """How many open questions may change the number of openings."""
    asked = revision.open_questions()
    return sum(code in OF_COUNTS or (severity == BLOCKS_COSTING and code not in OF_SIZES) for code, severity in asked)


def read_start(text: str, step: int) -> int:
    """Where the page that holds a line begins; Refused for no line."""
    if not text.isascii() or not text.isdigit() or len(text) > 7:
        raise Refused([Problem("/query/line", "not_whole", "a line is a whole number")])
    return int(text) // step * step


def line_of(line: Mapping[str, Any], columns: Sequence[str]) -> dict[str, Any]:
    """A line that was read, its fields by column, and the rest of them apart."""
    fields = line["fields"]
    rest = {name: field for name, field in fields.items() if name not in APART_COLUMNS}
    return {**line, "cells": [(name, fields.get(name)) for name in columns], "rest": rest}


def file(visit: Visit) -> Show:
    """GET /schedules/{id}/file: the cells of the file as received, those that a line was read from marked."""
    start = read_start(visit.asked.get("row", "0"), PAGE_ROWS)
    found = source_cells.source_cells(
        company=visit.company, id=visit.id, sheet=visit.asked.get("sheet"), start=start, limit=PAGE_ROWS
    )
    more = {"found": found, "start": start, "next": start + PAGE_ROWS if found.has_more else None}
    return Show("schedules/file.html", head(visit) | more)


def source(visit: Visit) -> Send:
    """GET /schedules/{id}/source: the file itself, to be saved."""
    kept = projects.source_file(company=visit.company, id=visit.id)
    return Send(kept.content, kept.media_type, kept.name)
