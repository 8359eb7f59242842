"""How many openings a question touches: those of its lines, of the rows of its cells, or of its whole table."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from estimating.intake.draft import Draft
from estimating.intake.questions import MOST_CELLS, Question

_CELL = re.compile(r"(.*!)?(?:[A-Z]{1,3}|row )([0-9]+)", re.DOTALL)
_POINTER = re.compile(r"/openings/[0-9]+")


def with_openings(
    questions: Sequence[Question], drafts: Sequence[Draft], places: Sequence[str], headings: Mapping[str, int]
) -> tuple[Question, ...]:
    """The questions with the openings that they touch, and the lines where they name none.

    places: where each line stands; headings: row of a table's heading as places are compared -> the table's number.
    """
    rows: dict[str, list[int]] = {}
    for index, place in enumerate(places):
        rows.setdefault(row_of(place), []).append(index)
    tables: dict[int, list[int]] = {}
    for index, draft in enumerate(drafts):
        tables.setdefault(draft.table, []).append(index)
    found = []
    for question in questions:
        lines = question.lines or lines_of(question, rows, tables, headings)
        if lines:
            count = sum(quantity for i in lines if isinstance(quantity := drafts[i].values.get("quantity"), int))
            named = question.lines or tuple(lines[:MOST_CELLS])
            question = replace(question, openings=count, lines=named)
        found.append(question)
    return tuple(found)


def lines_of(
    question: Question, rows: Mapping[str, list[int]], tables: Mapping[int, list[int]], headings: Mapping[str, int]
) -> list[int]:
    """The lines in the rows of a question's cells; all of the table where the cells are its heading, or too many."""
    found: list[int] = []
    for cell in question.cells:
        row = row_of(cell)
        if row in headings:
            return tables.get(headings[row], [])
        found += rows.get(row, ())
    if question.cells and question.cells[-1].startswith("and ") and found:
        return next(lines for lines in tables.values() if found[0] in lines)
    return list(dict.fromkeys(found))


def row_of(place: str) -> str:
    """A cell's row, whatever the column: Doors!7, /openings/3."""
    match = _CELL.fullmatch(place)
    if match:
        return f"{match[1] or ''}{match[2]}"
    pointer = _POINTER.match(place)
    return pointer[0] if pointer else place
