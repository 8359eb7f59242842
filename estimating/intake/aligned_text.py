"""Text whose columns are held apart by spaces: each word belongs to the column that it stands under.

heading line > columns by what is blank from the heading down > a blank cell stays blank, nothing moves to the left
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from estimating.intake.headings import is_value, understand
from estimating.intake.kind_words import kind_of
from estimating.intake.meanings import carries
from estimating.intake.place_headings import place_of_heading
from rates.core.grid import GridRow

GAPS = re.compile(r" {2,}|\t+")
_MARK = re.compile(r"[A-Z]{1,3}-?[0-9]{1,4}[A-Z]?", re.ASCII)
_WORDS = re.compile(r"\S+(?: \S+)*")
MOST_CELLS = 200
LEAST_HEADINGS = 2
TAB = 8
LEAST_PIECES = 3
MOST_ORDERED = 12  # headings; more would be too many ways to set a line under them
NUMBERED = frozenset({"quantity", "width", "height", "size", "diameter"})
PLACED = frozenset({"elevation", "storey", "building", "phase"})
Span = tuple[int, int]


def split_aligned(lines: Sequence[str]) -> list[GridRow]:
    """The rows of lines that are not blank, numbered from 1."""
    flat = [line.expandtabs(TAB) for line in lines]
    heads = [at for at, line in enumerate(flat) if is_heading_line(line)]
    under = {at + 1 for at in heads if at + 1 < len(flat) and hangs_under(flat[at], flat[at + 1])}
    heads = [at for at in heads if at not in under]
    rows: list[GridRow] = []
    for at, line in enumerate(flat):
        if not line.strip():
            continue
        head = max((h for h in heads if h <= at), default=None)
        rows.append(GridRow(at + 1, [] if head is not None else plain_cells(line)))
    for start, end in pairwise([*heads, len(flat)] if heads else []):
        two = start + 1 in under
        columns = columns_under(flat[start:end], two)
        mine = [row for row in rows if start < row.number <= end]
        loose = not two and any(is_crowded(flat[row.number - 1], columns) for row in mine[1:])
        for row in mine:
            line = flat[row.number - 1]
            if two and row is mine[0]:
                row.cells = groups_over(line, columns)
            else:
                row.cells = (cells_in_order(line, flat[start]) if loose else None) or cells_under(line, columns)
    return rows


def hangs_under(upper: str, lower: str) -> bool:
    """Whether a line of headings stands under those above it and no mark's: WIDTH and HEIGHT under ROUGH OPENING."""
    spans, cells = spans_of(lower), plain_cells(lower)
    return len(spans) > 1 and spans[0][0] >= spans_of(upper)[0][1] and all(map(carries, cells))


def groups_over(line: str, columns: Sequence[Span]) -> list[str]:
    """The upper of two lines of headings by columns: what stands over several is in the first of them."""
    cells = [""] * len(columns)
    for start, end in spans_of(line):
        at = next((n for n, (left, right) in enumerate(columns) if start < right and left < end), len(columns) - 1)
        cells[at] = f"{cells[at]} {line[start:end]}".strip()
    return cells


def of_two(upper: Sequence[Span], lower: Sequence[Span]) -> list[Span]:
    """The columns of two lines of headings: the lower ones, and the upper ones with none under them."""
    bare = [(left, right) for left, right in upper if not any(start < right and left < end for start, end in lower)]
    return sorted([*bare, *lower])


def is_crowded(line: str, columns: Sequence[Span]) -> bool:
    """Whether two pieces of a line stand under one heading, as where columns were copied out of a drawing."""
    spans = spans_of(line)
    if len(spans) < LEAST_PIECES or not columns:
        return False
    under = [next((n for n, (left, right) in enumerate(columns) if left <= start < right), -1) for start, _ in spans]
    return len(set(under)) < len(under)


def cells_in_order(line: str, heading: str) -> list[str] | None:
    """The pieces of a line under the headings in their order, each where it can belong; None where none of it fits.

    Of several ways, the one whose pieces stand nearest to their headings.
    """
    heads, spans = spans_of(heading), spans_of(line)
    if not LEAST_PIECES <= len(spans) <= len(heads) <= MOST_ORDERED:
        return None
    pieces = [line[start:end] for start, end in spans]
    fields = [meant.field if (meant := understand(heading[start:end])) is not None else "" for start, end in heads]
    ways: dict[int, tuple[int, tuple[int, ...]]] = {-1: (0, ())}  # the last column taken -> distance, all columns taken
    for piece, (start, _) in zip(pieces, spans, strict=True):
        free = [c for c in range(min(ways) + 1, len(heads)) if may_stand(piece, fields[c])] if ways else []
        ways = {
            c: min((far + abs(start - heads[c][0]), (*way, c)) for last, (far, way) in ways.items() if last < c)
            for c in free
        }
    if not ways:
        return None
    cells = [""] * len(heads)
    for piece, column in zip(pieces, min(ways.values())[1], strict=True):
        cells[column] = piece
    return cells


def may_stand(piece: str, field: str) -> bool:
    """Whether a piece of a line can stand under a heading: numbers under counts and sizes, no numbers under words."""
    if field in NUMBERED:
        return is_value(piece) or any(map(str.isdigit, piece))
    if field in PLACED:
        return place_of_heading(piece) is not None or (field == "storey" and is_value(piece))
    return field in ("mark", "") or not is_value(piece)


def is_heading_line(line: str) -> bool:
    """Whether a line is several headings, two of them understood."""
    cells = plain_cells(line)
    if any(is_value(cell) and not cell.isdigit() for cell in cells) or _MARK.fullmatch(cells[0]):
        return False  # a line, though a place and a remark of it could head columns
    return len(cells) >= 3 and sum(1 for cell in cells if carries(cell)) >= LEAST_HEADINGS


def plain_cells(line: str) -> list[str]:
    """The cells of a line by its gaps alone."""
    return [cell.strip() for cell in GAPS.split(line.strip())][:MOST_CELLS]


def spans_of(line: str) -> list[Span]:
    """Where the words of a line stand, held apart by two spaces or more."""
    return [match.span() for match in _WORDS.finditer(line)]


def columns_under(lines: Sequence[str], two: bool) -> list[Span]:
    """The columns of a heading line, or of two, and what stands under it: each from the end of the last to its own."""
    heads = of_two(spans_of(lines[0]), spans_of(lines[1])) if two else spans_of(lines[0])
    body = [spans for line in lines[1 + two :] if len(spans := spans_of(line)) >= 2]
    if not two and all(len(spans) == len(heads) for spans in body):
        return []  # every cell is filled: the order of the words is enough
    width = max((spans[-1][1] for spans in (heads, *body)), default=0) + 1
    filled = [False] * width
    for spans in (heads, *body):
        for start, end in spans:
            filled[start:end] = [True] * (end - start)
    edges = [0]
    for (_, left), (right, _) in zip(heads, heads[1:], strict=False):
        blanks = [place for place in range(left, right) if not filled[place]]
        edges.append(blanks[-1] if blanks else right)
    return list(zip(edges, [*edges[1:], width], strict=True))


def pieces_of(line: str, columns: Sequence[Span]) -> list[Span]:
    """Where the words of a line stand; words that reach over more than one column are taken one by one."""
    found: list[Span] = []
    for start, end in spans_of(line):
        under = sum(1 for left, right in columns if min(end, right) - max(start, left) > 1)
        if under < 2:
            found.append((start, end))
        else:
            found += [(start + m.start(), start + m.end()) for m in re.finditer(r"\S+", line[start:end])]
    return found


def stands_alone(line: str, columns: Sequence[Span]) -> bool:
    """Whether a line is one text over several columns that names a kind or a place, as over the lines below it."""
    spans = spans_of(line)
    if len(spans) != 1 or spans[0][0] >= columns[0][1] or len(pieces_of(line, columns)) < 2:
        return False
    text = line.strip().rstrip(":")
    return place_of_heading(text) is not None or (bool(kind_of(text)) and not any(map(str.isdigit, text)))


def cells_under(line: str, columns: Sequence[Span]) -> list[str]:
    """The words of a line by the column that each overlaps most; words of one column are joined."""
    if not columns or stands_alone(line, columns):
        return plain_cells(line)
    cells = [""] * len(columns)
    for start, end in pieces_of(line, columns):
        shares = [max(0, min(end, right) - max(start, left)) for left, right in columns]
        at = shares.index(max(shares)) if any(shares) else len(columns) - 1
        cells[at] = f"{cells[at]} {line[start:end]}".strip()
    while cells and not cells[-1]:
        cells.pop()
    return cells
