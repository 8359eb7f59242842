"""A JSON schedule: a list of opening lines, or an object with openings and what is declared for them.

JSON comes from programs, so its faults are refused at once; only doubts about the whole become questions.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from estimating.core.request_reading import LENGTH_UNITS
from estimating.core.schedule import read_schedule
from estimating.intake.draft import Draft
from estimating.intake.json_lists import places_in_list
from rates.core.fields import Field, Record, choice, text
from rates.core.jsontext import decode, locate, read_json
from rates.core.problems import Problem, Refused

ANY_UNIT = "in"  # any will do to find the other faults where the request for an estimate is to name the unit
DECLARED = Record(
    lambda **v: v,
    (
        Field("length_unit", choice(*LENGTH_UNITS), "unit of bare numbers in the openings"),
        Field("drawing_issue", text(200), "the drawing issue that was counted"),
    ),
)


@dataclass
class JsonReading:
    """Drafts of a JSON schedule."""

    drafts: list[Draft] = field(default_factory=list)
    apart: tuple[dict[str, Any], ...] = ()
    length_unit: str = ""
    drawing_issue: str = ""

    def place(self, index: int, name: str | None = None) -> str:
        """A pointer into the document."""
        return f"/openings/{index}" + (f"/{name}" if name else "")


def read_json_schedule(data: bytes, length_unit: str = "") -> JsonReading:
    """The lines of a JSON schedule; Refused with every fault, each with line and column."""
    try:
        document = decode(data)
        value = read_json(document)
    except Refused as refused:
        raise Refused([replace(problem, document="schedule") for problem in refused.problems]) from None
    faults: list[Problem] = []
    rest = {k: v for k, v in value.items() if k != "openings"} if isinstance(value, dict) else {}
    declared = DECLARED.values(rest, "", faults)
    unit = declared["length_unit"] or length_unit or ""
    rows = value.get("openings") if isinstance(value, dict) else value
    read_schedule(rows, unit or ANY_UNIT, only_external=False, pointer="/openings", faults=faults)
    asked = tuple(fault for fault in faults if fault.code != "mark_of_two_sizes")
    if asked or not isinstance(rows, list):
        raise Refused(placed(faults, document, isinstance(value, list)))
    drafts = [Draft(dict(row), 0, index) for index, row in enumerate(rows)]
    return JsonReading(drafts, (), unit, declared["drawing_issue"] or "")


def placed(faults: Iterable[Problem], document: str, is_list: bool) -> list[Problem]:
    """Faults with line and column."""
    found = list(faults)
    pointers = [fault.pointer for fault in found]
    places = places_in_list(document, pointers) if is_list else locate(document, pointers)
    return [replace(f, document="schedule", line=places[f.pointer][0], column=places[f.pointer][1]) for f in found]
