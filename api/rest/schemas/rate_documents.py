"""Schemas of what is answered about rate books and editions."""

from __future__ import annotations

from typing import Any

from rates.core import changes, price_formula
from rates.core.card import TABLES

Json = dict[str, Any]
WRITTEN: Json = {"description": "as the edition writes it; null: nothing"}
FIELD_CHANGE: Json = {
    "type": "object",
    "properties": {"field": {"type": "string"}, "before": WRITTEN, "after": WRITTEN},
    "required": list(changes.FieldChange.__dataclass_fields__),
}
ROW_CHANGE: Json = {
    "type": "object",
    "properties": {
        "table": {"type": "string", "enum": [*TABLES, "edition"]},
        "code": {"type": ["string", "null"]},
        "change": {"type": "string", "enum": ["added", "removed", "changed", "moved"]},
        "fields": {"type": "array", "items": FIELD_CHANGE},
    },
    "required": list(changes.RowChange.__dataclass_fields__),
}
PRICE_CHANGE: Json = {
    "type": "object",
    "properties": {name: {"type": "string"} for name in price_formula.PriceChange.__dataclass_fields__},
    "required": list(price_formula.PriceChange.__dataclass_fields__),
}
SCHEMAS: Json = {
    "RowChange": ROW_CHANGE,
    "Repriced": {
        "type": "object",
        "properties": {
            "preview": {"type": "boolean"},
            "changes": {"type": "array", "items": PRICE_CHANGE},
            "edition": {"$ref": "#/components/schemas/Edition"},
        },
        "required": ["preview", "changes", "edition"],
    },
    "Tables": {
        "type": "object",
        "properties": {table: {"$ref": f"#/components/schemas/Table.{table}"} for table in TABLES},
        "additionalProperties": False,
    },
}
