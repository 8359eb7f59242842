"""Sheets as CSV (RFC 4180, UTF-8): text that a spreadsheet could take for a formula stands behind an apostrophe."""

from __future__ import annotations

import csv
import io

from rates.core.problems import Problem, Refused
from rates.core.table_sheets import Rows

STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "'")


def protect(text: str) -> str:
    """The text with an apostrophe before what could start a formula, and before an apostrophe of its own."""
    return f"'{text}" if text.startswith(STARTS) else text


def write_csv(rows: Rows) -> bytes:
    """The rows as a file."""
    sheet = io.StringIO(newline="")
    csv.writer(sheet, lineterminator="\r\n").writerows([protect(cell) for cell in row] for row in rows)
    return sheet.getvalue().encode()


def read_csv(data: bytes, table: str) -> list[list[str]]:
    """The rows of a file, the apostrophe before a cell taken off; Refused for what is no CSV in UTF-8."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise Refused([Problem("", "not_utf_8", "the file is not UTF-8 text", "edition", line, None, table)]) from None
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        return [[cell.removeprefix("'") for cell in row] for row in reader]
    except csv.Error as fault:
        detail = f"this is no sound CSV: {fault}"
        raise Refused([Problem("", "not_csv", detail, "edition", reader.line_num, None, table)]) from None
