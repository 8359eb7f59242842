"""Lines that stand for several: one for each of the marks that a cell names, one for each of its places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from estimating.intake.asking import Asker
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.expansion import storeys_of
from estimating.intake.multipliers import per_of
from estimating.intake.questions import Question
from estimating.intake.sheets_state import SheetsReading
from estimating.intake.tables import Table


def storeys_in(reading: SheetsReading, doubts: Doubts) -> None:
    """Storeys such as 2-5 in the cell of a storey: counted on each, or on all together."""
    per_floor = {number for number, table in enumerate(reading.tables) if counts_per_floor(table)}
    for draft in reading.drafts:
        draft.each_floor |= draft.table in per_floor and bool(storeys_of(str(draft.values.get("storey", ""))))
        if draft.each_floor and not draft.storeys and not storeys_of(str(draft.values.get("storey", ""))):
            place = reading.tables[draft.table].place(draft.row, "quantity")
            doubts.note(
                Doubt(
                    "count_words", draft, place, draft.written.get("quantity", ""), (), {"as_drawn": {}}, field="count"
                )
            )
        cell = str(draft.values.get("storey", ""))
        storeys = storeys_of(cell) if cell and not draft.storeys and not draft.in_all else None
        if storeys:
            draft.storeys = tuple(storeys)
            draft.written["storey"] = cell
            place = reading.tables[draft.table].place(draft.row, "storey")
            if draft.each_floor:
                continue
            doubts.note(Doubt("typical_storeys", draft, place, cell, field="storey"))


def counts_per_floor(table: Table) -> bool:
    """Whether the heading of the counts says that they are per floor: QTY/FLOOR."""
    column = table.column("quantity")
    return column is not None and column < len(table.headings) and per_of(table.headings[column]) == "floor"


def expand(drafts: Sequence[Draft], asker: Asker) -> list[Draft]:
    """Each line once for each mark and place that it stands for; questions name the lines where they come to stand."""
    made: list[Draft] = []
    came: list[range] = []
    for draft in drafts:
        before = len(made)
        made.extend(() if draft.dropped else copies(draft))
        came.append(range(before, len(made)))
    if all(len(places) == 1 for places in came):
        return list(drafts)
    asker.questions[:] = [spread(question, came) for question in asker.questions]
    return made


def spread(question: Question, came: Sequence[range]) -> Question:
    """A question with the lines that its own lines have become; the answer of each is kept by the same key."""
    at = [(line, place) for place, old in enumerate(question.lines) if old < len(came) for line in came[old]]
    keys = tuple(question.keys[place] for _, place in at) if question.keys else ()
    return replace(question, lines=tuple(line for line, _ in at), keys=keys)


def copies(draft: Draft) -> list[Draft]:
    """The line, or one for each mark and place of it."""
    marks: Sequence[str] = draft.several or (draft.values.get("mark", ""),)
    storeys: Sequence[str | None] = draft.storeys or (None,)
    field, names = draft.at
    others: Sequence[str | None] = names or (None,)
    if len(marks) * len(storeys) * len(others) == 1 and not draft.again:
        return [draft]
    found = []
    for mark in marks:
        for storey, other in product(storeys, others):
            values = {**draft.values, "mark": mark} | ({"storey": storey} if storey is not None else {})
            values |= {field: other} if other is not None else {}
            found.append(
                replace(
                    draft, values=values, written=dict(draft.written), places=dict(draft.places), asked=set(draft.asked)
                )
            )
    repeated = [(one, name, place) for name, place in draft.again for one in found]
    found += [
        replace(
            one,
            values={**one.values, name: place},
            written=dict(one.written),
            places=dict(one.places),
            asked=set(one.asked),
            identity="",
        )
        for one, name, place in repeated
    ]
    return found
