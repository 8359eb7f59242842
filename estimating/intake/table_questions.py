"""What is asked once for a table: its columns, hidden ones, the unit of bare numbers, the comma, the basis of sizes.

A fact of a table is asked by its headings: it holds in later files while they stand, and what the file itself says of
it is not asked.
"""

from __future__ import annotations

import re

from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.column_contents import bears_out, cells_of, head_of, is_doubtful
from estimating.intake.columns import known_paths
from estimating.intake.counted_columns import counts_at_place, factors_of, looks_counted, numbers_alone
from estimating.intake.ends import FACT, SET_ASIDE
from estimating.intake.group_totals import totals_of_groups
from estimating.intake.headings import COUNT, Heading, understand
from estimating.intake.place_headings import Place, place_of_heading
from estimating.intake.row_kinds import Columns
from estimating.intake.row_labels import read_row_label
from estimating.intake.scope_words import read_words
from estimating.intake.table_facts import lengths_of, where
from estimating.intake.tables import Table
from rates.core.grid import column_letters, column_number

WITHOUT_PATH = (
    "count",
    "type",
    "size",
    "shape",
    "building",
    "phase",
    "scope",
    "status",
    "alternate",
    "sill_height",
    "head_height",
    "unused",
    "property",
    "times",
)
CARRYING = frozenset({"mark", "quantity", "width", "height", "size", "diameter"})
ADDED_UP = "added_up"  # columns of numbers that are parts of one count
MULTIPLIES = "multiplies"  # a column of numbers that says how often the count of its line stands
LEAVE_OUT = "leave_out_table"
EACH_IS_ONE = "each_line_is_one"
_PAIR = re.compile(r"([A-Z]{1,3})\s*=\s*([a-z_.]+?)(?:_(mm|cm|m|ft_in|in|ft))?\s*", re.ASCII)
_OTHER_SIZE = re.compile(
    r"\b(?:frame|unit|glass|sash|leaf|panel|masonry|brick|daylight|dlo|nominal|call|trim|cut|order|rahmen|flügel|vantail|hoja)\b",
    re.IGNORECASE,
)
_ONE_EACH = re.compile(r"\b(?:no|nr|num|number|id|tag)\b|#|n°|nº", re.IGNORECASE)


def settle_columns(table: Table, known: bool, asker: Asker) -> None:
    """The columns of a table, asked about where a heading is two-way and what stands below does not settle it."""
    settle_hidden(table, asker)
    doubtful = {} if known else {c: h for c, h in table.columns.items() if is_doubtful(table, c, h)}
    if doubtful:
        ask_columns(table, doubtful, asker)
    end_headings(table)
    ask_rivals(table, asker)
    if not known and (counted := counts_unused(table)):
        ask_unused(table, counted, asker)
    named = [c for c in range(len(table.headings)) if table.headings[c] and c not in table.columns]
    unused = [
        f"{column_letters(c)} {head_of(table, c)[:40]!r}" for c in sorted([*named, *without_heading(table)])
        if c not in table.sheet.hidden_columns
    ]  # fmt: skip
    if unused:
        sentence = f"{where(table)}These columns are not used: {', '.join(unused)}."
        asker.tell("columns_not_used", sentence, about=(table.fingerprint,))


def ask_rivals(table: Table, asker: Asker) -> None:
    """Two columns under one heading whose cells differ: which of them is it?"""
    for column, head in enumerate(table.headings):
        free = column not in table.columns and column not in table.sheet.hidden_columns
        meant = understand(head) if head and free else None
        used = table.column(meant.field) if meant is not None and meant.field in CARRYING else None
        if meant is None or used is None or head.strip().lower() != head_of(table, used).strip().lower():
            continue
        cells = [
            table.sheet.place(row.number, column) for row in table.rows
            if row.cell(column) and row.cell(column) != row.cell(used)
        ]  # fmt: skip
        if not cells:
            continue
        letters = column_letters(used), column_letters(column)
        answer = asker.ask(
            "columns", BLOCKS_COSTING,
            f"{where(table)}Columns {letters[0]} and {letters[1]} are both {head[:40]!r} and differ."
            f" Column {letters[0]} was taken. Is that right?",
            about=(table.fingerprint, *letters), choices=("confirm",),
            open_answer=f"columns such as {letters[1]}={meant.field}, {letters[0]}=unused", cells=cells,
        )  # fmt: skip
        if answer and answer != "confirm":
            change_columns(table, answer, asker)


def counts_unused(table: Table) -> list[int]:
    """Columns that are not understood and hold whole numbers or sizes, as counts and sizes of openings would be."""
    seen = [
        c
        for c in range(len(table.headings))
        if table.headings[c] and c not in table.columns and c not in table.sheet.hidden_columns
    ]
    factors = factors_of(table)
    for column in factors:
        table.columns.pop(column, None)
    rough = any(heading.basis == "rough" for _, heading in lengths_of(table))
    other = [c for c in seen if rough and _OTHER_SIZE.search(table.headings[c])]
    other += totals_of_groups(table)
    counted = [c for c in seen if c not in factors and c not in other and looks_counted(table, c)]
    nameless = [c for c in without_heading(table) if numbers_alone(table, c)]
    return sorted({*counted, *nameless, *counts_at_place(table)} - table.sheet.hidden_columns)


def without_heading(table: Table) -> list[int]:
    """The columns that hold cells of lines under no heading."""
    free = [c for c in range(table.sheet.width) if not head_of(table, c) and c not in table.columns]
    return [c for c in free if c not in table.sheet.hidden_columns and cells_of(table, c)]


def ask_unused(table: Table, columns: list[int], asker: Asker) -> None:
    """What columns of whole numbers or sizes hold whose headings are not understood."""
    said = ", ".join(f"{column_letters(c)} {head_of(table, c)[:40]!r}" for c in columns)
    uncounted = table.column("quantity") is None and not table.counts() and len(columns) > 1
    parts = all(bears_out(table, c, "quantity") and not read_words(head_of(table, c)).of("scope") for c in columns)
    counted = table.column("quantity") is not None or bool(table.counts())
    added = (ADDED_UP,) if uncounted and parts else (MULTIPLIES,) if counted and len(columns) == 1 and parts else ()
    answer = asker.ask(
        "columns_of_numbers", BLOCKS_COSTING,
        f"{where(table)}These columns hold numbers or sizes and are not understood: {said}. What do they hold?",
        about=(table.fingerprint, *map(str, columns)), choices=("not_openings", *added),
        open_answer="columns such as D=quantity, E=width_mm, F=count (at the place that its heading names), G=times",
        cells=[table.sheet.place(table.heading_row, c) for c in columns],
    )  # fmt: skip
    if answer == ADDED_UP:
        change_columns(table, ", ".join(f"{column_letters(c)}=count" for c in columns), asker)
    elif answer == MULTIPLIES:
        change_columns(table, f"{column_letters(columns[0])}=times", asker)
    elif answer and answer != "not_openings":
        change_columns(table, answer, asker)


def end_headings(table: Table) -> None:
    """The heading rows are facts of the table."""
    for row in range(table.first_row, table.heading_row + 1):
        table.ends.row(row, FACT, "heading")


def ask_columns(table: Table, doubtful: dict[int, Heading], asker: Asker) -> None:
    """Which field the doubtful columns hold."""
    said = ", ".join(
        f"{column_letters(c)} {table.headings[c][:30]!r} = {name_of(h)}"
        + (f" (or {', '.join(others_of(h))})" if others_of(h) else "")
        for c, h in sorted(doubtful.items())
    )
    carrying = any(heading.field in CARRYING for heading in doubtful.values())
    answer = asker.ask(
        "columns", BLOCKS_COSTING if carrying else BLOCKS_ISSUE,
        f"{where(table)}These headings can be read in several ways; they are taken as: {said}. Is that right?",
        about=(table.fingerprint,), choices=("confirm",), open_answer="columns such as D=width_mm, E=unused",
        cells=(table.sheet.place(table.heading_row),),
    )  # fmt: skip
    if answer and answer != "confirm":
        change_columns(table, answer, asker)


def others_of(heading: Heading) -> list[str]:
    """What else a heading may mean, each once."""
    return [choice for choice in dict.fromkeys(heading.choices[1:4]) if choice not in (heading.field, name_of(heading))]


def name_of(heading: Heading) -> str:
    """A meaning as it is shown and can be answered: width_mm, count on North."""
    if heading.field == COUNT:
        return f"count on {', '.join(part for part in heading.path if part)}"
    return f"{heading.field}_{heading.unit}" if heading.unit else heading.field


def change_columns(table: Table, answer: str, asker: Asker) -> None:
    """The columns as an answer gives them: D=width_mm, E=unused; those not named stay."""
    changed = dict(table.columns)
    width = max(len(table.headings), table.sheet.width)
    for part in answer.split(","):
        match = _PAIR.fullmatch(part.strip())
        column = column_number(match[1]) if match else -1
        field = match[2] if match else ""
        paths = {**{name: (name,) for name in WITHOUT_PATH}, **known_paths()}
        if match is None or column >= width or field not in paths:
            asker.refuse("columns", (), f"{part.strip()[:40]!r} is not a column and a field such as D=width_mm")
            return
        changed = {c: h for c, h in changed.items() if c != column and (h.field != field or field in ("note", COUNT))}
        if field == COUNT:
            head = table.headings[column] if column < len(table.headings) else ""
            changed[column] = Heading(COUNT, path=tuple(place_of_heading(head) or Place()))
        elif field != "unused":
            changed[column] = Heading(field, match[3] or "", "", paths[field])
    counted = any(heading.field == COUNT for heading in changed.values())
    if counted and not table.counts():
        for column, heading in changed.items():  # the first of several counts was taken for the only one
            head = table.headings[column] if column < len(table.headings) else ""
            if heading.field == "quantity" and not read_row_label(head).kind:
                changed[column] = Heading(COUNT, path=tuple(place_of_heading(head) or Place()))
    table.columns = dict(sorted(changed.items()))


def settle_hidden(table: Table, asker: Asker) -> None:
    """Hidden columns are left out, unless one alone holds what a line can't do without."""
    hidden = [c for c in sorted(table.sheet.hidden_columns) if c < len(table.headings) and table.headings[c]]
    for column in hidden:
        table.columns.pop(column, None)
    have = {heading.field for heading in table.columns.values()}
    for column in hidden:
        meant = understand(table.headings[column])
        cell = table.sheet.place(table.heading_row, column)
        if meant is None or meant.field in have or meant.field not in ("mark", "quantity", "width", "height", "size"):
            asker.tell(
                "hidden_column", f"The hidden column {cell} {table.headings[column][:40]!r} is left out.",
                about=(table.fingerprint, str(column)), cells=(cell,),
            )  # fmt: skip
            table.ends.column(column, SET_ASIDE, "hidden column")
            continue
        answer = asker.ask(
            "hidden_column_used", BLOCKS_ISSUE,
            f"Only the hidden column {cell} {table.headings[column][:40]!r} gives the {meant.field}. Is it to be used?",
            about=(table.fingerprint, str(column)), choices=("use", "leave_out"), cells=(cell,),
        )  # fmt: skip
        if answer != "leave_out":
            table.columns[column] = meant
            have.add(meant.field)


def ask_missing_columns(table: Table, columns: Columns, counted_elsewhere: bool, asker: Asker) -> str:
    """What no column gives is asked once: blank where nothing is missing, LEAVE_OUT or EACH_IS_ONE as answered."""
    place = (table.sheet.place(table.heading_row),)
    if columns.mark is None:
        answer = asker.ask(
            "no_column", BLOCKS_COSTING,
            f"{where(table)}No column gives the mark. Name it, or leave the table out.",
            about=(table.fingerprint, "mark"), choices=(LEAVE_OUT,), open_answer="columns such as A=mark", cells=place,
        )  # fmt: skip
        if answer == LEAVE_OUT:
            return LEAVE_OUT
        if answer:
            change_columns(table, answer, asker)
    asked = any(question.code == "columns_of_numbers" and question.open for question in asker.questions)
    if columns.quantity is not None or columns.counts or counted_elsewhere or asked:
        return ""
    heading = table.headings[columns.mark] if columns.mark is not None and columns.mark < len(table.headings) else ""
    one_each = bool(_ONE_EACH.search(heading)) and bears_out(table, columns.mark or 0, "distinct")
    answer = asker.ask(
        "no_quantity_column", BLOCKS_ISSUE if one_each else BLOCKS_COSTING,
        f"{where(table)}No column gives the quantity. Is each line one opening? If not, name the column.",
        about=(table.fingerprint,), choices=(EACH_IS_ONE, LEAVE_OUT),
        open_answer="columns such as C=quantity, or C=count, D=count for several", cells=place,
    )  # fmt: skip
    if answer and answer not in (EACH_IS_ONE, LEAVE_OUT):
        change_columns(table, answer, asker)
        return ""
    return answer or (EACH_IS_ONE if one_each else "")


def tell_marked(table: Table, marks: dict[str, str], asker: Asker) -> None:
    """Formula cells, whose stored value was read."""
    columns = set(table.columns)
    cells = [
        table.sheet.place(row.number, column) for row in table.rows for column, mark in row.marked.items()
        if mark in marks and column in columns
    ]  # fmt: skip
    if cells:
        sentence = f"{where(table)}{len(cells):,} cells are formulas; the value stored in the file was read."
        asker.tell("formula_cells", sentence, about=(table.fingerprint,), cells=cells)
