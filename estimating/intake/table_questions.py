"""What is asked once for a table: its columns, its hidden columns, the unit of bare numbers, the basis of its sizes."""

from __future__ import annotations

import re

from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cells import read_cell_length, read_cell_size
from estimating.intake.columns import known_paths
from estimating.intake.grid import column_letters, column_number
from estimating.intake.tables import Table
from estimating.intake.vocabulary import Heading, understand
from rates.core.problems import Unreadable
from rates.core.units import read_length

ASKED_UNITS = ("in", "ft", "mm", "cm", "m", "ft_in")
LENGTH_FIELDS = ("width", "height", "diameter", "springline", "rise", "treated_depth", "height_above_grade", "size")
_PAIR = re.compile(r"([A-Z]{1,3})\s*=\s*([a-z_.]+?)(?:_(mm|cm|m|ft_in|in|ft))?\s*", re.ASCII)


def settle_columns(table: Table, known: bool, exact: bool, asker: Asker) -> None:
    """The columns of a table confirmed, changed, or asked about; hidden and unused ones are told."""
    settle_hidden(table, asker)
    if not known and not exact:
        said = ", ".join(
            f"{column_letters(c)} {table.headings[c][:30]!r} = {name_of(h)}" for c, h in sorted(table.columns.items())
        )
        answer = asker.ask(
            "columns", BLOCKS_ISSUE, f"{where(table)}The columns are read as: {said}. Is that right?",
            about=(table.fingerprint,), choices=("confirm",), open_answer="columns such as D=width_mm, E=unused",
            cells=(table.sheet.place(table.heading_row),),
        )  # fmt: skip
        if answer and answer != "confirm":
            change_columns(table, answer, asker)
    unused = [
        f"{column_letters(c)} {table.headings[c][:40]!r}" for c in range(len(table.headings))
        if table.headings[c] and c not in table.columns and c not in table.sheet.hidden_columns
    ]  # fmt: skip
    if unused:
        asker.tell(
            "columns_not_used",
            f"{where(table)}These columns are not used: {', '.join(unused)}.",
            about=(table.fingerprint,),
        )


def where(table: Table) -> str:
    """The sheet's name as a sentence begins with it."""
    return f"Sheet {table.sheet.name!r}: " if table.sheet.name else ""


def name_of(heading: Heading) -> str:
    """A meaning as it is shown and can be answered: width_mm, elevation North."""
    if heading.field == "elevation_count":
        return f"count on {heading.path[0]}"
    return f"{heading.field}_{heading.unit}" if heading.unit else heading.field


def change_columns(table: Table, answer: str, asker: Asker) -> None:
    """The columns as an answer gives them: D=width_mm, E=unused; those not named stay."""
    changed = dict(table.columns)
    for part in answer.split(","):
        match = _PAIR.fullmatch(part.strip())
        column = column_number(match[1]) if match else -1
        field = match[2] if match else ""
        paths = {**known_paths(), "type": ("type",)}
        if match is None or column >= len(table.headings) or (field not in paths and field != "unused"):
            asker.refuse("columns", (), f"{part.strip()[:40]!r} is not a column and a field such as D=width_mm")
            return
        changed = {c: h for c, h in changed.items() if c != column and h.field != field}
        if field != "unused":
            changed[column] = Heading(field, match[3] or "", "", paths[field])
    table.columns = changed


def settle_hidden(table: Table, asker: Asker) -> None:
    """Hidden columns are left out, unless one alone holds what a line can't do without."""
    hidden = [c for c in sorted(table.sheet.hidden_columns) if c < len(table.headings) and table.headings[c]]
    have = {heading.field for heading in table.columns.values()}
    for column in hidden:
        meant = understand(table.headings[column])
        cell = table.sheet.place(table.heading_row, column)
        if meant is None or meant.field in have or meant.field not in ("mark", "quantity", "width", "height", "size"):
            asker.tell(
                "hidden_column", f"The hidden column {cell} {table.headings[column][:40]!r} is left out.",
                about=(table.fingerprint, str(column)), cells=(cell,),
            )  # fmt: skip
            continue
        answer = asker.ask(
            "hidden_column_used", BLOCKS_ISSUE,
            f"Only the hidden column {cell} {table.headings[column][:40]!r} gives the {meant.field}. Is it to be used?",
            about=(table.fingerprint, str(column)), choices=("use", "leave_out"), cells=(cell,),
        )  # fmt: skip
        if answer != "leave_out":
            table.columns[column] = meant
            have.add(meant.field)


def settle_units(table: Table, asker: Asker) -> dict[int, str]:
    """Column -> unit of its bare numbers: by its heading, by the sheet's declaration, or as answered."""
    declared = table.unit
    units: dict[int, str] = {}
    for column, heading in table.columns.items():
        if heading.field not in LENGTH_FIELDS:
            continue
        unit = heading.unit or (declared if declared else "")
        if unit:
            units[column] = unit
            continue
        loose = [row for row in table.rows if row.cell(column) and undeclared(row.cell(column), heading.field)]
        if not loose:
            continue
        first = loose[0].cell(column)
        sentence = (
            f"{where(table)}In which unit is the column {table.headings[column][:40]!r}: its cell says {first[:20]!r}."
        )
        answer = asker.ask(
            "unit_unknown", BLOCKS_COSTING, sentence, about=(table.fingerprint, str(column)), choices=ASKED_UNITS,
            cells=[table.sheet.place(row.number, column) for row in loose],
        )  # fmt: skip
        if answer:
            units[column] = answer
    return units


def undeclared(cell: str, field: str) -> bool:
    """Whether a cell can't be read for want of a declared unit or shorthand."""
    readings = read_cell_size(cell, "") if field == "size" else (read_cell_length(cell, ""),)
    return any(reading.code in ("unit_missing", "ambiguous") and not reading.could_be for reading in readings)


def settle_basis(table: Table, asker: Asker) -> str:
    """What is to be added to width and height that are not rough sizes: blank for nothing."""
    bases = {heading.basis for heading in table.columns.values() if heading.basis} - {"rough"}
    if not bases:
        return ""
    basis = sorted(bases)[0]
    cells = [table.sheet.place(table.heading_row, c) for c, h in table.columns.items() if h.basis == basis]
    answer = asker.ask(
        "size_basis", BLOCKS_ISSUE,
        f"{where(table)}The sizes are {basis} sizes; the rough opening is treated. What is to be added to them?",
        about=(table.fingerprint, basis), choices=("nothing",), open_answer="a length such as 1/2 in", cells=cells,
    )  # fmt: skip
    if not answer or answer == "nothing":
        return ""
    try:
        read_length(answer)
    except Unreadable as why:
        asker.refuse("size_basis", (), why.detail)
        return ""
    return answer


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
