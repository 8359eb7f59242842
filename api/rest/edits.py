"""Edits of single lines of a schedule: changed, set aside or added, and taken back, with who and why."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from api.rest.answers import store
from api.rest.exchange import Answer, Call
from estimating.actions import edits as actions
from estimating.core.schedule import MOST_LINES
from estimating.intake.edits import ADD, CHANGE, SET_ASIDE, NewEdit
from rates.core.fields import Faults, Field, ListOf, Reader, Record, boolean, shown, text, whole
from rates.core.problems import Problem, Refused, Unreadable

MOST_FIELDS = 40


def parse_fields(raw: object) -> dict[str, Any]:
    """Fields of an opening line; the core reads their values."""
    if not isinstance(raw, Mapping):
        raise Unreadable("not_an_object", f"an object of fields is expected, not {shown(raw)}")
    if not 0 < len(raw) <= MOST_FIELDS:
        raise Unreadable("wrong_count", f"1 to {MOST_FIELDS} fields are taken, not {len(raw)}")
    return dict(raw)


def check_edit(edit: dict[str, Any], pointer: str, faults: Faults) -> None:
    """An edit changes, sets aside or adds, and names its line unless it adds one."""
    kinds = [name for name in (CHANGE, SET_ASIDE, ADD) if edit[name]]
    if len(kinds) != 1:
        faults.append(Problem(pointer, "one_of", "an edit does one thing: change, set_aside or add"))
    elif (edit["line"] is None) is not (kinds == [ADD]):
        code, detail = ("missing", "the line that is edited is needed") if edit["line"] is None else (
            "unknown_field", "a line that is added has no number yet"
        )  # fmt: skip
        faults.append(Problem(f"{pointer}/line", code, detail))


fields = Reader(parse_fields, {"type": "object", "minProperties": 1, "maxProperties": MOST_FIELDS})
EDIT = Record(
    lambda **values: values,
    (
        Field("line", whole(0, MOST_LINES), "the line that is edited, as the readings of this revision number it"),
        Field("change", fields, "fields of the line with their new values, as a JSON schedule has them; null: none"),
        Field("set_aside", boolean(), "true: the line is kept and not priced, for the reason given"),
        Field("add", fields, "a line that the file lacks"),
        Field("reason", text(300), "why", required=True),
    ),
    check=check_edit,
)
EDITS = Record(
    lambda **values: values,
    (
        Field("edits", ListOf(EDIT, 0, actions.MOST_EDITS), "edits, in the order in which they are made", default=()),
        Field("take_back", ListOf(text(80), 0, actions.MOST_EDITS), "ids of edits that hold no more", default=()),
    ),
)


def edit(call: Call) -> Callable[[], Answer]:
    """POST /v1/opening-schedules/{id}/edits: the same file read again with the edits, as a new revision."""
    faults: list[Problem] = []
    body = EDITS.read(call.body, "", faults)
    if not faults and not body["edits"] and not body["take_back"]:
        faults.append(Problem("/edits", "missing", "an edit, or one to take back, is needed"))
    if faults:
        raise Refused(faults)
    edited = actions.edit(
        company=call.company,
        id=call.id,
        member=call.caller.member,
        edits=[new_edit(values, f"/edits/{place}") for place, values in enumerate(body["edits"])],
        take_back=body["take_back"],
        now=call.now,
    )
    return partial(store, call, edited)


def new_edit(values: Mapping[str, Any], pointer: str) -> NewEdit:
    """An edit as it was sent."""
    kind = next(name for name in (CHANGE, SET_ASIDE, ADD) if values[name])
    told = values[kind] if kind != SET_ASIDE else {}
    return NewEdit(kind, told, values["reason"], values["line"], pointer)
