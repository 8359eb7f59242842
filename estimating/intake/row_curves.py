"""Diameters and radii of one row beside its width and height: what shape they tell, or the question that they leave."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from estimating.intake.cell_sizes import with_points
from estimating.intake.cells import blank, read_cell_length
from estimating.intake.draft import Draft
from estimating.intake.ends import QUESTION
from estimating.intake.line_answers import put_fields
from estimating.intake.row_shapes import doubt_of, nm_of
from estimating.intake.size_words import read_size_text
from rates.core.grid import GridRow

if TYPE_CHECKING:
    from estimating.intake.row_sizes import SizeReader

_RADII = re.compile(r"\bradi(?:us|i)\b|\brad\b|radius$|\bhalbmesser\b|\brayon\b|\bradio\b", re.IGNORECASE)
_RADIUS = re.compile(r"^\s*(?:r(?:ad(?:ius)?)?\b\.?|r(?=[0-9]))\s*[=:]?\s*", re.IGNORECASE)
_UNIT = re.compile(r"[(\[, ](mm|cm|m|in|ft)[)\]. ]*$", re.IGNORECASE)


def ask_around(reader: SizeReader, row: GridRow, draft: Draft) -> None:
    """A diameter beside a width and a height: all alike are a round opening, else the shape is asked about."""
    if "diameter" not in draft.values or not {"width", "height"} & set(draft.values):
        return
    sizes = {nm_of(draft.values, name) for name in ("width", "height", "diameter")}
    if len(sizes) == 1 and None not in sizes and "kind" not in draft.asked:
        put_fields(draft, {"shape": "round"})
        return
    column = reader.column_of("diameter")
    text = row.cell(column) if column is not None else str(draft.values["diameter"])
    reader.doubts.note(doubt_of(draft, ("round",), reader.place(row, column), text))
    if column is not None:
        reader.table.ends.cell(row.number, column, QUESTION, "shape_words")


def ask_radius(reader: SizeReader, row: GridRow, draft: Draft) -> None:
    """A radius in a cell of sizes, as in 36 x 60 R18, tells of an arch."""
    column = next((c for c, _ in reader.sized() if "radius" in roles_of(row.cell(c))), None) if draft.radius else None
    if column is not None:
        reader.doubts.note(doubt_of(draft, ("arch",), reader.place(row, column), row.cell(column)))
        reader.table.ends.cell(row.number, column, QUESTION, "shape_words")


def put_radius(reader: SizeReader, row: GridRow, draft: Draft, column: int) -> None:
    """The radius of a head from a column of its own; bare numbers in the unit of its heading, or of the sizes."""
    if blank(cell := row.cell(column)):
        return
    own = _UNIT.search(reader.heading(column))
    units = {reader.facts.units[c] for c, _ in reader.sized() if c in reader.facts.units}
    unit = own[1].lower() if own else next(iter(units)) if len(units) == 1 else ""
    reading = read_cell_length(with_points(_RADIUS.sub("", cell), reader.facts.comma), unit)
    draft.radius = "" if reading.code else reading.text


def names_radius(heading: str) -> bool:
    """Whether a heading is one of radii, which are no size of an opening by themselves."""
    return bool(_RADII.search(heading))


def roles_of(cell: str) -> set[str]:
    """What the dimensions of a size are of."""
    return {one.role for one in read_size_text(cell).dimensions}
