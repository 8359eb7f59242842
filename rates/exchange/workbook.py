"""Sheets as a workbook (XLSX): every cell is text, so that no digit is lost and nothing is a formula."""

from __future__ import annotations

import datetime
import io
import re
import zipfile
import zlib
from collections.abc import Mapping
from typing import Any

import xlsxwriter
from python_calamine import CalamineError, CalamineWorkbook

from rates.core.problems import Problem, Refused
from rates.core.table_sheets import MOST_ROWS, Rows

MOST_UNPACKED = 64 * 2**20  # bytes of all that a workbook's package holds
MOST_PARTS = 1000
MOST_CELLS = 600_000
# the reader lays every cell of a sheet out up to the farthest, so that a sheet of two cells could fill the memory
ROW = re.compile(rb"""\br\s*=\s*["'][A-Z]{0,3}([0-9]{1,9})""")
COLUMN = re.compile(rb"""\br\s*=\s*["']([A-Z]{1,4})[0-9]""")
OPTIONS = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}


def write_workbook(sheets: Mapping[str, Rows]) -> bytes:
    """One sheet for each name, in their order."""
    book = io.BytesIO()
    with xlsxwriter.Workbook(book, OPTIONS) as workbook:
        workbook.set_properties({"created": None})
        for name, rows in sheets.items():
            sheet = workbook.add_worksheet(name)
            sheet.freeze_panes(1, 0)
            for r, row in enumerate(rows):
                for c, cell in enumerate(row):
                    if cell:
                        sheet.write_string(r, c, cell)
    return book.getvalue()


def refuse(code: str, detail: str) -> Refused:
    """A fault of the file as a whole."""
    return Refused([Problem("", code, detail, "edition")])


def check_package(data: bytes) -> None:
    """Refused for what is no package, unpacks to more than is read, or names cells far out."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as package:
            entries = package.infolist()
            if len(entries) > MOST_PARTS or sum(entry.file_size for entry in entries) > MOST_UNPACKED:
                raise refuse("too_large", f"the workbook unpacks to more than {MOST_UNPACKED:,} bytes")
            for entry in entries:
                check_part(package, entry)
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, OSError, ValueError, zlib.error):
        raise refuse("not_a_workbook", "this is no sound .xlsx workbook") from None


def check_part(package: zipfile.ZipFile, entry: zipfile.ZipInfo) -> None:
    """Refused where a part is larger than the directory claims, or a sheet's cells span more than is laid out."""
    with package.open(entry) as part:
        content = part.read(entry.file_size + 1)
    if len(content) > entry.file_size:
        raise refuse("too_large", "the workbook holds more than its directory says")
    if "worksheets/" in entry.filename.lower():
        rows = max((int(row) for row in ROW.findall(content)), default=0)
        columns = set(COLUMN.findall(content))
        if rows > MOST_ROWS + 1 or any(len(column) > 2 for column in columns):
            raise refuse("too_large", f"at most {MOST_ROWS} rows and {26 * 27} columns are read")


def cell_text(value: Any) -> str:
    """A cell's value as text: numbers as they were typed, days as ISO 8601."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        whole = value.is_integer() and abs(value) < 10**15
        return str(int(value)) if whole else plain_number(repr(value))
    if isinstance(value, datetime.datetime):
        return value.date().isoformat()
    return str(value)


def plain_number(text: str) -> str:
    """The shortest decimal that a number stands for, its exponent written out where it is small."""
    digits, _, exponent = text.partition("e")
    if not exponent or not -20 <= int(exponent) < 0:
        return text
    sign = "-" if digits.startswith("-") else ""
    return f"{sign}0.{'0' * (-int(exponent) - 1)}{digits.lstrip('-').replace('.', '')}"


def read_workbook(data: bytes) -> dict[str, list[list[str]]]:
    """The rows of each sheet from its first, by the sheet's name; Refused for what is no workbook that can be read."""
    check_package(data)
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        sheets = {name: book.get_sheet_by_name(name) for name in book.sheet_names}
        if any(sheet.total_height * sheet.total_width > MOST_CELLS for sheet in sheets.values()):
            raise refuse("too_large", f"at most {MOST_CELLS:,} cells are read")
        return {
            name: [[cell_text(cell) for cell in row] for row in sheet.to_python(skip_empty_area=False)]
            for name, sheet in sheets.items()
        }
    except (CalamineError, ValueError):
        raise refuse("not_a_workbook", "this is no sound .xlsx workbook") from None
