"""A described file as bytes: text in its encoding, or a workbook with all that an office leaves in one."""

from __future__ import annotations

import datetime
import io
import re
from collections.abc import Mapping
from typing import Any

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.utility import xl_cell_to_rowcol
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from tests.corpus.schedule import Schedule

DELIMITERS = {"tab": "\t", "semicolon": ";"}
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")


def build(schedule: Schedule) -> bytes:
    """The bytes of a schedule's file."""
    said = schedule.described
    if "xlsx" in said:
        return build_workbook(said["xlsx"])
    text = said.get("csv", said.get("paste"))
    if "delimiter" in said:
        mark = DELIMITERS[said["delimiter"]]
        text = "\n".join(mark.join(cell.strip() for cell in line.split("|")) for line in text.split("\n"))
    ending = {"crlf": "\r\n", "cr": "\r"}.get(said.get("ending", ""), "\n")
    return str(text).replace("\n", ending).encode(said.get("encoding", "utf-8"))


def build_workbook(sheets: list[Mapping[str, Any]]) -> bytes:
    """A workbook of described sheets."""
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        formats = Formats(book)
        for sheet in sheets:
            fill(book.add_worksheet(sheet["sheet"]), sheet, formats)
    return stream.getvalue()


class Formats:
    """Cell formats by their properties, each made once."""

    def __init__(self, book: Workbook) -> None:
        self.book = book
        self.made: dict[tuple[tuple[str, Any], ...], Format] = {}

    def get(self, **properties: Any) -> Format | None:
        """The format with these properties; None for none."""
        key = tuple(sorted(properties.items()))
        if not key:
            return None
        if key not in self.made:
            self.made[key] = self.book.add_format(properties)
        return self.made[key]


def fill(page: Worksheet, sheet: Mapping[str, Any], formats: Formats) -> None:
    """One sheet: cells, merges, what is hidden, comments, header and footer."""
    rows, columns = xl_cell_to_rowcol(sheet.get("start", "A1"))
    merged = spans(sheet.get("merges", ()))
    looks = cell_looks(sheet)
    inside = {cell for area in merged.values() for cell in cells_of(area)} - set(merged)
    for r, line in enumerate(sheet["rows"].split("\n")):
        for c, text in enumerate(line.split("|") if line.strip() else ()):
            place = (rows + r, columns + c)
            if place in merged:
                page.merge_range(*merged[place], "")
            if place not in inside:
                put(page, place, text.strip(), formats.get(**looks.get(place, {})))
    fill_exact(page, sheet, formats)
    for row in sheet.get("hidden_rows", ()):
        page.set_row(row - 1, None, None, {"hidden": True})
    for letter in sheet.get("hidden_columns", ()):
        page.set_column(f"{letter}:{letter}", None, None, {"hidden": True})
    for cell, said in sheet.get("comments", {}).items():
        page.write_comment(cell, said, {"author": "Invented"})
    page.set_header(sheet.get("header", ""))
    page.set_footer(sheet.get("footer", ""))
    if sheet.get("hidden"):
        page.hide()


def put(page: Worksheet, place: tuple[int, int], text: str, look: Format | None) -> None:
    """One cell: a number where it is written as one, else text; an apostrophe in front makes text of a number."""
    if _NUMBER.fullmatch(text):
        page.write_number(*place, float(text), look)
    elif text or look is not None:
        plain = text[1:] if re.fullmatch(r"'-?[0-9.,]+", text) else text
        page.write_string(*place, plain.replace("\\n", "\n"), look)


def fill_exact(page: Worksheet, sheet: Mapping[str, Any], formats: Formats) -> None:
    """Dates and formulas with the value that was kept for them."""
    for cell, day in sheet.get("dates", {}).items():
        page.write_datetime(cell, datetime.datetime(day.year, day.month, day.day), formats.get(num_format="m/d"))
    for cell, (formula, value) in sheet.get("formulas", {}).items():
        page.write_formula(cell, formula, None, value)
    for cell, parts in sheet.get("part_struck", {}).items():
        struck = formats.get(font_strikeout=True)
        page.write_rich_string(cell, struck, parts[0], parts[1])


def cell_looks(sheet: Mapping[str, Any]) -> dict[tuple[int, int], dict[str, Any]]:
    """Properties by cell: struck through, and number formats."""
    looks: dict[tuple[int, int], dict[str, Any]] = {}
    for area in sheet.get("strike", ()):
        for cell in cells_of(corners(area)):
            looks.setdefault(cell, {})["font_strikeout"] = True
    for area, code in sheet.get("formats", {}).items():
        for cell in cells_of(corners(area)):
            looks.setdefault(cell, {})["num_format"] = code
    return looks


def spans(areas: list[str]) -> dict[tuple[int, int], tuple[int, int, int, int]]:
    """Merged areas by their first cell."""
    return {corners(area)[:2]: corners(area) for area in areas}


def corners(area: str) -> tuple[int, int, int, int]:
    """The first and last row and column of an area."""
    first, _, last = area.partition(":")
    return (*xl_cell_to_rowcol(first), *xl_cell_to_rowcol(last or first))


def cells_of(area: tuple[int, int, int, int]) -> list[tuple[int, int]]:
    """The cells of an area."""
    return [(r, c) for r in range(area[0], area[2] + 1) for c in range(area[1], area[3] + 1)]
