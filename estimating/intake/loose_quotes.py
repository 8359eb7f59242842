"""Quotes in a CSV text written by hand: inch marks inside quoted cells that are not doubled, lone ditto marks."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from rates.core.jsonplaces import Lines

QUOTES = frozenset({"unclosed_quote", "text_after_quote"})  # faults of a record that loose quotes explain
DITTO = '""""'  # a quoted cell that holds a quote


def with_ditto_quoted(text: str, delimiter: str) -> str:
    """The text with each cell that is nothing but a quote written as a quoted cell, so that it opens none.

    Where the delimiter can stand in a quoted cell, only in lines whose quotes are odd in number.
    """
    mark = re.escape(delimiter)
    lone = re.compile(rf'(?:(?<={mark})|(?<![^\n]))"(?=[ ]*(?:{mark}|\n|\Z))')
    if '"' not in text or lone.search(text) is None:
        return text
    lines = text.split("\n")
    for at, line in enumerate(lines):
        if '"' in line and (delimiter == "\t" or line.count('"') % 2):
            lines[at] = lone.sub(DITTO, line)
    return "\n".join(lines)


def with_inches_quoted(text: str, delimiter: str, offsets: Sequence[int]) -> str:
    """The text with the lines at these offsets quoted as CSV; in them a quote closes a cell only before a delimiter."""
    places = Lines(text)
    lines = text.split("\n")
    for number in {places.place(offset)[0] - 1 for offset in offsets}:
        cells = list(loose_cells(lines[number], delimiter))
        if not any(cell.startswith('"') for cell in cells):  # a quote that opens and closes nothing is no inch mark
            lines[number] = delimiter.join('"' + cell.replace('"', '""') + '"' for cell in cells)
    return "\n".join(lines)


def loose_cells(line: str, delimiter: str) -> Iterator[str]:
    """The cells of a line whose quotes inside of cells are not doubled."""
    close = re.compile(rf'"\s*(?={re.escape(delimiter)}|$)')
    at = 0
    closes = True  # False once no further quote closes a cell, so that the line is searched to its end only once
    while at <= len(line):
        start = at
        while line.startswith(" ", start):
            start += 1
        closing = close.search(line, start + 1) if closes and line.startswith('"', start) else None
        if closing is None:
            closes = closes and not line.startswith('"', start)
        else:
            yield line[start + 1 : closing.start()].replace('""', '"')
            at = closing.end() + 1
            continue
        end = line.find(delimiter, at)
        end = len(line) if end < 0 else end
        yield line[at:end].strip()
        at = end + 1
