"""A schedule file as opening lines: JSON or CSV, told by its content, with the line and column of whatever is at fault.

JSON is a list of lines, an object with `openings` alone, or a whole request: an object with openings and more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from estimating.intake.csv_rows import CsvSchedule, Place, read_csv
from rates.core.jsontext import decode, locate, read_json
from rates.core.problems import Problem, Refused

BEGINNINGS = (
    (b"PK\x03\x04", "this is a workbook or another zip file; save the schedule as CSV (UTF-8)"),
    (b"%PDF", "this is a PDF; a schedule is CSV or JSON"),
    (b"\xff\xfe", "this is UTF-16; save the schedule as UTF-8"),
    (b"\xfe\xff", "this is UTF-16; save the schedule as UTF-8"),
)
Places = Callable[[Iterable[str]], dict[str, Place]]


@dataclass(frozen=True)
class SchedulePage:
    """What a schedule file holds.

    rows: opening lines by the field names of JSON, those at fault in their form left out; request: the rest of a whole
    request, or None for a bare schedule; problems: the faults of the form; places: pointers such as /openings/3/width
    to line and column; missing: required fields for which a CSV has no column.
    """

    name: str
    rows: Any
    request: dict[str, object] | None
    problems: tuple[Problem, ...]
    places: Places
    missing: frozenset[str] = frozenset()

    def place(self, problems: Sequence[Problem]) -> tuple[Problem, ...]:
        """Problems of the openings with line and column, less those that repeat what the form's faults say."""
        found = self.places([problem.pointer for problem in problems])
        known = {(problem.line, problem.column) for problem in self.problems}
        placed = []
        for problem in problems:
            line, column = found[problem.pointer]
            field = problem.pointer.rpartition("/")[2]
            if (line, column) not in known and not (problem.code == "missing" and field in self.missing):
                placed.append(replace(problem, line=line, column=column))
        return tuple(placed)


def read_schedule(data: bytes, name: str) -> SchedulePage:
    """The page of a schedule file; Refused with every fault of its form, each with line and column."""
    page = scan_schedule(data, name)
    if page.problems:
        raise Refused(page.problems)
    return page


def scan_schedule(data: bytes, name: str) -> SchedulePage:
    """The page of a schedule file with the faults of its form, so that those of its values can be found as well."""
    for beginning, detail in BEGINNINGS:
        if data.startswith(beginning):
            return faulty(name, Problem("", "not_a_schedule", detail, "schedule", 1, 1))
    start = data.removeprefix(b"\xef\xbb\xbf").lstrip()
    if not start:
        return faulty(name, Problem("", "empty", "the file is empty", "schedule", 1, 1))
    if start[:1] in (b"[", b"{"):
        return scan_json(data, name)
    return csv_page(read_csv(data), name)


def faulty(name: str, *problems: Problem) -> SchedulePage:
    """The page of a file from which nothing can be read."""
    return SchedulePage(name, [], None, problems, lambda pointers: dict.fromkeys(pointers, (1, 1)))


def csv_page(schedule: CsvSchedule, name: str) -> SchedulePage:
    """The page of a CSV schedule."""
    return SchedulePage(name, schedule.rows, None, schedule.problems(), schedule.places, schedule.missing)


def scan_json(data: bytes, name: str) -> SchedulePage:
    """The page of a JSON schedule or whole request."""
    try:
        text = decode(data)
        value = read_json(text)
    except Refused as refused:
        return faulty(name, *(replace(problem, document="schedule") for problem in refused.problems))
    if isinstance(value, dict):
        rest = {field: item for field, item in value.items() if field != "openings"}
        request = rest if rest or not value else None
        return SchedulePage(name, value.get("openings"), request, (), lambda pointers: locate(text, pointers))
    return SchedulePage(name, value, None, (), lambda pointers: places_in_list(text, pointers))


def places_in_list(text: str, pointers: Iterable[str]) -> dict[str, Place]:
    """Places of /openings/… in a text that is the list of openings itself."""
    asked = {pointer: pointer.removeprefix("/openings") for pointer in pointers}
    found = locate(text, asked.values())
    return {pointer: found[inner] for pointer, inner in asked.items()}
