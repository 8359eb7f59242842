"""The parts of a sheet that hold a schedule each: tables side by side, and tables whose openings are columns.

sheet > split where a blank column parts two headings > turned where the headings stand in the first column
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from rates.core.grid import GridRow, Sheet

LEAST_CELLS = 3
MOST_TURNED = 400  # columns of a sheet that is turned; more would be lines
Heads = Callable[[Sequence[str]], bool]  # whether cells can head a table of their own


def parts_of(sheet: Sheet, heads: Heads) -> list[Sheet]:
    """The sheet, or one sheet for each table that stands beside another; places stay those of the file."""
    edges = blank_columns(sheet)
    starts = [0]
    for edge in edges:
        if headed(sheet, starts[-1], edge, heads) and headed(sheet, edge + 1, sheet.width, heads):
            starts.append(edge + 1)
    if len(starts) == 1:
        return [sheet]
    return [window(sheet, start, end) for start, end in zip(starts, [*starts[1:], sheet.width], strict=True)]


def blank_columns(sheet: Sheet) -> list[int]:
    """The columns that are blank wherever a row has several cells, with filled ones on both sides."""
    filled: set[int] = set()
    for row in sheet.rows[:2_000]:
        if row.filled >= LEAST_CELLS:
            filled.update(column for column, cell in enumerate(row.cells) if cell)
    if not filled:
        return []
    return [column for column in range(min(filled), max(filled)) if column not in filled]


def headed(sheet: Sheet, first: int, end: int, heads: Heads) -> bool:
    """Whether some row heads a table between two columns."""
    return any(heads(row.cells[first:end]) for row in sheet.rows[:400])


def window(sheet: Sheet, first: int, end: int) -> Sheet:
    """The columns of a sheet from the first to before the end; what stands in others is blank."""
    rows = []
    for row in sheet.rows:
        cells = ["" if column < first else cell for column, cell in enumerate(row.cells[:end])]
        if any(cells):
            rows.append(
                replace(row, cells=cells, marked=within(row.marked, first, end), struck=within(row.struck, first, end))
            )
    merges = tuple(merge for merge in sheet.merges if first <= merge[1] < end)
    comments = tuple(comment for comment in sheet.comments if first <= comment[1] < end)
    pages = sheet.pages if first == 0 else ()
    return replace(sheet, rows=rows, merges=merges, comments=comments, pages=pages)


def within(by_column: Mapping[int, str], first: int, end: int) -> dict[int, str]:
    """What is said of the columns from the first to before the end."""
    return {column: text for column, text in by_column.items() if first <= column < end}


def split_repeated(sheet: Sheet, starts: Sequence[int]) -> list[Sheet]:
    """One sheet for each repetition of the headings in a row; `starts` are their first columns."""
    return [window(sheet, start, end) for start, end in zip(starts, [*starts[1:], sheet.width], strict=True)]


def turn(sheet: Sheet) -> Sheet | None:
    """The sheet with rows and columns exchanged; None where it is too wide to be one of openings side by side."""
    if sheet.width > MOST_TURNED or not sheet.rows:
        return None
    rows = []
    for column in range(sheet.width):
        turned = GridRow(column + 1, [])
        for row in sheet.rows:
            place = row.number - 1
            if place >= 10 * MOST_TURNED:
                return None
            if column in row.marked:
                turned.marked[place] = row.marked[column]
            if column in row.struck:
                turned.struck[place] = row.struck[column]
            if cell := row.cell(column):
                turned.cells.extend([""] * (place + 1 - len(turned.cells)))
                turned.cells[place] = cell
        if turned.cells:
            rows.append(turned)
    hidden = frozenset(row.number - 1 for row in sheet.rows if row.hidden)
    merges = tuple((c1 + 1, r1 - 1, c2 + 1, r2 - 1) for r1, c1, r2, c2 in sheet.merges)
    comments = tuple((column + 1, row - 1, text) for row, column, text in sheet.comments)
    return replace(sheet, rows=rows, hidden_columns=hidden, merges=merges, comments=comments, turned=not sheet.turned)
