"""The tables of an edition over HTTP: JSON, CSV and XLSX in and out, prices changed by formula."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any

from api.rest.common_fields import as_sent
from api.rest.company import as_given
from api.rest.exchange import Answer, Call, File
from api.rest.list_tables import MEDIA_TYPES
from api.rest.reading import MEDIA
from rates.actions import tables as actions
from rates.core.card import TABLES
from rates.core.fields import Faults, Field, Record, boolean, shown
from rates.core.grid import Sheet
from rates.core.price_formula import FORMULA
from rates.core.problems import Problem, Refused
from rates.core.sheet_faults import placed
from rates.core.table_sheets import ReadSheet, read_sheet, write_sheet
from rates.queries import books as queries
from rates.sheets.csv_writing import write_csv
from rates.sheets.edition_files import read_csv, read_sheets
from rates.sheets.workbook_writing import write_workbook

Sheets = dict[str, ReadSheet]


class AsWritten:
    """Reader that gives what was read and what was written, for the record."""

    def __init__(self, record: Record) -> None:
        self.record, self.schema = record, record.schema

    def read(self, raw: object, pointer: str, faults: Faults) -> Any:
        """(value, as written); faults noted."""
        return self.record.read(raw, pointer, faults), raw


CHANGE_PRICES = Record(
    as_given,
    (
        Field("formula", AsWritten(FORMULA), "which rows, which price, what happens to it", required=True),
        Field("preview", boolean(), "only show what would change", default=False),
    ),
)


def table_in(call: Call) -> str:
    """The table that the address names."""
    name = call.path.rstrip("/").rpartition("/")[2].partition(".")[0]
    assert name in TABLES
    return name


def show_table(call: Call) -> Answer:
    """GET /v1/editions/{id}/{table}."""
    whole, table = queries.edition(company=call.company, id=call.id), table_in(call)
    content = queries.table_of(whole, table)
    if call.format == "json":
        return Answer(content, tag=whole.tag)
    rows = write_sheet(table, content)
    data = write_csv(rows) if call.format == "csv" else write_workbook({table: rows})
    return Answer(File(data, MEDIA_TYPES[call.format], f"{table}.{call.format}"), tag=whole.tag)


def show_tables(call: Call) -> Answer:
    """GET /v1/editions/{id}/tables: all five, in a workbook one sheet each."""
    whole = queries.edition(company=call.company, id=call.id)
    tables = {table: queries.table_of(whole, table) for table in TABLES}
    if call.format == "json":
        return Answer(tables, tag=whole.tag)
    data = write_workbook({table: write_sheet(table, content) for table, content in tables.items()})
    return Answer(File(data, MEDIA_TYPES["xlsx"], "tables.xlsx"), tag=whole.tag)


def put_table(call: Call) -> Answer:
    """PUT /v1/editions/{id}/{table}: pointers of faults are in the table that was sent."""
    table = table_in(call)
    queries.edition(company=call.company, id=call.id)  # who may not see it learns nothing of what was sent
    if call.media_type == MEDIA["json"]:
        whole = put(call, {table: call.body}, f"/tables/{table}")
        return Answer(queries.table_of(whole, table), tag=whole.tag, changed=whole)
    sheet = read_csv(call.data, table) if call.media_type == MEDIA["csv"] else sheet_of(read_sheets(call.data), table)
    faults: Faults = []
    return put_sheets(call, {table: read_sheet(table, sheet, faults)}, faults, (table,))


def put_tables(call: Call) -> Answer:
    """PUT /v1/editions/{id}/tables: those that are sent are replaced, all or none."""
    queries.edition(company=call.company, id=call.id)
    if call.media_type == MEDIA["json"]:
        if not isinstance(call.body, dict):
            raise Refused([Problem("", "not_an_object", f"an object of tables is expected, not {shown(call.body)}")])
        unknown = [name for name in call.body if name not in TABLES]
        if unknown:
            known = ", ".join(TABLES)
            raise Refused([Problem(f"/{n}", "unknown_field", f"no such table; known here: {known}") for n in unknown])
        whole = put(call, call.body, "/tables")
        return Answer({table: queries.table_of(whole, table) for table in TABLES}, tag=whole.tag, changed=whole)
    faults: Faults = []
    sheets: Sheets = {}
    for sheet in read_sheets(call.data):
        table = sheet.name.strip().lower()
        if table in TABLES:
            sheets[table] = read_sheet(table, sheet, faults)
        else:
            detail = f"no such table; known here: {', '.join(TABLES)}"
            faults.append(Problem("", "unknown_sheet", detail, "edition", 1, 1, sheet.name))
    return put_sheets(call, sheets, faults, TABLES)


def put(call: Call, tables: Mapping[str, Any], start: str) -> queries.WholeEdition:
    """The edition with tables that came as JSON; Refused with pointers in what was sent."""
    try:
        return store(call, tables)
    except Refused as refusal:
        raise as_sent(refusal, start) from None


def put_sheets(call: Call, sheets: Sheets, faults: Faults, shown: Sequence[str]) -> Answer:
    """The tables that came as sheets, kept; Refused with sheet, row and column of every fault, nothing kept.

    The answer says which columns were set aside as the office's own, and which tables had no sheet and stay.
    """
    aside = [
        {"sheet": table, "column": column, "heading": heading}
        for table, sheet in sheets.items()
        for column, heading in sheet.aside
    ]
    whole = None
    try:
        whole = store(call, {table: sheet.content for table, sheet in sheets.items()}, aside)
    except Refused as refusal:
        faults.extend(placed(problem, sheets) for problem in refusal.problems)
    if faults or whole is None:
        raise Refused(sorted(faults, key=lambda f: (f.sheet or "", f.line or 0, f.column or 0)))
    content = {
        "tables": {table: queries.table_of(whole, table) for table in shown},
        "columns_aside": aside,
        "missing_sheets": [table for table in shown if table not in sheets],
    }
    return Answer(content, tag=whole.tag, changed=whole)


def sheet_of(sheets: Sequence[Sheet], table: str) -> Sheet:
    """The sheet of a table by its name, or the only one; Refused."""
    named = [sheet for sheet in sheets if sheet.name.strip().lower() == table]
    if not named and len(sheets) != 1:
        raise Refused([Problem("", "missing_sheet", f"the workbook has no sheet {table}", "edition", 1, 1)])
    return (named or sheets)[0]


def store(call: Call, tables: Mapping[str, Any], aside: Sequence[Mapping[str, Any]] = ()) -> queries.WholeEdition:
    """The draft with these tables."""
    return actions.put_tables(
        company=call.company,
        id=call.id,
        member=call.caller.member,
        tables=tables,
        expected=call.expected,
        now=call.now,
        aside=[column["heading"] for column in aside],
    )


def change_prices(call: Call) -> Answer | Callable[[], Answer]:
    """POST /v1/editions/{id}/change-prices: one recorded step, or only what it would do."""
    return reprice(call) if call.body["preview"] else partial(reprice, call)


def reprice(call: Call) -> Answer:
    """What the formula changes, and the edition."""
    formula, written = call.body["formula"]
    repriced = actions.change_prices(
        company=call.company,
        id=call.id,
        member=call.caller.member,
        formula=formula,
        written=written,
        preview=call.body["preview"],
        expected=call.expected,
        now=call.now,
    )
    content = {"preview": call.body["preview"], "changes": repriced.changes, "edition": repriced.whole.edition}
    return Answer(content, tag=repriced.whole.tag, changed=repriced.whole)
