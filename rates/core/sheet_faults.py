"""Where a fault of an edition stands in the sheets that its tables came as."""

from __future__ import annotations

from collections.abc import Mapping

from rates.core.problems import Problem
from rates.core.table_sheets import ReadSheet


def placed(problem: Problem, sheets: Mapping[str, ReadSheet]) -> Problem:
    """A fault of the edition at its cell; any other one as it is."""
    steps = problem.pointer.split("/")
    sheet = sheets.get(steps[2]) if len(steps) > 2 and steps[1] == "tables" else None
    if sheet is None:
        return problem
    pointer = problem.pointer.removeprefix(f"/tables/{steps[2]}")
    line, column = sheet.place(pointer)
    return Problem(pointer, problem.code, problem.detail, "edition", line, column, steps[2])
