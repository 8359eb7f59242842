"""Counts doubtful against others: repeated in another table, far above the rest, per unit, hidden, changes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.count_cells import MULTIPLIED, NO_COUNT
from estimating.intake.count_words import read_count_text
from estimating.intake.doubts import Doubt, Doubts
from estimating.intake.draft import Draft
from estimating.intake.joins import key_of
from estimating.intake.multipliers import per_of
from estimating.intake.row_kinds import (
    Columns,
)
from estimating.intake.sheets_state import SheetsReading
from estimating.intake.table_facts import where
from estimating.intake.table_questions import EACH_IS_ONE, LEAVE_OUT, ask_missing_columns
from estimating.intake.tables import Table
from rates.core.texts import counted

SET_ASIDE_LINES = "set_aside"
MUCH = 200
_SUMMARY = re.compile(
    r"\b(?:summary|recap|totals?|overview|zusammenstellung|übersicht|récap\w*|resumen)\b", re.IGNORECASE
)


def ask_uncounted(reading: SheetsReading, number: int, asker: Asker) -> None:
    """Lines of a table without counts that no other table counts either."""
    left = [draft for draft in reading.drafts if draft.table == number and "quantity" not in draft.values]
    table = reading.tables[number]
    if not left or len(reading.tables) == 1 or all("quantity" in draft.asked for draft in left):
        return
    said = ask_missing_columns(table, Columns.of(table), False, asker)
    if said == LEAVE_OUT:
        reading.leave_out(number)
    elif said == EACH_IS_ONE:
        for draft in left:
            draft.values["quantity"] = 1


def ask_hidden_rows(table: Table, drafts: Sequence[Draft], asker: Asker) -> None:
    """Lines in hidden rows are counted like the others, and asked about."""
    lines = {draft.row for draft in drafts}
    seen = [row.number for row in table.rows if row.hidden and row.number in lines]
    if seen:
        answer = asker.ask(
            "hidden_rows", BLOCKS_COSTING,
            f"{where(table)}{counted(len(seen), 'line')} in hidden rows, counted like the others. Right?",
            about=(table.fingerprint, *map(str, seen[:200])), choices=("as_read", SET_ASIDE_LINES),
            cells=[table.sheet.place(n) for n in seen],
        )  # fmt: skip
        for draft in drafts if answer == SET_ASIDE_LINES else ():
            if draft.row in seen:
                draft.values["excluded"] = {"reason": "in a hidden row"}


def set_hidden_aside(table: Table, drafts: Sequence[Draft], asker: Asker) -> None:
    """The lines of a hidden sheet are set aside, unless an answer says that they count."""
    name = table.sheet.name
    if not table.sheet.hidden or not drafts:
        return
    answer = asker.ask(
        "hidden_sheet_used", BLOCKS_COSTING,
        f"The hidden sheet {name!r} holds {counted(len(drafts), 'line')}, set aside. Right?",
        about=(table.fingerprint, name), choices=("leave_out", "use"), cells=(table.sheet.place(table.heading_row),),
    )  # fmt: skip
    for draft in drafts if answer != "use" else ():
        draft.values["excluded"] = {"reason": f"on the hidden sheet {name}"[:300]}


def find_changed(doubts: Sequence[Doubt], drafts: Sequence[Draft]) -> None:
    """The line above that a count such as +2 changes: of the same mark, place and size, else of the same mark alone."""
    for doubt in doubts:
        if doubt.code != "count_delta":
            continue
        at = next(place for place, draft in enumerate(drafts) if draft is doubt.draft)
        same = [d for d in drafts[:at] if key_of(d) == key_of(doubt.draft) and "quantity" in d.values]
        near = [d for d in same if d.values.get("elevation") == doubt.draft.values.get("elevation")]
        doubt.other = next(iter([*reversed(near), *reversed(same)]), None)
        if doubt.other is None:
            doubt.code, doubt.options, doubt.detail = "quantity_unreadable", NO_COUNT, ""


def ask_per(table: Table, drafts: Sequence[Draft], doubts: Doubts) -> None:
    """Counts whose heading says that they are per unit, room or building, which nothing over them multiplies.

    Beside counts by place the question offers their product: 2 per unit, 8 units on a level. Storeys that a line stands
    for settle only what is counted per floor.
    """
    column = table.column("quantity")
    head = table.headings[column] if column is not None and column < len(table.headings) else ""
    per = per_of(head)
    if not per:
        ask_per_place(table, drafts, doubts)
        return
    multiplied = {id(doubt.draft) for doubt in doubts.found if settles(doubt, per)}
    on_one = per == "floor" and names_storeys(table)
    each = {row.number: read_count_text(row.cell(column or 0)).plain for row in table.rows} if table.counts() else {}
    total = Counter[int]()
    for draft in drafts:
        total[draft.row] += draft.values.get("quantity") or 0
    apart = any(stated != total[row] for row, stated in each.items() if stated and total[row])
    for draft in drafts:
        count, stated = draft.values.get("quantity"), each.get(draft.row) if apart else None
        if id(draft) in multiplied or (draft.storeys and per == "floor") or not count:
            continue
        if on_one and draft.values.get("storey"):  # 2 per floor on level 3 are two
            continue
        options = {MULTIPLIED: {"quantity": count * stated}} if stated is not None else {}
        detail = f"{stated} each" if stated is not None else ""
        about = (head, str(draft.values.get("building", "")))
        place = table.place(draft.row, "quantity")
        doubts.note(Doubt("quantity_per", draft, place, head, about, options, detail, "times"))


def names_storeys(table: Table) -> bool:
    """Whether the cells of a column of storeys name them, so that a 3 there is no number of storeys."""
    column = table.column("storey")
    cells = [row.cell(column) for row in table.rows] if column is not None else []
    return any(cell and not cell.strip().isdecimal() for cell in cells)


def ask_per_place(table: Table, drafts: Sequence[Draft], doubts: Doubts) -> None:
    """Counts by place whose own headings say that they are per unit or room: QTY/UNIT L2."""
    heads = {
        c: table.headings[c]
        for c, _ in table.counts()
        if c < len(table.headings) and per_of(table.headings[c]) in ("unit", "room")
    }
    multiplied = {id(doubt.draft) for doubt in doubts.found if doubt.code == "multiplier"}
    for draft in drafts if heads else ():
        for column, head in heads.items():
            place = table.sheet.place(draft.row, column)
            if draft.places.get("quantity") == place and draft.values.get("quantity") and id(draft) not in multiplied:
                doubts.note(Doubt("quantity_per", draft, place, head, (head,), field="times"))


def settles(doubt: Doubt, per: str) -> bool:
    """Whether another question says how often a count stands that is for one of `per`."""
    return doubt.code == "multiplier" or (doubt.code == "typical_storeys" and per == "floor")


def ask_repeated(reading: SheetsReading, asker: Asker) -> None:
    """A table whose counts are those of the others added up, as a summary has them, or whose sheet says so."""
    totals: dict[int, Counter[str]] = {}
    for draft in reading.drafts:
        if isinstance(count := draft.values.get("quantity"), int):
            totals.setdefault(draft.table, Counter())[key_of(draft)] += count
    for number in sorted(totals, reverse=True) if len(totals) > 1 else ():
        mine = +totals[number]
        others = sum((counts for other, counts in totals.items() if other != number), Counter[str]())
        table = reading.tables[number]
        unsized = not Columns.of(table).sizes and all(mark in others for mark in mine)
        named = unsized or bool(_SUMMARY.search(table.sheet.name)) and table.sheet.name != reading.tables[0].sheet.name
        if not mine or not (named or all(others[mark] == count for mark, count in mine.items())):
            continue
        answer = asker.ask(
            "counted_again", BLOCKS_COSTING,
            f"{where(table)}The {counted(sum(mine.values()), 'opening')} from row {table.heading_row} on may be those "
            "of the other tables again. Do they count?",
            about=(table.fingerprint, str(number), *(f"{m}={n}" for m, n in sorted(mine.items())[:200])),
            choices=("leave_out", "count_too"), cells=[table.sheet.place(table.heading_row)],
        )  # fmt: skip
        if answer == "leave_out":
            reading.leave_out(number)
        return


def doubt_counts(reading: SheetsReading) -> None:
    """Counts far above all others of their table, as a year or a size in the wrong cell would be."""
    for number, table in enumerate(reading.tables):
        mine = [d for d in reading.drafts if d.table == number and isinstance(d.values.get("quantity"), int)]
        counts = sorted(draft.values["quantity"] for draft in mine)
        usual = counts[len(counts) // 2] if counts else 0
        for draft in mine:
            count = draft.values["quantity"]
            if count >= MUCH and count > 20 * max(usual, 1):
                place = table.place(draft.row, "quantity")
                reading.doubts.note(
                    Doubt("count_unlikely", draft, place, str(count), (), {"as_drawn": {}}, field="quantity")
                )


def ask_section_totals(reading: SheetsReading, asker: Asker) -> None:
    """Counts that headings between the lines state, held against the lines below them."""
    starts = [first for *_, first in reading.section_totals]
    for (table, place, stated, first), end in zip(reading.section_totals, [*starts[1:], None], strict=False):
        count = sum(n for d in reading.section_drafts[first:end] if isinstance(n := d.values.get("quantity", 0), int))
        if count != stated:
            asker.ask(
                "total_mismatch", BLOCKS_COSTING, f"{place} says {stated:,}, the lines below count {count:,}. Why?",
                about=(table.fingerprint, place, str(stated), str(count)), choices=("lines_are_right",),
                open_answer="an explanation", cells=(place,),
            )  # fmt: skip
