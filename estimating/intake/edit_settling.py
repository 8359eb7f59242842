"""Questions that edits settle: the doubt of a cell that a person gave, and all doubts of a line that was set aside."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from estimating.core.kind_reading import kind_fields
from estimating.core.schedule_lines import LINE_FIELDS
from estimating.intake.asking import Asker
from estimating.intake.draft import Draft
from estimating.intake.questions import Question
from estimating.intake.touched import row_of

FIELDS = tuple(field.name for field in (*LINE_FIELDS, *kind_fields(None)))
ASIDE = {"excluded", "alternate"}  # a line is priced, set aside or an alternate, whatever else is asked of it
Place = Callable[[int, str | None], str]


def settle_edited(drafts: Sequence[Draft], asker: Asker, place: Place) -> None:
    """Takes out what is asked of cells that edits give on every line of their row, and of rows that are set aside."""
    rows: dict[str, list[int]] = {}
    for index in range(len(drafts)):
        rows.setdefault(row_of(place(index, None)), []).append(index)
    cells: set[str] = set()
    aside: set[str] = set()
    for row, indexes in rows.items():
        edited = set.intersection(*(drafts[index].edited for index in indexes))
        if edited & ASIDE:
            aside.add(row)
        elif edited:
            cells |= cells_given(edited, indexes[0], place)
    if not cells and not aside:
        return

    def gone(question: Question, key: str) -> bool:
        asked = [asker.lines[key].cell] if question.keys else list(question.cells)
        return bool(asked) and all(cell in cells or row_of(cell) in aside for cell in asked)

    asker.drop(gone)


def cells_given(edited: set[str], index: int, place: Place) -> set[str]:
    """The cells of a line whose every field an edit gives."""
    fields: dict[str, set[str]] = {}
    for name in FIELDS:
        fields.setdefault(place(index, name), set()).add(name)
    row = place(index, None)
    return {cell for cell, names in fields.items() if cell != row and names <= edited}
