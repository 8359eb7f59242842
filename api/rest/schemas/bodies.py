"""Schemas of the big bodies, from the field tables that read them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from api.rest.edits import EDITS
from estimating.core.request_reading import REQUEST
from rates.core.card import EDITION, TABLES

Json = dict[str, Any]
# what texts may hold: no control characters, nothing that turns the direction of text
PLAIN_TEXT = "^[^\\u0000-\\u001f\\u007f-\\u009f\\u061c\\u200e\\u200f\\u202a-\\u202e\\u2066-\\u2069]*$"


def refine(schema: Mapping[str, Any], *, optional: bool = False) -> Json:
    """A field table's schema told in full: what may be left out may be null, and which characters a text may hold."""
    found = dict(schema)
    for name in ("items", "additionalProperties"):
        if isinstance(found.get(name), Mapping):
            found[name] = refine(found[name])
    if "oneOf" in found:
        found["oneOf"] = [refine(part) for part in found["oneOf"]] + ([{"type": "null"}] if optional else [])
        return found
    if "properties" in found:
        needed = set(found.get("required", ()))
        found["properties"] = {
            name: refine(part, optional=name not in needed) for name, part in found["properties"].items()
        }
    if found.get("type") == "string" and not {"pattern", "enum", "format"} & set(found):
        found["pattern"] = PLAIN_TEXT
    if optional and "type" in found:
        kinds = found["type"] if isinstance(found["type"], list) else [found["type"]]
        found["type"] = [*kinds, "null"]
        if "enum" in found:
            found["enum"] = [*found["enum"], None]
    return found


OPENING_LINE: Json = {
    "type": "object",
    "description": "one line of an opening schedule: mark, quantity, shape and size, place and what is known of it",
    "properties": {"mark": {"type": ["string", "integer"]}, "quantity": {"type": ["integer", "string"]}},
    "required": ["mark", "quantity"],
}


LAYER_TABLES: Json = {
    "type": "object",
    "properties": {name: {"type": "object" if name == "production" else "array"} for name in TABLES},
    "additionalProperties": False,
}


def edition_schemas() -> Json:
    """The edition, its copy, and each table by itself."""
    whole = refine(EDITION.schema)
    tables = whole["properties"]["tables"]["properties"]
    head = {name: schema for name, schema in whole["properties"].items() if name != "tables"}
    copy = {
        "type": "object",
        "properties": {"from": {"type": "string", "format": "uuid"}} | head,
        "required": ["from"],
        "additionalProperties": False,
    }
    layer = {
        "type": "object",
        "description": "of a branch's or project's rate book: only what differs",
        "properties": {name: head[name] for name in ("effective_from", "note", "currency")} | {"tables": LAYER_TABLES},
        "required": ["effective_from", "tables"],
        "additionalProperties": False,
    }
    return {"NewEdition": {"anyOf": [whole, copy, layer]}} | {f"Table.{name}": tables[name] for name in TABLES}


def request_schema() -> Json:
    """The request for an estimate."""
    schema = refine(REQUEST.schema)
    openings = {"type": "array", "items": OPENING_LINE, "maxItems": 200_000, "description": "opening lines inline"}
    schema["properties"] = dict(schema["properties"]) | {"openings": openings}
    return schema


SCHEMAS: Json = {
    "EstimateRequest": request_schema(),
    "NewEdits": refine(EDITS.schema),
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
