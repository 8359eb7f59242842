"""A table whose headings are not understood: the columns that its contents look like, offered as an answer."""

from __future__ import annotations

from collections.abc import Sequence

from estimating.intake.asking import BLOCKS_COSTING, Asker
from estimating.intake.column_contents import TESTS, bears_out, cells_of, share
from estimating.intake.ends import QUESTION
from estimating.intake.headings import Heading, is_value, understand
from estimating.intake.table_questions import change_columns
from estimating.intake.tables import Known, Table
from rates.core.grid import GridRow, Sheet, column_letters

LEAST_CELLS, LEAST_ROWS = 3, 2
MOST_LOOKED = 200
ENOUGH = 60


def guess_table(sheet: Sheet, known: Known) -> Table | None:
    """The table of a sheet in which no heading is understood; None where it has no rows of values."""
    rows = [row for row in sheet.rows if row.filled >= LEAST_CELLS and any(is_value(cell) for cell in row.cells)]
    if len(rows) < LEAST_ROWS:
        return None
    at = sheet.rows.index(rows[0])
    above = next((row for row in reversed(sheet.rows[:at]) if row.filled >= LEAST_CELLS), None)
    headed = above is not None and not any(is_value(cell) for cell in above.cells)
    headings = list(above.cells) if headed and above is not None else [""] * len(rows[0].cells)
    number = above.number if headed and above is not None else rows[0].number
    table = Table(sheet, number, number, headings, {}, rows=list(sheet.rows[at:]))
    if not headed:
        table.first_row, table.heading_row = number, number - 1
    if table.fingerprint in known and any(headings):
        table.columns = dict(known[table.fingerprint])
    else:
        table.guessed = True
        said = {c: understand(heading) for c, heading in enumerate(headings) if heading}
        guessed = guess_columns(rows[:MOST_LOOKED])
        table.columns = {c: h for c, h in guessed.items() if may_be(said.get(c), h.field)}
    return table


def may_be(said: Heading | None, field: str) -> bool:
    """Whether a heading, where it is understood, may mean the field that its cells look like: LEVEL is no count."""
    return said is None or field in (said.field, *said.choices)


def goes_on(sheet: Sheet, before: Sequence[Table]) -> Table | None:
    """The table of a sheet without headings whose cells bear out the columns of the table before it."""
    if not before or sheet.name == before[0].sheet.name:
        return None
    last = before[0]
    rows = [row for row in sheet.rows if row.filled >= LEAST_CELLS]
    table = Table(
        sheet,
        rows[0].number if rows else 1,
        (rows[0].number if rows else 1) - 1,
        list(last.headings),
        dict(last.columns),
        rows=list(sheet.rows),
    )
    carrying = [
        (c, h.field) for c, h in last.columns.items() if h.field in ("mark", "quantity", "width", "height", "size")
    ]
    if (
        not rows
        or len(carrying) < 3
        or not all(cells_of(table, c) and bears_out(table, c, name) for c, name in carrying)
    ):
        return None
    return table


def guess_columns(rows: Sequence[GridRow]) -> dict[int, Heading]:
    """What the cells of each column look like: a size, a mark, a count, then two numbers as width and height."""
    width = max(len(row.cells) for row in rows)
    cells = {column: [row.cell(column) for row in rows if row.cell(column)] for column in range(width)}
    found: dict[int, str] = {}

    def take(name: str, column: int | None) -> None:
        if column is not None:
            found[column] = name

    def fits(name: str) -> list[int]:
        return [c for c, texts in cells.items() if c not in found and texts and share(texts, TESTS[name]) >= ENOUGH]

    sizes = [
        c for c in fits("size") if share(cells[c], lambda text: any(sign in text.lower() for sign in "x×")) >= ENOUGH
    ]
    take("size", next(iter(sizes), None))
    marks = [c for c in fits("mark") if share(cells[c], lambda text: text[:1].isalpha()) >= ENOUGH]
    take("mark", next(iter(marks), None))
    small = [
        c for c in fits("quantity") if all(text.isascii() and text.isdigit() and int(text) < 100 for text in cells[c])
    ]
    take("quantity", next(iter(small), None))
    lengths = list(fits("width"))
    if not sizes and len(lengths) >= 2:
        take("width", lengths[0])
        take("height", lengths[1])
    if "mark" not in found.values():
        take("mark", next(iter(fits("mark")), None))
    return {column: Heading(name, "", "", (name,), sure=False) for column, name in sorted(found.items())}


def ask_guess(table: Table, asker: Asker) -> str | None:
    """The columns of a table whose headings are not understood, what they look like offered first."""
    shown = [
        f"{column_letters(c)} {heading[:30]!r}: {next((row.cell(c) for row in table.rows if row.cell(c)), '')[:20]!r}"
        for c, heading in enumerate(table.headings)
    ]
    guess = ", ".join(f"{column_letters(c)}={heading.field}" for c, heading in table.columns.items())
    return asker.ask(
        "columns_unknown", BLOCKS_COSTING,
        f"The headings of this table are not understood: {'; '.join(shown)[:1500]}. Which column holds what?",
        about=(table.fingerprint, str(table.first_row)), choices=(guess,) if guess else (),
        open_answer="columns such as A=mark, B=quantity, C=width_mm, D=height_mm",
        cells=(table.sheet.place(table.heading_row or 1),),
    )  # fmt: skip


def settle_guess(table: Table, asker: Asker) -> bool:
    """Whether the columns of a table whose headings are not understood are answered; its rows wait until they are."""
    answer = ask_guess(table, asker)
    table.columns = {}
    if answer:
        change_columns(table, answer, asker)
        if table.columns:
            return True
    for row in table.rows:
        table.ends.row(row.number, QUESTION, "columns_unknown")
    return False
