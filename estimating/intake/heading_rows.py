"""Rows that may head a table: what makes one, and how two or three above one another are one heading."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from estimating.intake.headings import COUNT, Heading, is_value, understand, unit_of
from estimating.intake.meanings import meanings
from estimating.intake.place_headings import place_of_heading
from estimating.intake.place_series import places_in_series
from estimating.intake.scope_words import read_words
from rates.core.grid import GridRow, Sheet

CARRYING_TURNED = frozenset({"mark", "type", "quantity", "width", "height", "size", "diameter", "kind"})
_ORDER = re.compile(r"[(\[]?\s*\bw(?:idth|d)?\.?\s*[x×]\s*h(?:eight|t)?\b\.?\s*[)\]]?", re.IGNORECASE)
MOST_HEADING = 90  # characters of a heading; longer is a sentence


def heads_sizes(cells: Sequence[str]) -> bool:
    """Whether cells head a table of counts or sizes."""
    if any(map(is_value, cells)) or not heads(cells):
        return False
    named = [cell if len(cell.strip(" .")) > 1 else "" for cell in cells]
    fields = {heading.field for heading in meanings(named).values()}
    return len(fields & CARRYING_TURNED) >= 2 and bool(fields & {"quantity", "width", "height", "size"})


def is_total_word(text: str) -> bool:
    """Whether a label names a total."""
    return text.strip().lower().rstrip("s.") in ("total", "sum", "summe", "gesamt", "somme", "suma")


def heads(cells: Sequence[str]) -> bool:
    """Whether cells can head a table of their own."""
    return is_heading(meanings(list(cells)), list(cells))


def heads_a_list(cells: Sequence[str]) -> bool:
    """Whether cells head a table that has marks and counts or sizes, as one beside another would."""
    fields = {heading.field for heading in meanings(list(cells)).values()}
    return (
        heads(cells)
        and bool(fields & {"mark", "type"})
        and bool(fields & {"quantity", "width", "height", "size", COUNT})
    )


def continues(above: GridRow, row: GridRow) -> bool:
    """Whether a row can be more of the heading above it: next to it, and that no title in the first column alone."""
    if row.number != above.number + 1 or (row.filled == 1 and above.filled > 1 and not units_row(row.cells)):
        return False
    first = next((column for column, cell in enumerate(above.cells) if cell), 0)
    return above.filled > 1 or first > next((column for column, cell in enumerate(row.cells) if cell), 0)


def numbers_as_names(cells: Sequence[str]) -> bool:
    """Whether the values of a row are small numbers one after another, which name storeys beside headings: 1, 2, 3."""
    values = [cell for cell in cells if is_value(cell)]
    if not all(cell.isascii() and cell.isdigit() and len(cell) < 3 for cell in values):
        return False
    series = places_in_series(cells)
    words = [cell for column, cell in enumerate(cells) if cell and column not in series and cell not in values]
    if any(understand(cell) is None and place_of_heading(cell) is None for cell in words):
        return False
    places = [column for column, cell in enumerate(cells) if is_value(cell)]
    if any(b - a != 1 for a, b in zip(places, places[1:], strict=False)) and len(values) < 4:
        return False
    numbers = [int(cell) for cell in values]
    steps = {b - a for a, b in zip(numbers, numbers[1:], strict=False)}
    return len(numbers) >= 2 and (steps in ({1}, {-1}) or steps <= {1, 1 - len(set(numbers))})


def units_row(cells: Sequence[str]) -> bool:
    """Whether a row under a heading holds nothing but units."""
    filled = [cell for cell in cells if cell]
    return bool(filled) and all(unit_of(cell.lower().strip("()[] ")) for cell in filled)


def compose(sheet: Sheet, above: GridRow, over: list[str], lower: GridRow) -> list[str]:
    """The headings of one more row joined: a group's heading stands over each of its columns, merged or not."""
    width = max(len(over), len(lower.cells))
    upper = [over[c] if c < len(over) else "" for c in range(width)]
    for first_row, first, last_row, last in sheet.merges:
        if first_row <= above.number <= last_row and first < width:
            upper[first : last + 1] = [upper[first]] * (min(last, width - 1) + 1 - first)
    ends = {last for first_row, _, last_row, last in sheet.merges if first_row <= above.number <= last_row}
    for column in range(1, width):
        goes_on = upper[column - 1] and lower.cell(column - 1) and column - 1 not in ends
        if not upper[column] and goes_on and joins(lower.cell(column), upper[column - 1]):
            upper[column] = upper[column - 1]
    return [" ".join(part for part in (of_side(upper[c], lower.cell(c)), lower.cell(c)) if part) for c in range(width)]


def of_side(upper: str, lower: str) -> str:
    """A group's heading over one side of a size: without the order of both, ROUGH OPENING (W x H) over W."""
    meant = understand(lower) if lower else None
    return _ORDER.sub("", upper).strip() if meant is not None and meant.field in ("width", "height") else upper


def joins(heading: str, group: str) -> bool:
    """Whether a heading can belong to the group over its left neighbour; a count to none of sizes, GLASS."""
    fields = {meant.field for meant in meanings([heading]).values()}
    if "quantity" in fields and not read_words(group).of("scope"):
        meant = understand(f"{group} {heading}")
        return meant is not None and meant.field in ("quantity", COUNT)
    return bool(heading) and not fields - {"width", "height", "diameter", "size", COUNT, "quantity"}


def is_heading(columns: Mapping[int, Heading], cells: Sequence[str]) -> bool:
    """Whether a row can head a table: two fields that carry a line, and a third of what it says understood.

    A size is enough beside two fields more where all but one heading is understood: W'DOW | SIZE | FLR | FACE.
    """
    filled = [cell for cell in cells if cell]
    if any(len(cell) > MOST_HEADING for cell in filled):
        return False
    carrying = {heading.field for heading in columns.values() if carries_field(heading)}
    if carrying == {"size"}:
        return len(columns) >= 3 and len(columns) >= len(filled) - 1
    return len(carrying) >= 2 and len(columns) * 3 >= len(filled)


def carries_field(heading: Heading) -> bool:
    """Whether a line can hardly do without the field."""
    return heading.field in CARRYING_TURNED or heading.field == COUNT
