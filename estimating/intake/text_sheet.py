"""A text as a sheet: CSV by its delimiter, columns held apart by spaces, or a list as pasted from a drawing."""

from __future__ import annotations

import re

from estimating.core.schedule import MOST_LINES
from estimating.intake.csv_table import decode_bytes, read_table
from estimating.intake.grid import GridRow, Sheet
from estimating.intake.pasted import read_list
from rates.core.jsonplaces import Lines
from rates.core.problems import Problem, Refused

MOST_ROWS = MOST_LINES + 1_000
MOST_CHECKED = 60  # lines looked at to find the delimiter
DELIMITERS = ("\t", ";", ",", "|")
_GAPS = re.compile(r" {2,}|\t+")
_LINE_END = re.compile("\r\n?|\n")


def read_text(data: bytes) -> Sheet:
    """The sheet of a text; Refused with every fault of its form, each with line and column."""
    text = decode_text(data)
    if text.count("\n") > MOST_ROWS:
        raise Refused([Problem("", "too_many_lines", f"at most {MOST_LINES:,} lines are taken", "schedule", MOST_ROWS)])
    sample = [line for line in text.split("\n", MOST_CHECKED)[:MOST_CHECKED] if line.strip()]
    delimiter = find_delimiter(sample)
    if delimiter is not None:
        return delimited(text, delimiter)
    gapped = [line for line in sample if len(_GAPS.split(line.strip())) >= 3]
    if len(gapped) * 2 > len(sample):
        return spaced(text)
    return read_list(text)


def decode_text(data: bytes) -> str:
    """The text with LF line ends: UTF-8, or UTF-16 with its mark; what is neither is left for the table to fault."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            text = _LINE_END.sub("\n", data.decode("utf-16"))
        except UnicodeDecodeError:
            detail = "the file begins as UTF-16 and is none; save it as CSV (UTF-8)"
            raise Refused([Problem("", "not_utf8", detail, "schedule", 1, 1)]) from None
        if text.lstrip()[:1] in ("[", "{"):
            raise Refused([Problem("", "not_utf8", "this is JSON in UTF-16; JSON is UTF-8", "schedule", 1, 1)])
        return text
    return decode_bytes(data)


def find_delimiter(sample: list[str]) -> str | None:
    """The sign that stands in most lines, and in the most of them equally often; None where there is none."""
    best: tuple[int, int, str] | None = None
    for delimiter in DELIMITERS:
        counts = [line.count(delimiter) for line in sample if delimiter in line]
        if len(counts) * 2 <= len(sample) or not counts:
            continue
        usual = max(set(counts), key=lambda n: (counts.count(n), n))
        score = (counts.count(usual) * min(usual, 4), usual, delimiter)
        if best is None or score[:2] > best[:2]:
            best = score
    return best[2] if best else None


def delimited(text: str, delimiter: str) -> Sheet:
    """The rows of a CSV text; Refused with the faults of its form."""
    table = read_table(text, MOST_ROWS, delimiter)
    if table.faults:
        faults = table.faults[:1000]
        places = table.places([fault.offset for fault in faults])
        raise Refused([Problem("", f.code, f.detail, "schedule", *at) for f, at in zip(faults, places, strict=True)])
    lines = Lines(text)
    return Sheet("", [GridRow(lines.place(row.offset)[0], row.cells) for row in table.rows])


def spaced(text: str) -> Sheet:
    """Rows whose cells are held apart by two spaces or more, or tabs."""
    rows = []
    for number, line in enumerate(text.split("\n"), 1):
        if line.strip():
            rows.append(GridRow(number, [cell.strip() for cell in _GAPS.split(line.strip())][:200]))
    check_characters(text)
    return Sheet("", rows)


def check_characters(text: str) -> None:
    """Refused where the text holds bytes that are not UTF-8, or control characters."""
    faults = read_table(text, 0, "\0").faults
    wrong = [fault for fault in faults if fault.code in ("not_utf8", "control_character")][:1000]
    if wrong:
        lines = Lines(text)
        raise Refused([Problem("", f.code, f.detail, "schedule", *lines.place(f.offset)) for f in wrong])
