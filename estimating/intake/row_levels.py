"""Levels of sill and head of one row: facts of the line, which give its height where no other cell does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimating.intake.cell_sizes import LEVELS, read_dimension
from estimating.intake.draft import Draft
from estimating.intake.row_shapes import nm_of
from rates.core.exact import print_quantity
from rates.core.grid import GridRow
from rates.core.units import LENGTH_NM

if TYPE_CHECKING:
    from estimating.intake.row_sizes import SizeReader


NEAR = (
    4 * LENGTH_NM["in"]
)  # a rough opening is higher than its frame, and a sill has a slope (common practice, no source)


def put_between_levels(reader: SizeReader, row: GridRow, draft: Draft) -> None:
    """A height that only the levels of sill and head give: the one less the other. One that they deny is asked."""
    if len(reader.levels) < 2 or "height" in draft.asked:
        return
    readings = [
        read_dimension(row.cell(column), name, reader.facts.units.get(column, ""), reader.facts.comma).found.get(name)
        for name, column in ((name, reader.levels[name]) for name in LEVELS)
    ]
    sill, head = readings
    if sill is not None and head is not None and sill.nm is not None and head.nm is not None and head.nm > sill.nm:
        given = nm_of(draft.values, "height")
        if given is not None and abs(given - (head.nm - sill.nm)) > NEAR and "springline" not in draft.values:
            cells = [row.cell(reader.levels[name]) for name in reversed(LEVELS)]
            said = f"height {draft.values['height']}, head {cells[0]} less sill {cells[1]}"
            reader.doubt("words_beside_size", row, draft, reader.levels["head_height"], said)
        if "height" in draft.values:
            return
        draft.values["height"] = f"{print_quantity((head.nm - sill.nm) / 10**6, 6)} mm"
        draft.written["height"] = (
            f"head {row.cell(reader.levels['head_height'])} less sill {row.cell(reader.levels['sill_height'])}"
        )
        draft.places["height"] = reader.place(row, reader.levels["head_height"])
