"""What is said of a project, as the API and the pages read it: field tables of a new one and of a change."""

from __future__ import annotations

from api.field_readers import as_given, id_text, moment, note, time_zone
from estimating.states import ProjectState
from rates.core.fields import Field, Record, choice, text

DUE = (
    Field("due_at", moment, "when the bid has to be in"),
    Field("due_zone", time_zone, "in whose hours that is told; the company's if absent"),
)
NEW_PROJECT = Record(
    as_given,
    (
        Field("name", text(200), "its name", required=True),
        Field("number", text(60), "its number in the office"),
        Field("note", note, "a note"),
        Field("rate_book", id_text, "the rate book that prices it where a request names none"),
        *DUE,
    ),
)
CHANGE_PROJECT = Record(
    as_given,
    (
        Field("name", text(200), "its name"),
        Field("number", text(60), "its number"),
        Field("note", note, "a note"),
        Field("state", choice(*ProjectState.values), "archived: kept, and out of the lists that do not ask for it"),
        Field("rate_book", id_text, "the rate book that prices it where a request names none"),
        *DUE,
    ),
)
