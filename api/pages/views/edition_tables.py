"""A table of an edition as a grid, what stood there before beside it; a draft's can be changed or pasted over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from api.pages.exchange import Change, Made, Show, Visit
from api.pages.forms import TAG, Fault, Input, make_form
from api.pages.views.editions import head
from estimating.core.figures.figure import word as spell
from rates.actions import tables as actions
from rates.core.card import TABLES
from rates.core.fields import Faults
from rates.core.grid import GridRow, Sheet
from rates.core.layer_reading import ROWS
from rates.core.problems import Problem, Refused
from rates.core.production import PRODUCTION
from rates.core.sheet_faults import placed
from rates.core.table_sheets import MOST_ROWS, read_sheet
from rates.queries import books
from rates.queries.edition_grid import GridCell, grid, place_of_code
from rates.refusals import Expected, NotThere
from rates.sheets.edition_files import read_csv

SPARE_ROWS, SPARE_COLUMNS = 3, 1
LEAST_SIZE, MOST_SIZE = 5, 28  # letters of a cell
PASTE = Input(
    "paste", "Or the whole table, pasted", "area", wide=True,
    hint="Copied from a spreadsheet, its heading row first. What is pasted takes the place of all that stands above.",
)  # fmt: skip


@dataclass(frozen=True)
class Shown:
    """A cell of the grid as it is shown: the name of its input and its width in letters, what it holds, its fault."""

    name: str
    id: str
    label: str
    size: int
    cell: GridCell
    error: str = ""


def table_of(visit: Visit) -> str:
    """The table that the address names; NotThere."""
    if visit.places["table"] not in TABLES:
        raise NotThere
    return str(visit.places["table"])


def show(visit: Visit) -> Show:
    """GET /editions/{id}/tables/{table}."""
    table = table_of(visit)
    whole = books.edition(company=visit.company, id=visit.id)
    found = grid(company=visit.company, whole=whole, table=table, now=visit.now)
    headings, rows = list(found.headings), [list(row) for row in found.rows]
    if visit.typed:
        headings, rows = typed_over(visit.typed, headings, rows)
    may_change = whole.edition.state == "draft" and visit.may("rates.draft")
    if may_change:
        width = len(headings) + (0 if table == "production" else SPARE_COLUMNS)
        headings += [""] * (width - len(headings))
        rows = [row + [GridCell("")] * (width - len(row)) for row in rows]
        while sum(not any(cell.text for cell in row) for row in rows) < SPARE_ROWS:
            rows.append([GridCell("")] * width)
    form = make_form((PASTE,), typed=visit.typed, faults=visit.faults, tag=whole.tag, stale=visit.stale)
    pasted = bool(visit.typed.get("paste", "").strip())
    at = {(f.line, f.column): f.detail for f in visit.faults if f.line and f.column and not pasted}
    sizes = [max(LEAST_SIZE, *(min(len(row[j].text), MOST_SIZE) for row in rows)) for j in range(len(headings))]
    cells = [[shown((i, j), headings, sizes, row, at) for j in range(len(row))] for i, row in enumerate(rows)]
    code = place_of_code(headings)
    ids = [f"row-{spell(row[code].text)}" for row in rows]  # where the page of a figure leads to
    values = {
        "table": table,
        "headings": [(f"h-{j}", text, words_of(text)) for j, text in enumerate(headings)],
        "rows": list(zip(ids, cells, strict=True)),
        "grid": found,
        "may_change": may_change,
        "form": form,
        "grid_faults": list_of(visit.faults, headings, rows, pasted=pasted),
        "fields": [(field.name, field.doc) for field in (PRODUCTION if table == "production" else ROWS[table]).fields],
    }
    return Show("editions/table.html", head(visit, whole, table) | values)


def shown(
    place: tuple[int, int],
    headings: Sequence[str],
    sizes: Sequence[int],
    row: Sequence[GridCell],
    at: Mapping[Any, str],
) -> Shown:
    """One cell; rows of the sheet count from 1, the headings first."""
    i, j = place
    label = f"{words_of(headings[j]) or 'column without a heading'}, {row[0].text or f'row {i + 1}'}"
    return Shown(f"c-{i}-{j}", f"cell-{i}-{j}", label, sizes[j], row[j], at.get((i + 2, j + 1), ""))


def words_of(heading: str) -> str:
    """A heading as people read it: a path of fields in words."""
    return heading.replace("_", " ").replace("/", " ")


def list_of(
    faults: Sequence[Problem], headings: Sequence[str], rows: Sequence[Sequence[GridCell]], *, pasted: bool
) -> list[Fault]:
    """The faults with links to their cells; of what was pasted, its line and column."""
    found = []
    for fault in faults:
        if pasted and fault.line:
            found.append(Fault(f"pasted row {fault.line}, column {fault.column}: {fault.detail}", "field-paste"))
            continue
        row, column = (fault.line or 0) - 2, (fault.column or 0) - 1
        if 0 <= row < len(rows) and 0 <= column < len(headings):
            where = f"{words_of(headings[column])}, {rows[row][0].text or f'row {row + 1}'}"
            found.append(Fault(f"{where}: {fault.detail}", f"cell-{row}-{column}"))
        else:
            found.append(Fault(fault.detail))
    return found


def typed_over(
    typed: Mapping[str, str], headings: Sequence[str], rows: Sequence[Sequence[GridCell]]
) -> tuple[list[str], list[list[GridCell]]]:
    """The grid as it was typed; beside each cell what stood before, where its place is the same."""
    sheet = sheet_of("", typed)
    found = []
    for i, row in enumerate(sheet.rows[1:]):
        old = rows[i] if i < len(rows) else []
        found.append([GridCell(text, old[j].before if j < len(old) else None) for j, text in enumerate(row.cells)])
    return sheet.rows[0].cells or list(headings), found


def sheet_of(table: str, typed: Mapping[str, str]) -> Sheet:
    """The inputs of the grid as a sheet: its headings, then its rows; blank rows between others keep their numbers."""
    width = 0
    while f"h-{width}" in typed:
        width += 1
    rows = [GridRow(1, [typed[f"h-{j}"].strip() for j in range(width)])]
    i = 0
    while i < MOST_ROWS and f"c-{i}-0" in typed:
        rows.append(GridRow(i + 2, [typed.get(f"c-{i}-{j}", "").strip() for j in range(width)]))
        i += 1
    return Sheet(table, rows)


def put(visit: Visit) -> Change:
    """POST /editions/{id}/tables/{table}: the table as typed or pasted, all of it or nothing."""
    table = table_of(visit)
    paste = visit.typed.get("paste", "")
    sheet = read_csv(paste.encode(), table) if paste.strip() else sheet_of(table, visit.typed)
    faults: Faults = []
    read = read_sheet(table, Sheet(table, [sheet.rows[0], *(r for r in sheet.rows[1:] if any(r.cells))]), faults)
    if faults:
        raise Refused(faults)
    expected = Expected({visit.typed.get(TAG, "")})

    def act() -> Made:
        try:
            whole = actions.put_tables(
                company=visit.company,
                id=visit.id,
                member=visit.caller.member,
                tables={table: read.content},
                expected=expected,
                now=visit.now,
                aside=[heading for _, heading in read.aside],
            )
        except Refused as refusal:
            raise Refused([placed(problem, {table: read}) for problem in refusal.problems]) from None
        return Made(f"/editions/{visit.id}/tables/{table}", visit.id, before=expected.seen, after=whole)

    return Change("put-tables", act)
