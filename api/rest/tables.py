"""Lists as CSV (RFC 4180) and XLSX: text is never a formula, numbers keep every digit."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import orjson
import xlsxwriter

MEDIA_TYPES = {
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?", re.ASCII)
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
Row = Mapping[str, Any]


def columns(rows: Iterable[Row]) -> list[str]:
    """Every name that any row has, in the order of first sight."""
    seen: dict[str, None] = {}
    for row in rows:
        seen.update(dict.fromkeys(row))
    return list(seen)


def cell(value: Any) -> str:
    """A value as the text of a cell; lists and objects as JSON, nothing as an empty cell."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str | int):
        return str(value)
    return orjson.dumps(value).decode()


def escape(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe goes before what could start one."""
    if text.startswith(FORMULA_STARTS) and not NUMBER.fullmatch(text):
        return "'" + text
    return text


def write_csv(rows: Sequence[Row]) -> bytes:
    """The rows with a heading line."""
    names = columns(rows)
    sheet = io.StringIO(newline="")
    writer = csv.writer(sheet, lineterminator="\r\n")
    writer.writerow([escape(name) for name in names])
    writer.writerows([escape(cell(row.get(name))) for name in names] for row in rows)
    return sheet.getvalue().encode()


def write_xlsx(rows: Sequence[Row], title: str) -> bytes:
    """The rows as one sheet; every cell is text, so no digit is lost and nothing is computed."""
    names = columns(rows)
    book = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(book, options) as workbook:
        workbook.set_properties({"created": None})
        sheet = workbook.add_worksheet(re.sub(r"[^\w -]", " ", title)[:31])
        for column, name in enumerate(names):
            sheet.write_string(0, column, name)
        for place, row in enumerate(rows, start=1):
            for column, name in enumerate(names):
                sheet.write_string(place, column, cell(row.get(name))[:32767])
    return book.getvalue()


def write_table(rows: Sequence[Row], format: str, title: str) -> bytes:
    """The rows in the format "csv" or "xlsx"."""
    return write_csv(rows) if format == "csv" else write_xlsx(rows, title)
