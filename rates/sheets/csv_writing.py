"""Rows of cells as CSV (RFC 4180, UTF-8)."""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Iterable

from rates.core.grid import Cell, Computed, NumberText
from rates.sheets.formula_text import protect


def csv_cell(value: Cell) -> str:
    """A value as the text of a cell; nothing as an empty one."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, NumberText):
        return value
    if isinstance(value, Computed):
        return value.value
    if isinstance(value, datetime.datetime):
        return value.isoformat().replace("+00:00", "Z")
    return value.isoformat() if isinstance(value, datetime.date) else protect(value)


def write_csv(rows: Iterable[Iterable[Cell]]) -> bytes:
    """The rows as a file."""
    held = io.StringIO(newline="")
    csv.writer(held, lineterminator="\r\n").writerows([csv_cell(value) for value in row] for row in rows)
    return held.getvalue().encode()
