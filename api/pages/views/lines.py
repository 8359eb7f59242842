"""Single lines of a schedule changed, set aside or added, with the reason, and edits taken back; the file stays."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import Input, make_form
from api.pages.views.questions import refuse_late
from api.pages.views.schedules import head, revision_of
from estimating.actions import edits as actions
from estimating.actions.answers import Answered, store_answers
from estimating.core.kinds import OPENING_KINDS
from estimating.intake.edits import ADD, CHANGE, SET_ASIDE, NewEdit
from estimating.queries import intake
from estimating.queries.source_cells import written_rows
from rates.core.fields import text
from rates.core.problems import Problem, Refused, Unreadable
from rates.core.tables import ACCESS
from rates.paging import Wanted, write_cursor
from rates.refusals import NotThere

UNSTATED = ("", "not stated")
# The inputs as they stand on the page, a tuple for each row.
ROWS = (
    (
        Input("mark", "Mark", needed=True),
        Input("quantity", "How many", "number", needed=True),
        Input("kind", "Kind", "choice", choices=(UNSTATED, *((one, one) for one in OPENING_KINDS))),
    ),
    (
        Input("width", "Rough width", hint="As drawn, with its unit: 3'-4 1/2\", 914 mm."),
        Input("height", "Rough height"),
        Input("diameter", "Diameter", hint="Of what is round, a pipe's outside."),
    ),
    (
        Input("elevation", "Elevation"),
        Input("storey", "Storey"),
        Input("height_above_grade", "Height above grade"),
    ),
    (
        Input("access", "Access", "choice", choices=(UNSTATED, *((one, one.replace("_", " ")) for one in ACCESS))),
        Input("sides", "Sides treated", hint="All if left blank; of a door usually: jambs head."),
    ),
    (Input("alternate", "Alternate", hint="Its number or name. Left blank, the line stands in the base."),),
    (Input("note", "Remark", wide=True),),
)
FIELDS = tuple(field for row in ROWS for field in row)
WHY = Input("reason", "Why", needed=True, wide=True, hint="Who said so, or which drawing: it is kept with the edit.")
MOST_WHY = 300


def show(visit: Visit) -> Show:
    """GET /schedules/{id}/lines/{line}: one line as read, to be changed or set aside."""
    revision = revision_of(visit)
    values = head(visit, revision)
    line = line_of(visit, revision)
    rest = [(name, field) for name, field in line["fields"].items() if name not in {one.name for one in FIELDS}]
    written = written_rows(company=visit.company, id=visit.id, rows={str(line["cell"])})
    shown = {"line": line, "rest": rest, "written": written.get(str(line["cell"]), [])}
    return Show("schedules/line.html", values | asked(visit, stored_of(line)) | shown)


def asked(visit: Visit, stored: Mapping[str, str]) -> dict[str, Any]:
    """The form, and its inputs by rows."""
    form = make_form((*FIELDS, WHY), stored=stored, typed=visit.typed, faults=near(visit.faults))
    return {"form": form, "rows": [[form[one.name] for one in row] for row in ROWS]}


def line_of(visit: Visit, revision: intake.Received) -> Mapping[str, Any]:
    """The line that the address names; NotThere."""
    text = str(visit.places["line"])
    if not text.isascii() or not text.isdigit() or len(text) > 7:
        raise NotThere
    wanted = Wanted(1, write_cursor(int(text)))
    found = intake.reading(revision, wanted).items
    if not found:
        raise NotThere
    return dict(found[0])


def stored_of(line: Mapping[str, Any]) -> dict[str, str]:
    """The fields of a line that the form has, as it holds them."""
    found = {}
    for name in (one.name for one in FIELDS if one.name in line["fields"]):
        value = line["fields"][name]["value"]
        if isinstance(value, dict):  # an alternate that takes out or replaces: its name is typed, what it does stays
            value = value.get("name", "")
        found[name] = " ".join(value) if isinstance(value, list) else str(value)
    return found


def near(faults: Sequence[Problem]) -> list[Problem]:
    """Faults of an edit at the fields that it was typed into."""
    return [replace(one, pointer="/" + one.pointer.rsplit("/", 1)[-1]) for one in faults]


def reason_of(visit: Visit) -> str:
    """Why, as typed; Refused."""
    try:
        return str(text(MOST_WHY).parse(visit.typed.get("reason", "")))
    except Unreadable as why:
        raise Refused([Problem("/reason", "missing", why.detail)]) from None


def edit(visit: Visit) -> Change:
    """POST /schedules/{id}/lines/{line}."""
    line = line_of(visit, revision_of(visit))
    why = reason_of(visit)
    if visit.typed.get("step") == "set_aside":
        return make(visit, [NewEdit(SET_ASIDE, {}, why, line["line"], "")])
    before = stored_of(line)
    typed = {one.name: visit.typed.get(one.name, "").strip() for one in FIELDS}
    changed = {name: as_value(name, text) for name, text in typed.items() if text != before.get(name, "")}
    alternate = line["fields"].get("alternate", {}).get("value")
    if isinstance(alternate, dict) and changed.get("alternate"):
        changed["alternate"] = {**alternate, "name": changed["alternate"]}
    if not changed:
        raise Refused([Problem("", "nothing_changed", "no field differs from what was read")])
    return make(visit, [NewEdit(CHANGE, changed, why, line["line"], "")])


def as_value(name: str, text: str) -> Any:
    """What was typed as a line of a schedule holds it; None takes the field away."""
    if not text:
        return None
    return int(text) if name == "quantity" and text.isascii() and text.isdigit() and len(text) < 10 else text


def new(visit: Visit) -> Show:
    """GET /schedules/{id}/lines/new: a line that the file lacks."""
    return Show("schedules/line.html", head(visit) | asked(visit, {}) | {"line": None})


def add(visit: Visit) -> Change:
    """POST /schedules/{id}/lines/new."""
    typed = {one.name: visit.typed.get(one.name, "").strip() for one in FIELDS}
    values = {name: as_value(name, text) for name, text in typed.items() if text}
    return make(visit, [NewEdit(ADD, values, reason_of(visit), None, "")])


def take_back(visit: Visit) -> Change:
    """POST /schedules/{id}/edits: one edit holds no more."""
    return make(visit, [], [visit.typed.get("take_back", "")[:80]])


def edits(visit: Visit) -> Show:
    """GET /schedules/{id}/edits: what people changed."""
    revision = revision_of(visit)
    values = head(visit, revision)
    report = intake.beside(revision)
    return Show("schedules/edits.html", values | {"report": report, "form": make_form((), faults=visit.faults)})


def make(visit: Visit, new_edits: list[NewEdit], backs: Sequence[str] = ()) -> Change:
    """The file read again with the edits, as a new revision; Refused, Conflict where another was made meanwhile."""
    member: uuid.UUID = visit.caller.member
    answered: Answered = actions.edit(
        company=visit.company, id=visit.id, member=member, edits=new_edits, take_back=backs, now=visit.now
    )

    def act() -> Made:
        changed = store_answers(company=visit.company, member=member, answered=answered, now=visit.now)
        refuse_late(answered.before.number, changed.schedule.revision)
        line = next((one.line for one in new_edits if one.line is not None), None)
        place = f"?line={line}#line-{line}" if line is not None else "#lines"
        return Made(f"/schedules/{changed.schedule.id}{place}", changed.schedule.id, after=changed.schedule)

    return Change("edit-schedule", act)
