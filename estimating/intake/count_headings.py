"""What multiplies the counts of a column: its heading, UNIT A (x6), or a row of numbers below it, NO. OF UNITS | 6 | 4.

Common practice, no source. English, German, French, Spanish.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Any

from estimating.intake.count_words import read_count_text
from estimating.intake.doubts import Doubt
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.folding import compose, fold
from estimating.intake.headings import COUNT, Heading
from estimating.intake.outside_words import AS_LISTED, MULTIPLY
from estimating.intake.place_headings import Place, place_of_heading
from estimating.intake.row_kinds import Columns
from estimating.intake.tables import Table
from estimating.intake.times_rows import Times
from rates.core.grid import GridRow

MOST_ROWS = 3  # below the headings, that may hold multipliers
_WHOLE = (
    r"units?|buildings?|bldgs?|houses?|homes?|apartments?|apts?|flats?|dwellings?|villas?|towers?|floors?|levels?|storeys?"
    r"|plots?|lots?|blocks?|rooms?|types?|times|repeats?|wohnungen|hauser|gebaude|geschosse|logements|batiments|etages"
    r"|viviendas|edificios|plantas"
)
_LABEL = re.compile(
    rf"(?:(?:no|nr|nos|number|num|#|qty|quantity|count|anzahl|nombre|nb|numero|cant)\b\.?\s*(?:of\s|de\s|d')?\s*)?(?:{_WHOLE})\b.{{0,12}}"
    r"|(?:multiplier|multiply by|multiplied by|factor|faktor|x|times|mal|fois|veces|thus|typ(?:ical)?(?: of| x)?)"
    r"\W{0,2}"
)


def take_times(table: Table) -> Times | None:
    """The multipliers of columns of counts: a row below the headings that holds nothing else, and is no line then."""
    counted = {*Columns.of(table).counts, *uncounted(table)}
    for place, row in enumerate(table.rows[:MOST_ROWS] if len(counted) > 1 else ()):
        found = times_in(row, counted)
        if found:
            del table.rows[place]
            for column in found.keys() - set(Columns.of(table).counts):
                head = table.headings[column]
                table.columns[column] = Heading(COUNT, path=tuple(place_of_heading(head) or Place(building=head)))
            table.columns = dict(sorted(table.columns.items()))
            for column in range(len(row.cells)):
                table.ends.cell(row.number, column, QUESTION, "multiplier")
            label = next(cell for cell in row.cells if cell).strip(" :")
            return Times(found, row.number, label, table.headings)
    return None


def uncounted(table: Table) -> list[int]:
    """Columns of whole numbers and blanks that are not understood, or taken for types: TYPE A | TYPE B."""
    fields = {column: heading.field for column, heading in table.columns.items()}
    loose = [c for c, head in enumerate(table.headings) if head and fields.get(c, "type") == "type"]
    return [
        c for c in loose if all(read_count_text(row.cell(c)).plain is not None for row in table.rows if row.cell(c))
    ]  # fmt: skip


def times_in(row: GridRow, counted: Collection[int]) -> dict[int, int]:
    """The multipliers of a row: a label, and whole numbers under headings of counts alone; none otherwise."""
    said = [(c, cell) for c, cell in enumerate(row.cells) if cell]
    if len(said) < 2 or not _LABEL.fullmatch(fold(compose(said[0][1])).strip(" :")):
        return {}
    numbers = {c: int(cell.strip("xX ×()")) for c, cell in said[1:] if cell.strip("xX ×()").isdecimal()}
    if len(numbers) < len(said) - 1 or len(numbers) < 2 or not numbers.keys() <= set(counted):
        return {}
    return {c: number for c, number in numbers.items() if 0 < number < 1_000}


def doubt_of_times(draft: Draft, times: Times, column: int, place: str) -> Doubt | None:
    """The doubt of a count whose heading, or the row below it, says how often it stands; None where neither does."""
    number = times.by.get(column, 1)
    if number == 1:
        times.alone.append(draft)
        return None
    written = f"{times.head(column)}: x {number}" if times.row else times.head(column)
    choices: dict[str, dict[str, Any]] = {MULTIPLY: {}, AS_LISTED: {}}
    return Doubt("multiplier", draft, place, written, (times.told,), choices, str(number), "times", times=times)
