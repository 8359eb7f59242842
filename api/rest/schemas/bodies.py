"""Schemas of the big bodies, from the field tables that read them."""

from __future__ import annotations

from typing import Any

from estimating.core.request import REQUEST
from rates.core.card import EDITION, TABLES

Json = dict[str, Any]
OPENING_LINE: Json = {
    "type": "object",
    "description": "one line of an opening schedule: mark, quantity, shape and size, place and what is known of it",
    "properties": {"mark": {"type": ["string", "integer"]}, "quantity": {"type": ["integer", "string"]}},
    "required": ["mark", "quantity"],
}


def edition_schemas() -> Json:
    """The edition, its copy, and each table by itself."""
    whole = dict(EDITION.schema)
    tables = whole["properties"]["tables"]["properties"]
    head = {name: schema for name, schema in whole["properties"].items() if name != "tables"}
    copy = {
        "type": "object",
        "properties": {"from": {"type": "string", "format": "uuid"}} | head,
        "required": ["from"],
        "additionalProperties": False,
    }
    return {"NewEdition": {"oneOf": [whole, copy]}} | {f"Table.{name}": tables[name] for name in TABLES}


def request_schema() -> Json:
    """The request for an estimate."""
    schema = dict(REQUEST.schema)
    openings = {"type": "array", "items": OPENING_LINE, "maxItems": 200_000, "description": "opening lines inline"}
    schema["properties"] = dict(schema["properties"]) | {"openings": openings}
    return schema


SCHEMAS: Json = {
    "EstimateRequest": request_schema(),
    "ScheduleFile": {
        "oneOf": [
            {"type": "array", "items": OPENING_LINE},
            {
                "type": "object",
                "properties": {"openings": {"type": "array", "items": OPENING_LINE}},
                "required": ["openings"],
            },
        ]
    },
} | edition_schemas()
