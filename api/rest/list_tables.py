"""Lists as CSV and XLSX: the columns and kinds of their cells follow from the schema of an item."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from api.rest.exchange import Operation
from api.rest.schemas.documents import SCHEMAS
from api.rest.schemas.records import schema_of
from estimating.outputs.documents.parts import PieceOfMark
from rates.core.grid import Cells
from rates.sheets.csv_writing import write_csv
from rates.sheets.flat_rows import Json, flat_sheets, flat_table
from rates.sheets.workbook_writing import write_workbook

MEDIA_TYPES = {
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}
CAUTIONS = "cautions"  # name of the last column of a CSV, and of the second sheet of a workbook
PIECES = "Part:pieces"
PIECE_ROW = schema_of(PieceOfMark)  # a schedule has more marks than a sheet has columns


def row_schema(operation: Operation) -> Json:
    """The schema of a row of what an operation lists."""
    name = operation.answers[200]
    if name == PIECES:
        return PIECE_ROW
    row: Json = SCHEMAS[name[:-2]] if name.endswith("[]") else SCHEMAS[name]["properties"]["items"]["items"]
    return row


def write_table(rows: Sequence[Any], format: str, operation: Operation, cautions: Sequence[str] = ()) -> bytes:
    """The rows in the format "csv" or "xlsx", with the cautions of the work that they are about.

    A CSV has them in a last column, all in the first row: no other column moves. A line before the heading or after the
    rows would be read as data, and a header field does not stay with a file that is kept.
    """
    schema = row_schema(operation)
    if format != "csv":
        beside: dict[str, list[Cells]] = {CAUTIONS: [[text] for text in (CAUTIONS, *cautions)]} if cautions else {}
        sheets = flat_sheets(rows, schema, operation.name)
        return write_workbook({operation.name: sheets[operation.name]} | beside | sheets)
    cells = flat_table(rows, schema)
    if not cautions or not rows:
        return write_csv(cells)
    column = [CAUTIONS, " ".join(cautions), *[""] * (len(rows) - 1)]
    return write_csv([*row, last] for row, last in zip(cells, column, strict=True))
