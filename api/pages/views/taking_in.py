"""A schedule taken in: a file or a pasted list, for a project that is there or for a new one."""

from __future__ import annotations

import uuid
from dataclasses import replace
from pathlib import PurePath

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Form, Input, make_form
from estimating.actions import intake, projects
from estimating.actions.intake import Received, Told
from estimating.core.request_reading import LENGTH_UNITS
from estimating.queries import projects as queries
from rates.core.fields import clean_text
from rates.core.problems import Problem, Refused, Unreadable
from rates.identity import new_id
from rates.paging import Wanted

NOT_IN_FILE = ("", "as the file says, or ask me")
UNITS = {"in": "inches", "ft": "feet", "mm": "millimetres", "cm": "centimetres", "m": "metres"}
NAME = Input("name", "Name of the project", needed=True)
NUMBER = Input("number", "Job number")
ISSUE = Input("drawing_issue", "Drawing issue", hint="As the title block has it, such as Addendum 2, 14 March.")
FILE = Input(
    "file",
    "Schedule file",
    "file",
    hint="A workbook (.xlsx), CSV or text, COBie, a building model (.ifc) or JSON. It is kept as received.",
)
TEXT = Input(
    "text",
    "Or paste the list",
    "area",
    wide=True,
    hint="A block copied from a spreadsheet or a mail: headings first, one opening type on a line.",
)
CLOUDS = Input("clouds", "Clouded marks", hint="Those that the issue clouds, with commas between them: W1, W2.")
UNIT = Input(
    "length_unit",
    "Unit of numbers without a unit",
    "choice",
    choices=(NOT_IN_FILE, *((u, UNITS[u]) for u in LENGTH_UNITS)),
)  # fmt: skip
AGAIN = Input("again", "Add the same file again, as a further revision", "tick")
SCHEDULE = (ISSUE, FILE, TEXT, UNIT, CLOUDS)
PROJECT = (NAME, NUMBER)
ENDS = {
    ".json": "application/json",
    ".csv": "text/csv",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ".ifc": "application/x-step",
    ".txt": "text/plain",
}
LIMITS = {"name": 200, "number": 60, "drawing_issue": 200, "clouds": 4000}
MOST_LOOKED_AT = 500  # revisions, for the same file


def project_form(visit: Visit) -> Form:
    """A new project with its schedule."""
    return make_form((*PROJECT, *SCHEDULE), typed=visit.typed, faults=visit.faults)


def new_project(visit: Visit) -> Show:
    """GET /projects/new."""
    return Show("projects/new.html", {"form": project_form(visit)})


def make_project(visit: Visit) -> Change:
    """POST /projects/new: a project, with its first schedule where one is given."""
    faults: list[Problem] = []
    told = {name: read_text(visit, name, faults) for name in LIMITS}
    if not told["name"]:
        faults.append(Problem("/name", "missing", "a project needs a name"))
    if faults:
        raise Refused(faults)
    received = receive(visit, new_id(), optional=True)  # of a project that has nothing from before

    def act() -> Made:
        made = projects.make_project(company=visit.company, name=told["name"], number=told["number"], now=visit.now)
        if received is None:
            return Made(f"/projects/{made.id}", made.id, after=made)
        schedule = store(visit, made.id, received, told["drawing_issue"])
        more = (("add-opening-schedule", schedule.id, None),)
        return Made(f"/schedules/{schedule.id}", made.id, after=made, more=more)

    return Change("make-project", act)


def new_schedule(visit: Visit) -> Show:
    """GET /projects/{id}/schedules/new."""
    project = queries.project(company=visit.company, id=visit.id)
    same = any(fault.code == "same_file" for fault in visit.faults)
    form = make_form((*SCHEDULE, *((AGAIN,) if same else ())), typed=visit.typed, faults=visit.faults)
    return Show("projects/new_schedule.html", {"form": form, "project": project})


def add_schedule(visit: Visit) -> Change:
    """POST /projects/{id}/schedules/new: a further revision of the schedule."""
    queries.project(company=visit.company, id=visit.id)
    faults: list[Problem] = []
    issue = read_text(visit, "drawing_issue", faults)
    read_text(visit, "clouds", faults)
    if faults:
        raise Refused(faults)
    received = receive(visit, visit.id)
    assert received is not None
    if visit.typed.get("again") != "yes":
        refuse_same(visit, received)

    def act() -> Made:
        schedule = store(visit, visit.id, received, issue)
        return Made(f"/schedules/{schedule.id}", schedule.id, after=schedule)

    return Change("add-opening-schedule", act)


def read_text(visit: Visit, name: str, faults: list[Problem]) -> str:
    """A line of text as typed; a fault noted where it is no plain text or too long."""
    raw = visit.typed.get(name, "").strip()
    if not raw:
        return ""
    try:
        return clean_text(raw, LIMITS[name])
    except Unreadable as why:
        faults.append(Problem(f"/{name}", why.code, why.detail))
        return ""


def sent(visit: Visit) -> tuple[bytes, str, str] | None:
    """The bytes of the file or of the pasted list, its name and media type; None where neither was given."""
    file, text = visit.request.FILES.get("file"), visit.typed.get("text", "")
    if file is not None and file.size:
        name = str(file.name)[:255]
        return file.read(), name, ENDS.get(PurePath(name).suffix.lower(), "application/octet-stream")
    if text.strip():
        return text.replace("\r\n", "\n").encode(), "pasted.txt", "text/plain"
    return None


def receive(visit: Visit, project: uuid.UUID, *, optional: bool = False) -> Received | None:
    """The schedule read; None where none is given and none is needed; Refused with each fault by line and column."""
    found = sent(visit)
    if found is None:
        if optional:
            return None
        raise Refused([Problem("/file", "missing", "choose a file, or paste the list")])
    data, name, _ = found
    clouds = tuple(mark.strip() for mark in visit.typed.get("clouds", "").split(",") if mark.strip())
    unit = visit.typed.get("length_unit", "")
    told = Told(name, unit if unit in LENGTH_UNITS else None, clouds)
    try:
        return intake.receive(company=visit.company, project=project, data=data, told=told)
    except Refused as refused:
        field = "/file" if "file" in visit.request.FILES else "/text"
        raise Refused([at_field(problem, field) for problem in refused.problems]) from None


def at_field(problem: Problem, field: str) -> Problem:
    """A fault of the file as one of the field that it was given in, its place told in words."""
    sheet = f"{problem.sheet}, " if problem.sheet else ""
    place = f"{sheet}line {problem.line}, column {problem.column}: " if problem.line else ""
    return replace(problem, pointer=field, detail=place + problem.detail)


def refuse_same(visit: Visit, received: Received) -> None:
    """Refused where these very bytes were taken in before: a person says whether they are meant again."""
    digest = received.digest
    known = queries.schedules(company=visit.company, project=visit.id, wanted=Wanted(MOST_LOOKED_AT, None, "-revision"))
    for one in known.items:
        if one.digest == digest and one.answers_of is None:
            detail = f"this very file was added as revision {one.revision}; tick below if you mean it again"
            field = "/file" if "file" in visit.request.FILES else "/text"
            raise Refused([Problem(field, "same_file", detail)])


def store(visit: Visit, project: uuid.UUID, received: Received, issue: str) -> queries.Schedule:
    """The new revision."""
    name = received.told.name
    media_type = ENDS.get(PurePath(name).suffix.lower(), "application/octet-stream")
    return intake.store(
        company=visit.company,
        project=project,
        member=visit.caller.member,
        received=received,
        media_type=media_type,
        now=visit.now,
        drawing_issue=issue,
    )
