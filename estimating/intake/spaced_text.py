"""Text whose columns are held apart by single spaces, as copied out of a drawing: Mark Qty Width Height.

words > a number with its unit, a size with its sign between and a heading of two words are one cell each
  > rows with as many cells as there are headings, or as most rows have where nothing heads them
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from estimating.intake.headings import PART, is_value, understand, unit_of
from estimating.intake.meanings import carries
from rates.core.grid import GridRow

LEAST_CELLS, LEAST_HEADINGS, LEAST_ROWS = 3, 3, 2
MOST_WORDS, MOST_TOGETHER = 60, 4
_UNIT = r"(?:mm|cm|m|in|ft|inch|inches|feet|foot|\"|”|''|'|’)"
_LENGTH = rf"[0-9][0-9.,'’\"”/–-]*(?:\s[0-9]+/[0-9]+[\"”]?)?(?:\s?{_UNIT}(?![\w]))?"
_CELL = re.compile(rf"{_LENGTH}(?:\s?[x×X]\s?{_LENGTH})?(?=\s|$)|\S+")


def split_spaced(text: str) -> list[GridRow] | None:
    """The rows of a text in columns of single spaces; None where it is none."""
    lines = [(number, " ".join(line.split())) for number, line in enumerate(text.split("\n"), 1) if line.strip()]
    at, heads = next(((n, cells) for n, (_, line) in enumerate(lines[:60]) if (cells := headings_of(line))), (-1, []))
    below = [(number, line, words_of(line)) for number, line in lines[at + 1 :]]
    usual = Counter(len(cells) for _, _, cells in below if is_like_row(cells)).most_common(1)
    width = len(heads) or (usual[0][0] if usual else 0)
    fitting = sum(1 for _, _, cells in below if len(cells) == width and is_like_row(cells))
    if width < LEAST_CELLS or fitting < (1 if heads else LEAST_ROWS) or (not heads and fitting * 2 < len(lines)):
        return None
    rows = [GridRow(number, [line]) for number, line in lines[: max(at, 0)]]
    if heads:
        rows.append(GridRow(lines[at][0], heads))
    last = understand(heads[-1]) if heads else None
    words_last = last is not None and last.field == "note"
    return rows + [GridRow(number, fitted(line, cells, width, words_last)) for number, line, cells in below]


def headings_of(line: str) -> list[str]:
    """The headings that a line consists of; none where a word of it is none, or they are fewer than three."""
    words = line.split(" ")
    if len(words) > MOST_WORDS or any(map(is_value, words)):
        return []
    found: list[str] = []
    at = 0
    while at < len(words):
        ends = range(min(len(words), at + MOST_TOGETHER), at, -1)
        end = next((end for end in ends if is_one_heading(words[at:end])), None)
        if end is None:
            return []
        found.append(" ".join(words[at:end]))
        at = end
    return found if len(found) >= LEAST_HEADINGS else []


def is_one_heading(words: Sequence[str]) -> bool:
    """Whether words are one heading: understood together, and not each for itself as another field."""
    text = " ".join(words)
    if len(words) == 1:
        return carries(text)
    meant, fields = understand(text), [understand(word) for word in words]
    last = fields[-1]
    unit = words[-1].startswith("(") or bool(unit_of(words[-1].lower()))
    if meant is None or not meant.sure:
        return False
    own = [one.field for one in fields if one is not None and one.sure and one.field not in (PART, "size")]
    return (
        not set(own) - {meant.field}
        and len(own) < len(words)
        and (unit or (last is not None and last.field == meant.field))
    )


def words_of(line: str) -> list[str]:
    """The cells of a line: words, numbers with their unit, sizes with the sign between."""
    return [match[0] for match in _CELL.finditer(line)][:MOST_WORDS]


def is_like_row(cells: Sequence[str]) -> bool:
    """Whether cells can be a line: a word and two values at least."""
    return sum(map(is_value, cells)) >= 2 and any(cell[:1].isalpha() for cell in cells)


def fitted(line: str, cells: list[str], width: int, words_last: bool) -> list[str]:
    """The cells of a line that has as many as the others; else its mark and the rest as one cell, or all as words.

    words_last: the last column is one of remarks, which takes all words that are left, or none.
    """
    if len(cells) == width or len(cells) == 1 or (words_last and len(cells) == width - 1):
        return cells
    if words_last and len(cells) > width and is_like_row(cells[: width - 1]):
        return [*cells[: width - 1], " ".join(cells[width - 1 :])]
    return [cells[0], line[len(cells[0]) :].strip()] if is_like_row(cells) else [line]
