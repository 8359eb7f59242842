"""The question whether counts are multiplied: what multiplies them stands once, with the openings of each answer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from estimating.intake.doubts import MOST_NAMED, Doubt
from estimating.intake.draft import Draft
from rates.core.texts import counted


def ask_multiplied(doubts: Sequence[Doubt]) -> str:
    """The question about lines whose counts a row, headings or words above them multiply."""
    each, total = openings_of(doubts)
    multiplied = f" ({counted(each, 'opening')} when multiplied)" if each else ""
    listed = f" ({counted(total, 'opening')})" if total else ""
    return f"{said_by(doubts)}. Are the counts for one of each{multiplied}, or already the totals{listed}?"


def said_by(doubts: Sequence[Doubt]) -> str:
    """Where it stands that counts are multiplied, and what stands there."""
    times = doubts[0].times
    if times is not None and times.row:
        sheets = dict.fromkeys(doubt.cell.rpartition("!")[0] for doubt in doubts)
        of = f" of {named(f'sheet {sheet!r}' for sheet in sheets)}" if all(sheets) else ""
        return f"Row {times.row}{of}, {times.told}"
    cells = list(dict.fromkeys(doubt.cell for doubt in doubts))
    told = times.told if times is not None else repr(doubts[0].written[:60])
    several = times is not None and len(times.by) > 1
    where = f" ({named(cells)})" if cells != [doubts[0].written] else ""
    return f"{told}{where} {'stand' if several else 'stands'} over {counted(len(doubts), 'line')}"


def named(texts: Iterable[str]) -> str:
    """A few texts, and how many more there are."""
    found = list(texts)
    more = f" and {len(found) - MOST_NAMED:,} more" if len(found) > MOST_NAMED else ""
    return ", ".join(found[:MOST_NAMED]) + more


def openings_of(doubts: Sequence[Doubt]) -> tuple[int, int]:
    """The openings of the lines and of those beside them when multiplied, and as listed.

    Two zeros where a line stands for several, which other answers decide on.
    """
    alone = {id(draft): draft for doubt in doubts if doubt.times for draft in doubt.times.alone}.values()
    drafts = [doubt.draft for doubt in doubts]
    if any(draft.storeys or draft.several or draft.at[1] or draft.again for draft in (*drafts, *alone)):
        return 0, 0
    beside = sum(count_of(draft) for draft in alone)
    each = sum(count_of(doubt.draft) * int(doubt.detail) for doubt in doubts)
    return each + beside, sum(map(count_of, drafts)) + beside


def count_of(draft: Draft) -> int:
    """A line's count; none where it has none or is out of the price."""
    count = draft.values.get("quantity")
    return count if isinstance(count, int) and not draft.dropped and "excluded" not in draft.values else 0
