"""Schemas of what is answered about rate books and editions."""

from __future__ import annotations

from typing import Annotated, Any

from api.rest.schemas.bodies import LAYER_TABLES, WHOLE_TABLES
from api.rest.schemas.records import Json, called, nullable, of_dataclass, record, schema_of
from api.rest.schemas.refining import refine
from estimating.outputs.documents.checks import CheckLine
from estimating.outputs.documents.scalars import Layer, Named
from estimating.queries.under_water import QuotesUnderWater
from rates.core import changes, price_formula
from rates.core.bands import BAND
from rates.core.card import EDITION, TABLES
from rates.queries import books, rate_moves

EDITION_STATES = ("draft", "submitted", "approved", "withdrawn")
EditionState = Annotated[str, Named("EditionState", words=EDITION_STATES)]
WRITTEN: Json = {"description": "as the edition writes it; null: nothing"}
HEAD = {name: part for name, part in refine(EDITION.schema)["properties"].items() if name not in ("tables", "note")}
BOOK = of_dataclass(books.RateBook)
BOOK["properties"] |= {"layer": schema_of(Layer), "band": nullable(refine(BAND.schema))}
EDITION_HEAD = of_dataclass(books.Edition)
EDITION_HEAD["properties"] |= {"layer": schema_of(Layer), "state": schema_of(EditionState)}
ROW_CHANGE = of_dataclass(changes.RowChange)
FIELD_CHANGE = of_dataclass(changes.FieldChange)
FIELD_CHANGE["properties"] |= {"before": WRITTEN, "after": WRITTEN}
ROW_CHANGE["properties"] |= {
    "table": {"type": "string", "enum": [*TABLES, "edition"]},
    "code": {"type": ["string", "null"]},
    "change": {"type": "string", "enum": ["added", "removed", "changed", "moved"]},
    "fields": {"type": "array", "items": FIELD_CHANGE},
}
PRICE_CHANGE = record({name: {"type": "string"} for name in price_formula.PriceChange.__dataclass_fields__})
TABLE_NAME: Json = {"type": "string", "enum": list(TABLES)}
COLUMN_ASIDE = record({"sheet": TABLE_NAME, "column": {"type": "integer", "minimum": 1}, "heading": {"type": "string"}})
ASIDE = {"description": "columns of the office's own, which were not read"}
MISSING = {"description": "tables that had no sheet in the workbook and stay as they were"}
RATE_MOVES = schema_of(rate_moves.RateMoves)
RATE_MOVES["properties"]["before"]["title"] = "EditionBefore"
BESIDE_EDITION: Json = {
    "rate_moves": RATE_MOVES,
    "checks": schema_of(list[CheckLine]),
    "quotes_under_water": schema_of(QuotesUnderWater),
}


def whole_edition() -> Json:
    """An edition with its document as drafted."""
    found = called("WholeEdition", EDITION_HEAD, about="one edition with its tables, as drafted", within="Edition")
    known = {name: part for name, part in HEAD.items() if name not in found["properties"]}
    tables: Any = {"anyOf": [WHOLE_TABLES, LAYER_TABLES]}
    return found | {
        "properties": found["properties"] | known | {"tables": tables},
        "required": [*found["required"], "tables"],
    }


def submitted_edition() -> Json:
    """An edition with what moves against the one before it, and what is unlikely in it."""
    about = "the edition, what moves against the one before it, and what is unlikely in it"
    found = called("SubmittedEdition", whole_edition(), about=about)
    properties = found["properties"] | BESIDE_EDITION
    return found | {"properties": properties, "required": [*found["required"], *BESIDE_EDITION]}


SCHEMAS: Json = {
    "RateBook": BOOK,
    "Edition": EDITION_HEAD,
    "WholeEdition": whole_edition(),
    "SubmittedEdition": submitted_edition(),
    "Step": called("EditionStep", of_dataclass(books.Step)),
    "RowChange": ROW_CHANGE,
    "Repriced": record(
        {
            "preview": {"type": "boolean"},
            "changes": {"type": "array", "items": called("PriceChange", PRICE_CHANGE)},
            "edition": EDITION_HEAD,
        }
    ),
    "TablesRead": record(
        {
            "tables": {"$ref": "#/components/schemas/Tables"},
            "columns_aside": {"type": "array", "items": called("ColumnAside", COLUMN_ASIDE)} | ASIDE,
            "missing_sheets": {"type": "array", "items": TABLE_NAME} | MISSING,
        }
    ),
    "Tables": {
        "type": "object",
        "properties": {table: {"$ref": f"#/components/schemas/{table.title()}Table"} for table in TABLES},
        "additionalProperties": False,
    },
}
