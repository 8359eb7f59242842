"""CSV text (RFC 4180) as records that know where their cells stand; every fault of the form with its place.

Comma, or the semicolon or tab that the heading is written with. A quote opens a quoted cell only at the cell's start,
so that 48" can stand unquoted. An apostrophe that keeps text from being a formula is no part of it. Lines end at LF,
CRLF or CR; blank lines are no records.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from rates.core.jsonplaces import Lines
from rates.sheets.formula_text import expose

MOST_CELL_CHARACTERS = 4_000
MOST_COLUMNS = 500  # what stands behind them is left in one last cell, and the row is ragged
MOST_FAULTS = 10_000
DELIMITERS = (",", ";", "\t")
_QUOTED = re.compile(f'"(?:[^"]|""){{0,{MOST_CELL_CHARACTERS}}}+"')
# Bytes that are not UTF-8 stand in the text as lone surrogates (PEP 383).
_BAD = re.compile("[\udc80-\udcff]+|[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault of the form at an offset of the text."""

    offset: int
    code: str
    detail: str


@dataclass(frozen=True, slots=True)
class Row:
    """One record: the offset where it starts, and its cells, unquoted and trimmed."""

    offset: int
    cells: list[str]


@dataclass(frozen=True, slots=True)
class Table:
    """The records of a text; `text` has LF line ends and no byte order mark, so that offsets are places in it."""

    text: str
    delimiter: str
    rows: tuple[Row, ...]
    faults: tuple[Fault, ...]

    def cell_offset(self, row: Row, column: int) -> int:
        """Where a cell of a row starts; behind the row's last cell where it has none there."""
        at = row.offset
        for index, (start, end, _) in enumerate(_cells(self.text, row.offset, self.delimiter)):
            if index == column:
                return start
            at = end
        return at

    def places(self, offsets: list[int]) -> list[tuple[int, int]]:
        """Line and column (from 1) of each offset."""
        lines = Lines(self.text)
        return [lines.place(offset) for offset in offsets]


def decode_bytes(data: bytes) -> str:
    """The text with LF line ends and no byte order mark; bytes that are not UTF-8 as lone surrogates."""
    text = data.decode("utf-8", "surrogateescape").removeprefix("\ufeff")
    return re.sub("\r\n?", "\n", text)


def read_table(text: str, most_rows: int, delimiter: str | None = None) -> Table:
    """The table of a text from decode_bytes; reading stops behind `most_rows` records or 10,000 faults.

    delimiter None: the one that the first line which is not blank is written with.

    Faults: not_utf8, control_character, unclosed_quote, text_after_quote, cell_too_long, too_many_lines.
    """
    faults = [
        Fault(m.start(), "not_utf8", "these bytes are not UTF-8; save the file as UTF-8")
        if m[0][0] >= "\udc80"
        else Fault(m.start(), "control_character", "control characters are not taken")
        for m in islice(_BAD.finditer(text), MOST_FAULTS)
    ]
    if delimiter is None:
        heading = next((line for line in text.split("\n", 20)[:20] if line.strip()), "")
        delimiter = max(DELIMITERS, key=heading.count)
    rows: list[Row] = []
    for row in _rows(text, delimiter, faults):
        if len(rows) == most_rows:
            faults.append(Fault(row.offset, "too_many_lines", f"at most {most_rows:,} lines are taken"))
            break
        rows.append(row)
        if len(faults) > MOST_FAULTS:
            break
    return Table(text, delimiter, tuple(rows), tuple(sorted(faults, key=lambda fault: fault.offset)))


def _rows(text: str, delimiter: str, faults: list[Fault]) -> Iterator[Row]:
    at = 0
    while at < len(text):
        end = _line_end(text, at)
        raw = text[at:end]
        if '"' in raw:
            cells, end = _quoted_row(text, at, delimiter, faults)
        else:
            cells = [cell.strip() for cell in raw.split(delimiter, MOST_COLUMNS)]
            if "'" in raw:
                cells = [expose(cell) for cell in cells]
        if len(raw) > MOST_CELL_CHARACTERS and any(len(cell) > MOST_CELL_CHARACTERS for cell in cells):
            faults.append(Fault(at, "cell_too_long", f"a cell has more than {MOST_CELL_CHARACTERS:,} characters"))
        if any(cells):
            yield Row(at, cells)
        at = end + 1


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


def _quoted_row(text: str, at: int, delimiter: str, faults: list[Fault]) -> tuple[list[str], int]:
    """The cells of a record with quotes and the offset behind it; its rest is one cell where a quote isn't closed."""
    cells, end = [], at
    for start, end, fault in _cells(text, at, delimiter):
        if fault is not None:
            faults.append(fault)
        cell = text[start:end].strip()
        quoted = len(cell) > 1 and cell[0] == '"' == cell[-1]
        cells.append(expose((cell[1:-1].replace('""', '"') if quoted else cell).strip()))
    return cells, end


def _cells(text: str, at: int, delimiter: str) -> Iterator[tuple[int, int, Fault | None]]:
    """(start, end, fault) of each cell of the record at `at`; a quoted cell may hold delimiters and line feeds."""
    line_end = _line_end(text, at)
    for index in range(MOST_COLUMNS + 1):
        quoted = _QUOTED.match(text, at)
        inner = quoted.end() if quoted else at
        line_end = line_end if inner <= line_end else _line_end(text, inner)
        found = text.find(delimiter, inner, line_end) if index < MOST_COLUMNS else -1
        end = found if found >= 0 else line_end
        fault = None
        if quoted is None and text.startswith('"', at):
            end, found = line_end, -1
            detail = f"the quote that opens here is not closed within {MOST_CELL_CHARACTERS:,} characters"
            fault = Fault(at, "unclosed_quote", detail)
        elif quoted is not None and text[inner:end].strip():
            detail = "text stands behind a closing quote; inside quotes a quote is written twice"
            fault = Fault(inner, "text_after_quote", detail)
        yield at, end, fault
        if found < 0:
            return
        at = end + 1
