"""Addresses of cells in formulas."""

from __future__ import annotations

import re
from collections.abc import Sequence

from rates.core.grid import column_letters, column_number

MOST_ARGUMENTS = 250  # of one function; ECMA-376 part 1, 18.17.7 leaves the number to the program, 255 is usual
MOST_CHARACTERS = 8_000  # of a formula; 8,192 is usual
_CELL = re.compile(r"('[^']+'!)([A-Z]+)([0-9]+)", re.ASCII)


def cell(sheet: str, column: int, row: int) -> str:
    """The address of a cell, its column from 0 and its row from 1."""
    return f"'{sheet}'!{column_letters(column)}{row}"


def stretch(sheet: str, column: int, first: int, last: int) -> str:
    """The address of a column's cells, held fast."""
    letters = column_letters(column)
    return f"'{sheet}'!${letters}${first}:${letters}${last}"


def runs(references: Sequence[str]) -> list[str]:
    """The addresses with cells that follow each other in a column as one stretch."""
    found: list[list[tuple[str, int, int]]] = []
    other: list[str] = []
    for text in references:
        match = _CELL.fullmatch(text)
        if match is None:
            other.append(text)
            continue
        place = (match[1], column_number(match[2]), int(match[3]))
        last = found[-1][-1] if found else None
        if last is not None and last[:2] == place[:2] and last[2] + 1 == place[2]:
            found[-1].append(place)
        else:
            found.append([place])
    texts = []
    for run in found:
        (sheet, column, first), (_, _, last_row) = run[0], run[-1]
        letters = column_letters(column)
        texts.append(f"{sheet}{letters}{first}" + (f":{letters}{last_row}" if last_row > first else ""))
    return [*texts, *other]


def sum_of(references: Sequence[str]) -> str:
    """The sum of addresses and numbers."""
    if len(references) == 1:
        return references[0]
    if not references:
        return "0"
    texts = runs(references)
    groups = [texts[i : i + MOST_ARGUMENTS] for i in range(0, len(texts), MOST_ARGUMENTS)]
    return "+".join(f"SUM({','.join(group)})" for group in groups)
