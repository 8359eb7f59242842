"""A schedule file made ready for storing: its lines read once, so that only what can be costed is kept."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from estimating.core.request_reading import LENGTH_UNITS
from estimating.core.schedule import read_schedule
from estimating.intake.program_files import is_program_file, rows_reading
from estimating.intake.reading import Intake, Options, read_rows
from estimating.intake.reading import read_file as read_person_file
from estimating.intake.schedule_files import SchedulePage, scan_schedule
from rates.core.problems import MOST_FAULTS, Problem, Refused, escape, more_faults

WITH_UNIT_MISSING = "in"  # any unit will do to find the other faults of a schedule whose request is to name the unit


@dataclass(frozen=True)
class ReadFile:
    """The opening lines of a file and the unit of their bare numbers, "" where the file tells none."""

    rows: list[dict[str, Any]]
    length_unit: str


def read_file(data: bytes, name: str, length_unit: str | None) -> ReadFile:
    """The lines of a JSON or CSV schedule; Refused with every fault, each with line and column.

    Where neither the file nor the caller tells the unit of bare numbers, they are left to the request for an estimate.
    """
    page = scan_schedule(data, name, strict=True)
    faults = list(page.problems)
    told = read_rest(page, faults)
    unit = length_unit or told or ""
    values: list[Problem] = []
    if page.rows or not page.problems:
        read_schedule(page.rows, unit or WITH_UNIT_MISSING, only_external=False, pointer="/openings", faults=values)
    faults += page.place(values)
    if faults:
        ordered = sorted(faults, key=lambda fault: (fault.line or 0, fault.column or 0))
        raise Refused([replace(fault, document="schedule") for fault in ordered])
    return ReadFile(list(page.rows), unit)


def read_intake(data: bytes, name: str, length_unit: str | None, options: Options) -> Intake:
    """A file in any form: strictly where a program wrote it, by the reader that asks where people did; Refused.

    A CSV under the names of fields whose content is a person's all the same goes to the reader that asks.
    """
    if not is_program_file(data):
        return read_person_file(data, options)
    is_json = data.lstrip()[:1] in (b"[", b"{")
    try:
        file = read_file(data, name, length_unit)
    except Refused:
        if is_json:
            raise
        return read_person_file(data, options)
    return read_rows("json" if is_json else "text", rows_reading(file.rows, data), file.length_unit, options)


def read_rest(page: SchedulePage, faults: list[Problem]) -> str | None:
    """The length unit that stands beside the openings of a JSON schedule; other fields are faults."""
    rest = page.request or {}
    detail = "a schedule holds openings and length_unit; all else belongs to the request for an estimate"
    unknown = [name for name in rest if name != "length_unit"]
    found = [Problem(escape(name), "unknown_field", detail) for name in unknown[:MOST_FAULTS]]
    if len(unknown) > MOST_FAULTS:
        found.append(more_faults("", len(unknown) - MOST_FAULTS))
    unit = rest.get("length_unit")
    if unit is not None and unit not in LENGTH_UNITS:
        found.append(Problem("/length_unit", "unknown_choice", f"one of {', '.join(LENGTH_UNITS)} is expected"))
        unit = None
    faults.extend(page.place(found))
    return str(unit) if unit is not None else None
