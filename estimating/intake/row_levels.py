"""Levels of sill and head of one row: facts of the line, which give its height where no other cell does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimating.intake.cell_sizes import LEVELS, read_dimension
from estimating.intake.draft import Draft
from rates.core.exact import print_quantity
from rates.core.grid import GridRow

if TYPE_CHECKING:
    from estimating.intake.row_sizes import SizeReader


def put_between_levels(reader: SizeReader, row: GridRow, draft: Draft) -> None:
    """A height that only the levels of sill and head give: the one less the other."""
    if "height" in draft.values or len(reader.levels) < 2 or "height" in draft.asked:
        return
    readings = [
        read_dimension(row.cell(column), name, reader.facts.units.get(column, ""), reader.facts.comma).found.get(name)
        for name, column in ((name, reader.levels[name]) for name in LEVELS)
    ]
    sill, head = readings
    if sill is not None and head is not None and sill.nm is not None and head.nm is not None and head.nm > sill.nm:
        draft.values["height"] = f"{print_quantity((head.nm - sill.nm) / 10**6, 6)} mm"
        draft.written["height"] = (
            f"head {row.cell(reader.levels['head_height'])} less sill {row.cell(reader.levels['sill_height'])}"
        )
        draft.places["height"] = reader.place(row, reader.levels["head_height"])
