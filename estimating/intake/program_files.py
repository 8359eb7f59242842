"""Schedules written by programs: JSON, and CSV whose headings are the very field names; their faults are refused.

What a person's spreadsheet leaves open becomes a question; what a program gets wrong is a fault of the program.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from estimating.intake.columns import read_heading
from estimating.intake.draft import Draft
from estimating.intake.sniffing import sniff
from rates.core.grid import place_of
from rates.core.jsonplaces import Lines
from rates.sheets.csv_reading import DELIMITERS, decode_bytes

HEADING_BYTES = 20_000
_NAME = re.compile(r"[a-z][a-z0-9_.]*", re.ASCII)


@dataclass
class RowsReading:
    """Drafts of rows that were read whole already, and the cells of a CSV that they stand in."""

    drafts: list[Draft]
    apart: tuple[dict[str, Any], ...] = ()
    columns: Mapping[str, int] = field(default_factory=dict)
    lines: Sequence[int] = ()

    def place(self, index: int, name: str | None = None) -> str:
        """A cell such as C7 of a CSV, or a pointer into JSON."""
        if index < len(self.lines):
            return place_of("", self.lines[index], self.columns.get(name or ""))
        return f"/openings/{index}" + (f"/{name}" if name else "")


def is_program_file(data: bytes) -> bool:
    """Whether a file is JSON, or CSV with headings such as programs write: width_mm, sill.kind, two known at least."""
    kind = sniff(data)
    if kind == "json":
        return True
    if kind != "text" or data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return False
    names = [name for name in headings(data) if name]
    known = [name for name in names if _NAME.fullmatch(name) and read_heading(name) is not None]
    return len(known) >= 2 and all(_NAME.fullmatch(name) for name in names)


def headings(data: bytes) -> list[str]:
    """The cells of the first line that is not blank."""
    text = decode_bytes(data[:HEADING_BYTES])
    heading = next((line for line in text.split("\n") if line.strip()), "")
    return [cell.strip().strip('"') for cell in heading.split(max(DELIMITERS, key=heading.count))]


def columns_of(data: bytes) -> dict[str, int]:
    """Column by field."""
    found: dict[str, int] = {}
    for place, name in enumerate(headings(data)):
        column = read_heading(name) if name else None
        if column is not None:
            found.setdefault(column.path[0], place)
    return found


def rows_reading(rows: Sequence[Mapping[str, Any]], data: bytes) -> RowsReading:
    """The rows of a program's file as drafts; a CSV's rows with the lines that they stand on."""
    drafts = [Draft(dict(row), 0, index) for index, row in enumerate(rows)]
    columns = columns_of(data) if sniff(data) == "text" else {}
    if not columns:
        return RowsReading(drafts)
    text = decode_bytes(data)
    lines = Lines(text)
    starts, at = [], 0
    for line in text.split("\n"):
        if line.strip():
            starts.append(lines.place(at)[0])
        at += len(line) + 1
    # a quoted cell may hold line feeds; then pointers are the safer places
    return RowsReading(drafts, (), columns, starts[1:] if len(starts) == len(drafts) + 1 else ())
