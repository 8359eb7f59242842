"""A CSV that is sent as a table: its rows under the names of the fields, each fault at its line and column."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from rates.core.fields import Faults
from rates.core.problems import Problem, Refused
from rates.sheets.edition_files import read_csv


@dataclass(frozen=True)
class SentSheet:
    """The rows of a CSV under the names of the fields, and where they stand: lines and columns count from 1."""

    items: list[dict[str, str]]
    lines: list[int]
    columns: dict[str, int]

    @staticmethod
    def of(data: bytes, name: str, known: Collection[str], most_rows: int, faults: Faults) -> SentSheet:
        """A CSV read; a heading that is none of the known fields is a fault. Refused."""
        sheet = read_csv(data, name, most_rows)
        if not sheet.rows:
            detail = "the first row names the fields; it is blank"
            raise Refused([Problem("", "missing_heading", detail, line=1, column=1)])
        head, *rows = sheet.rows
        columns: dict[str, int] = {}
        for place, field in enumerate((cell.strip() for cell in head.cells), 1):
            if field and (field not in known or field in columns):
                detail = f"no such field, or twice; known here: {', '.join(known)}"
                faults.append(Problem("", "unknown_field", detail, line=head.number, column=place))
            elif field:
                columns[field] = place
        items = [{n: row.cell(at - 1).strip() for n, at in columns.items() if row.cell(at - 1).strip()} for row in rows]
        return SentSheet(items, [row.number for row in rows], columns)

    def placed(self, fault: Problem) -> Problem:
        """A fault at its cell."""
        steps = fault.pointer.split("/")
        if len(steps) < 3 or not steps[2].isdigit():
            return fault
        column = self.columns.get(steps[3], 1) if len(steps) > 3 else 1
        return replace(fault, line=self.lines[int(steps[2])], column=column)
