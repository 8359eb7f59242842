"""Sizes and counts that stand apart: a mark's size given once, in another row or table, and its counts elsewhere.

One mark has one size, so a line without one takes the only size that the file gives for its mark; a table of sizes
whose marks are counted in another table adds no openings of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from estimating.core.schedule_lines import mark_key
from estimating.intake.asking import Asker
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.line_answers import SET_ASIDE
from rates.core.texts import counted

SIZE = ("shape", "width", "height", "diameter", "springline", "rise", "points")
SIDES = SIZE[1:]  # of these, one that a row gives itself is never completed from another row
SHARED = (*SIZE, "kind", "sides", "treated_depth", "substrate", "sill")


def key_of(draft: Draft) -> str:
    """The mark that a line is joined by."""
    return mark_key(str(draft.values.get("mark", "")))


def join_tables(drafts: list[Draft], uncounted: Sequence[int], asker: Asker) -> set[int]:
    """The tables without counts whose marks are all counted in others; their lines are taken out of `drafts`."""
    gone: set[int] = set()
    for number in uncounted:
        mine = [draft for draft in drafts if draft.table == number]
        counted_marks = {key_of(draft) for draft in drafts if draft.table not in uncounted}
        if not mine or not {key_of(draft) for draft in mine} & counted_marks:
            continue
        sizes = {key_of(draft): draft for draft in mine}
        for draft in drafts:
            if draft.table not in uncounted and (found := sizes.get(key_of(draft))) is not None:
                take_size(draft, found)
                draft.size = draft.size or found.size
        kept = [draft for draft in mine if key_of(draft) not in counted_marks]
        drafts[:] = [draft for draft in drafts if draft.table != number] + kept
        gone.add(number)
        told = f"The sizes of {counted(len(mine) - len(kept), 'mark')} stand in one table and their counts in another."
        asker.tell("sizes_and_counts_joined", told, about=(str(number),))
    return gone


def take_size(draft: Draft, model: Draft) -> None:
    """The size and what else the mark's own row says, where the line does not say it."""
    if not draft.wants and any(name in draft.values for name in ("width", "diameter", "points")):
        return
    for name in SHARED:
        if name in model.values and (name not in draft.values or name == "kind"):
            draft.values[name] = model.values[name]
            draft.written[name] = f"as {model.values.get('mark', '')} above"
    draft.wants = ()
    draft.asked -= set(SIZE)


def fill_sizes(drafts: Sequence[Draft], doubts: Doubts) -> None:
    """The only size of its mark for each line without one; a doubt where there is none, or more than one."""
    sized: dict[str, list[Draft]] = {}
    for draft in drafts:
        if not draft.wants and not draft.asked & set(SIZE) and key_of(draft):
            sized.setdefault(key_of(draft), []).append(draft)
    for draft in drafts:
        if not draft.wants:
            continue
        models = sized.get(key_of(draft), []) if not set(SIDES) & draft.values.keys() else []
        if len({size_of(model) for model in models}) == 1:
            take_size(draft, models[0])
            continue
        reason = {SET_ASIDE: {"excluded": {"reason": "size unknown"}}}
        name = "size" if len(draft.wants) > 1 else draft.wants[0]
        doubts.note(
            Doubt(
                "size_unknown", draft, draft.want_place, "", (), reason, f"no {name.replace('_', ' ')} is given", name
            )
        )
        draft.asked.update(draft.wants)


def size_of(draft: Draft) -> tuple[Any, ...]:
    """The dimensions of a line."""
    return tuple(str(draft.values.get(name, "")) for name in SIZE)
