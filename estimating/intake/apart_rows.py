"""Small tables below a schedule that hold no openings: types of glass, revisions, colours, approvals, notes.

rows > blocks between blank rows > a block that gives no size of the schedule, no count beside a mark, and no known mark
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import groupby

from estimating.core.schedule_lines import mark_key
from estimating.intake.asking import Asker
from estimating.intake.count_words import read_count_text
from estimating.intake.headings import is_value
from estimating.intake.kind_words import kind_of
from estimating.intake.row_kinds import Columns, is_total
from estimating.intake.table_facts import where
from estimating.intake.tables import Table
from rates.core.grid import GridRow

LEAST_HEADED = 2  # filled cells of a row that heads a table of its own
_LEAD = re.compile(r"[^\W\d_]+[-. ]?(?=[0-9])")
_PARTS = re.compile(
    r"(?:hardware|hdwe?|ironmongery)\b.*|(?:glass|glazing)(?: (?:types?|marks?|codes?|specs?))?", re.IGNORECASE
)
_DATE = re.compile(r"[0-9]{1,4}[-/.][0-9]{1,2}[-/.][0-9]{1,4}")


def rows_apart(table: Table, columns: Columns) -> frozenset[int]:
    """The numbers of the rows that belong to small tables below the lines; none where the table gives no sizes."""
    if not columns.sizes or columns.mark is None:
        return frozenset()
    marks: set[str] = set()
    leads: set[str] = set()
    apart: set[int] = set()
    for block in blocks_of(table.rows):
        own = [row for row in block if is_like_line(row, columns, marks, leads)]
        headed = bool(marks) and is_headed(block[0], columns, leads)
        if (
            marks
            and not any(sized(row, columns) or known(row, columns, marks, leads) for row in block)
            and (headed or not own)
        ):
            apart.update(row.number for row in block)
            continue
        for row in own:
            mark = columns.text(row, columns.mark)
            marks.add(mark_key(mark))
            leads.update(_LEAD.findall(mark)[:1])
    return frozenset(apart)


def blocks_of(rows: Sequence[GridRow]) -> Iterable[list[GridRow]]:
    """The rows that stand one below another, without a blank one between."""
    for _, block in groupby(enumerate(rows), key=lambda pair: pair[1].number - pair[0]):
        yield [row for _, row in block]


def sized(row: GridRow, columns: Columns) -> bool:
    """Whether a row fills a size with a number."""
    return any(any(map(str.isdigit, row.cell(column))) for column in columns.sizes)


def known(row: GridRow, columns: Columns, marks: set[str], leads: set[str]) -> bool:
    """Whether a row's mark stood in a line before, or begins with the letters of one."""
    mark = columns.text(row, columns.mark)
    return bool(mark) and (mark_key(mark) in marks or bool(leads.intersection(_LEAD.findall(mark)[:1])))


def is_like_line(row: GridRow, columns: Columns, marks: set[str], leads: set[str]) -> bool:
    """Whether a row can be an opening line: a size, a known mark, or a mark with a count."""
    mark = columns.text(row, columns.mark)
    if sized(row, columns) or known(row, columns, marks, leads):
        return True
    counts = [row.cell(column) for column in (columns.quantity, *columns.counts) if column is not None]
    return bool(mark) and any(is_count(cell) for cell in counts)


def is_count(cell: str) -> bool:
    """Whether a cell holds a count and nothing else."""
    said = read_count_text(cell) if cell else None
    return said is not None and said.state == "counted" and not said.residue


def is_headed(row: GridRow, columns: Columns, leads: set[str]) -> bool:
    """Whether a row of words begins a table of its own: no value, no mark like the others', no total."""
    mark = columns.text(row, columns.mark)
    if row.filled < LEAST_HEADED or any(any(map(str.isdigit, cell)) or is_value(cell) for cell in row.cells if cell):
        return False
    return len(mark) > 1 and not any(is_total(cell) for cell in row.cells if cell)


def lists_parts(table: Table, tables: Sequence[Table]) -> bool:
    """Whether a table lists hardware or glass: its first heading says so, it gives no size, and another table does.

    None that names a mark of the other tables, or a kind of opening.
    """
    lead = min((column for column, head in enumerate(table.headings) if head), default=0)
    if Columns.of(table).sizes or not _PARTS.fullmatch(table.headings[lead].strip() if table.headings else ""):
        return False
    sized_by = [other for other in tables if other is not table and Columns.of(other).sizes]
    marks = {
        mark_key(row.cell(c)) for other in sized_by for row in other.rows if (c := Columns.of(other).mark) is not None
    }
    cells = [cell for row in table.rows for cell in row.cells if cell]
    return bool(sized_by) and not any(mark_key(cell) in marks - {""} or kind_of(cell) for cell in cells)


def is_revision(row: GridRow) -> bool:
    """Whether a row of such a table dates an issue of the drawing, which changes no line by itself."""
    return any(_DATE.fullmatch(cell) for cell in row.cells if cell)


def tell_apart(table: Table, rows: Sequence[int], asker: Asker) -> None:
    """Rows below the lines that are taken for no openings."""
    if rows:
        cells = [table.sheet.place(row) for row in rows]
        said = ", ".join(cells[:12]) + (f" and {len(cells) - 12} more" if len(cells) > 12 else "")
        asker.tell(
            "rows_apart", f"{where(table)}These rows below the lines give no size of an opening and are notes: {said}.",
            about=(table.fingerprint, *cells[:50]), cells=cells,
        )  # fmt: skip
