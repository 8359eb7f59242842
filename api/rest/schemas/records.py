"""Schemas of records: of annotated types, of dataclasses as they are written, of objects by hand."""

from __future__ import annotations

import dataclasses
import datetime
import types
import typing
import uuid
from typing import Any

from api.rest.plain import HIDDEN

Json = dict[str, Any]
SIMPLE: dict[Any, Json] = {
    str: {"type": "string"},
    int: {"type": "integer"},
    bool: {"type": "boolean"},
    uuid.UUID: {"type": "string", "format": "uuid"},
    datetime.datetime: {"type": "string", "format": "date-time"},
    datetime.date: {"type": "string", "format": "date"},
}


def schema_of(kind: Any) -> Json:
    """The schema of an annotated type."""
    if kind in SIMPLE:
        return SIMPLE[kind]
    origin, arguments = typing.get_origin(kind), typing.get_args(kind)
    if origin in (types.UnionType, typing.Union):
        known = [schema_of(part) for part in arguments if part is not type(None)]
        return known[0] | {"type": [known[0]["type"], "null"]}
    if kind is Any:
        return {}
    if origin is dict:
        return {"type": "object", "additionalProperties": schema_of(arguments[1])}
    if origin is tuple:
        return {"type": "array", "items": schema_of(arguments[0])}
    return {}


def of_dataclass(kind: type) -> Json:
    """The schema of a dataclass as it is written."""
    hints = typing.get_type_hints(kind)
    names = [field.name for field in dataclasses.fields(kind) if field.name not in HIDDEN]
    return {"type": "object", "properties": {n: schema_of(hints[n]) for n in names}, "required": names}


def record(required: Json, **optional: Json) -> Json:
    """An object schema."""
    return {"type": "object", "properties": required | optional, "required": list(required)}
