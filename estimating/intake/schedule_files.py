"""A schedule file as opening lines, told by its content, with the line and column of whatever is at fault.

What programs write (JSON, CSV under the field names) is read strictly; what people send goes through the whole intake.

JSON is a list of lines, an object with `openings` alone, or a whole request: an object with openings and more.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from estimating.core.open_questions import OpenQuestions
from estimating.core.schedule import read_schedule as read_lines_of
from estimating.intake.asking import BLOCKS_COSTING
from estimating.intake.csv_rows import CsvSchedule, Place, read_csv
from estimating.intake.json_lists import places_in_list
from estimating.intake.json_reading import ANY_UNIT
from estimating.intake.open_questions import open_questions
from estimating.intake.program_files import is_program_file
from estimating.intake.questions import Question
from estimating.intake.reading import Intake, Options, read_file
from estimating.intake.sniffing import sniff
from rates.core.grid import column_number
from rates.core.jsontext import decode, locate, read_json
from rates.core.problems import Problem, Refused

_CELL = re.compile(r"(?:([A-Z]{1,3})|row )([0-9]+)$", re.ASCII)
Places = Callable[[Iterable[str]], dict[str, Place]]


@dataclass(frozen=True)
class SchedulePage:
    """What a schedule file holds.

    rows: opening lines by the field names of JSON, those at fault in their form left out; request: the rest of a whole
    request, or None for a bare schedule; problems: the faults of the form; places: pointers such as /openings/3/width
    to line and column; missing: required fields for which a CSV has no column; doubts: open questions that don't stand
    in the way of costing, a sentence each; intake: what a file that people wrote was read as.
    """

    name: str
    rows: Any
    request: dict[str, object] | None
    problems: tuple[Problem, ...]
    places: Places
    missing: frozenset[str] = frozenset()
    doubts: tuple[str, ...] = ()
    intake: Intake | None = None

    @property
    def questions(self) -> OpenQuestions:
        """What the file leaves open, as an estimate tells it."""
        return OpenQuestions() if self.intake is None else open_questions(self.intake.questions)

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


def scan_schedule(data: bytes, name: str, options: Options | None = None, *, strict: bool = False) -> SchedulePage:
    """The page of a schedule file with the faults of its form, so that those of its values can be found as well.

    options: the answers to what a file that people wrote leaves open. strict: a CSV under the names of fields is taken
    as a program's even where its content is a person's.
    """
    kind = sniff(data)
    if isinstance(kind, Problem):
        return faulty(name, kind)
    if kind == "json":
        return scan_json(data, name)
    if kind == "text" and is_program_file(data):
        page = csv_page(read_csv(data), name)
        if strict or not (page.problems or has_faults(page.rows)):
            return page
    try:
        return intake_page(read_file(data, options), name)
    except Refused as refused:
        return csv_page(read_csv(data), name) if kind == "text" else faulty(name, *refused.problems)


def has_faults(rows: Any) -> bool:
    """Whether opening lines can't be read as a program would write them, whatever their unit."""
    faults: list[Problem] = []
    read_lines_of(rows, ANY_UNIT, only_external=False, pointer="/openings", faults=faults)
    return any(fault.code != "mark_of_two_sizes" for fault in faults)


def intake_page(intake: Intake, name: str) -> SchedulePage:
    """The page of a file that people wrote; questions that block costing are its faults, the others its doubts."""
    faults = tuple(
        Problem("", question.code, told(question), "schedule", *place_of_cell(question.cells[:1]))
        for question in intake.questions
        if question.open and question.severity == BLOCKS_COSTING
    )
    doubts = tuple(told(q) for q in intake.questions if q.open and q.severity != BLOCKS_COSTING)

    def places(pointers: Iterable[str]) -> dict[str, Place]:
        found = {}
        for pointer in pointers:
            _, _, index, *field = [*pointer.split("/"), ""]
            known = index.isdigit() and int(index) < len(intake.drafts)
            cell = intake.place(int(index), field[0] or None) if known else ""
            found[pointer] = place_of_cell((cell,))
        return found

    return SchedulePage(name, intake.lines, None, faults, places, doubts=doubts, intake=intake)


def told(question: Question) -> str:
    """A question with its severity, its first cells, and what can be answered."""
    cells = ", ".join(list(dict.fromkeys(question.cells))[:3])
    choices = [*question.choices, *([question.open_answer] if question.open_answer else [])]
    answers = f" Answers: {' | '.join(choices)}." if choices else ""
    return f"{question.severity}: {question.sentence}{f' ({cells})' if cells else ''}{answers}"


def place_of_cell(cells: Sequence[str]) -> Place:
    """Row and column of a cell such as Doors!C7 or Doors!row 7; the file's beginning for anything else."""
    match = _CELL.search(cells[0]) if cells else None
    if match is None:
        return 1, 1
    return int(match[2]), column_number(match[1]) + 1 if match[1] else 1


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
