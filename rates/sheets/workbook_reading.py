"""A workbook (.xlsx, ECMA-376) as sheets of text cells: values as stored, with what is hidden, merged or computed.

package (directory checked) > strings, styles > sheets, read event by event within bounds
"""

from __future__ import annotations

import datetime
import posixpath
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation

from rates.core.grid import DATE, ERROR, FORMULA, NO_VALUE, GridRow, Sheet, column_number
from rates.core.problems import Unreadable
from rates.sheets.workbook_package import Package
from rates.sheets.workbook_parts import Text, clean, page_texts, plain_text, read_boxes, read_comments, read_strings
from rates.sheets.workbook_styles import Styles, percent_number, small, stored_number, with_places
from rates.sheets.workbook_xml import local, parse

MOST_SHEETS = 100
MOST_MERGES = 20_000
_REF = re.compile(r"([A-Z]{1,3})([0-9]{1,7})", re.ASCII)
SHEET_KIND = "/worksheet"
PAGE_TEXTS = frozenset(
    f"{which}{where}" for which in ("odd", "even", "first") for where in ("Header", "Footer")
)  # ECMA-376 part 1, 18.3.1.46


@dataclass(frozen=True)
class Wanted:
    """What is taken of a workbook, and how.

    rows, columns: of one sheet; cells: filled ones of all sheets. tidy: what is made of a cell's text. places: whether
    a number is written with as many places as its cell shows.
    """

    rows: int
    columns: int
    cells: int
    tidy: Callable[[str], str] = clean
    places: bool = False


def read_workbook(data: bytes, wanted: Wanted) -> list[Sheet]:
    """The sheets in their order; Unreadable with what is wrong with the file."""
    package = Package(data)
    listed, epoch = read_listing(package.read("xl/workbook.xml"))
    targets = read_targets(package)
    strings = read_strings(package, wanted.tidy)
    styles = Styles(package.read("xl/styles.xml") if package.has("xl/styles.xml") else None)
    budget = [wanted.cells]
    sheets = []
    for name, relation, hidden in listed:
        target = targets.get(relation)
        if target is not None and package.has(target):
            reader = SheetReader(name, strings, styles, epoch, budget, wanted)
            parse(package.read(target), reader.start, reader.end, reader.text)
            sheets.append(
                replace(
                    reader.sheet(hidden), comments=read_comments(package, target), boxes=read_boxes(package, target)
                )
            )
    if not sheets:
        raise Unreadable("broken_workbook", "the workbook has no sheet with cells")
    return sheets


def read_listing(data: bytes) -> tuple[list[tuple[str, str, bool]], datetime.date]:
    """(name, relation id, hidden) of each sheet, and the day 0 of its dates."""
    listed: list[tuple[str, str, bool]] = []
    epochs = [datetime.date(1899, 12, 30)]

    def start(name: str, attributes: dict[str, str]) -> None:
        tag = local(name)
        if tag == "sheet":
            relation = next((v for k, v in attributes.items() if local(k) == "id"), "")
            listed.append((attributes.get("name", "")[:80], relation, attributes.get("state", "visible") != "visible"))
        elif tag == "workbookPr" and attributes.get("date1904") in ("1", "true"):
            epochs[0] = datetime.date(1904, 1, 1)

    parse(data, start)
    if len(listed) > MOST_SHEETS:
        raise Unreadable("too_many_sheets", f"at most {MOST_SHEETS} sheets are read, not {len(listed):,}")
    return listed, epochs[0]


def read_targets(package: Package) -> dict[str, str]:
    """Relation id -> part name of each sheet; what lies outside the file is left out."""
    found: dict[str, str] = {}

    def start(name: str, attributes: dict[str, str]) -> None:
        is_sheet = local(name) == "Relationship" and attributes.get("Type", "").endswith(SHEET_KIND)
        if is_sheet and attributes.get("TargetMode") != "External":
            target = attributes.get("Target", "")
            at = target.lstrip("/") if target.startswith("/") else posixpath.normpath(f"xl/{target}")
            found[attributes.get("Id", "")] = at

    parse(package.read("xl/_rels/workbook.xml.rels"), start)
    return found


class SheetReader:
    """Collects the rows of one sheet as its XML goes by."""

    def __init__(
        self, name: str, strings: list[Text], styles: Styles, epoch: datetime.date, budget: list[int], wanted: Wanted
    ) -> None:
        self._name, self._strings, self._styles, self._epoch = name, strings, styles, epoch
        self._budget, self._wants = budget, wanted
        self._rows: list[GridRow] = []
        self._hidden: set[int] = set()
        self._merges: list[tuple[int, int, int, int]] = []
        self._tags: dict[str, str] = {}
        self._row = GridRow(0, [])
        self._column = -1
        self._kind = self._style = None  # type: str | None
        self._formula = self._wanted = False
        self._parts: list[str] = []
        self._pages: list[str] = []

    def sheet(self, hidden: bool) -> Sheet:
        """What was collected."""
        return Sheet(
            self._name, self._rows, frozenset(self._hidden), tuple(self._merges), hidden, pages=tuple(self._pages)
        )

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        tag = self._tags.get(name) or self._tags.setdefault(name, local(name))
        if tag == "c":
            self._open_cell(attributes)
        elif tag in ("v", "t"):
            self._wanted = True
        elif tag in PAGE_TEXTS:
            self._wanted = True
            self._parts.clear()
        elif tag == "f":
            self._formula = True
        elif tag == "row":
            given = small(attributes.get("r"))
            self._row = GridRow(given or self._row.number + 1, [], attributes.get("hidden") in ("1", "true"))
            self._column = -1
        elif tag == "col" and attributes.get("hidden") in ("1", "true"):
            first, last = small(attributes.get("min")), small(attributes.get("max"))
            self._hidden.update(range(max(first, 1) - 1, min(last, self._wants.columns)))
        elif tag == "mergeCell" and len(self._merges) < MOST_MERGES:
            corners = _REF.findall(attributes.get("ref", ""))
            if len(corners) == 2:
                (c1, r1), (c2, r2) = corners
                self._merges.append((int(r1), column_number(c1), int(r2), column_number(c2)))

    def _open_cell(self, attributes: dict[str, str]) -> None:
        match = _REF.fullmatch(attributes.get("r", ""))
        self._column = column_number(match[1]) if match else self._column + 1
        self._kind, self._style = attributes.get("t"), attributes.get("s")
        self._formula = False
        self._parts.clear()

    def text(self, part: str) -> None:
        """Characters inside a value."""
        if self._wanted:
            self._parts.append(part)

    def end(self, name: str) -> None:
        """An element ends."""
        tag = self._tags.get(name) or local(name)
        if tag in ("v", "t"):
            self._wanted = False
        elif tag == "c":
            self._close_cell("".join(self._parts))
        elif tag in PAGE_TEXTS:
            self._wanted = False
            self._pages += page_texts("".join(self._parts))
        elif tag == "row" and (self._row.cells or self._row.marked):
            self._rows.append(self._row)
            if len(self._rows) > self._wants.rows:
                detail = f"at most {self._wants.rows:,} rows are taken; the sheet {self._name[:40]} has more"
                raise Unreadable("too_many_lines", detail)

    def _close_cell(self, raw: str) -> None:
        if not raw and not self._formula:
            return
        if self._column >= self._wants.columns:
            detail = (
                f"at most {self._wants.columns} columns are taken; row {self._row.number} of {self._name[:40]} has more"
            )
            raise Unreadable("too_many_columns", detail)
        self._budget[0] -= 1
        if self._budget[0] < 0:
            raise Unreadable("too_large", f"at most {self._wants.cells:,} filled cells are taken")
        cells = self._row.cells
        cells.extend([""] * (self._column + 1 - len(cells)))
        text = self._value(raw)
        if "\n" in text:
            self._row.broken[self._column] = tuple(text.split("\n"))
            text = text.replace("\n", " ")
        cells[self._column] = text
        if text and self._styles.strikes and self._styles.struck(self._style):
            self._row.struck[self._column] = text

    def _value(self, raw: str) -> str:
        if self._formula:
            self._row.marked[self._column] = FORMULA if raw else NO_VALUE
        if self._kind == "s":
            at = small(raw)
            if not raw.isdigit() or at >= len(self._strings):
                raise Unreadable("broken_workbook", f"a cell of row {self._row.number} points to no text")
            text, struck = self._strings[at]
            if struck:
                self._row.struck[self._column] = struck
            return text
        if self._kind in ("str", "inlineStr"):
            return self._wants.tidy(plain_text(raw))
        if self._kind == "e":
            self._row.marked[self._column] = ERROR
            return clean(raw)
        if self._kind == "b":
            return "true" if raw.strip() == "1" else "false"
        shows, places = self._styles.shows(self._style)
        if shows == "date" or self._kind == "d":
            self._row.marked[self._column] = DATE
            return self._date(raw)
        text = stored_number(raw.strip())
        if shows == "%":
            text = percent_number(text)
        if places and self._wants.places:
            text = with_places(text, places)
        return f"{text} {shows}" if shows and text else text

    def _date(self, raw: str) -> str:
        """The day that a number stands for."""
        try:
            return (self._epoch + datetime.timedelta(days=int(Decimal(raw.strip()[:20])))).isoformat()
        except (InvalidOperation, OverflowError, ValueError):
            return clean(raw)
