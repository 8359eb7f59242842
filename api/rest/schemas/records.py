"""Schemas of records: of annotated types, of dataclasses and typed dictionaries as they are written, by hand.

A schema with a `title` is a component of that name; `about` is what the component itself says, where `description`
is said of it at one place.
"""

from __future__ import annotations

import dataclasses
import datetime
import inspect
import types
import typing
import uuid
from collections.abc import Iterable, Mapping
from typing import Any

from api.plain import HIDDEN
from estimating.outputs.documents.scalars import Named

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
        return dict(SIMPLE[kind])
    origin, arguments = typing.get_origin(kind), typing.get_args(kind)
    if origin is typing.Annotated:
        return marked(schema_of(arguments[0]), kind.__metadata__)
    if origin is typing.NotRequired:
        return schema_of(arguments[0])
    if origin in (types.UnionType, typing.Union):
        (known,) = (part for part in arguments if part is not type(None))
        return nullable(schema_of(known))
    if origin is dict:
        return {"type": "object", "additionalProperties": schema_of(arguments[1])}
    if origin in (tuple, list):
        return {"type": "array", "items": schema_of(arguments[0])}
    if typing.is_typeddict(kind):
        return of_typed(kind)
    return of_dataclass(kind) if isinstance(kind, type) and dataclasses.is_dataclass(kind) else {}


def marked(schema: Json, marks: Iterable[object]) -> Json:
    """A schema with what its annotations say: a name, or a sentence about it at this place."""
    for mark in marks:
        if isinstance(mark, Named):
            schema |= named(mark)
        elif isinstance(mark, str):
            schema["description"] = mark
    return schema


def named(mark: Named) -> Json:
    """A kind of text by its name."""
    told = {"title": mark.name, "about": mark.about, "pattern": mark.pattern, "format": mark.format}
    return {name: value for name, value in told.items() if value} | ({"enum": list(mark.words)} if mark.words else {})


def nullable(schema: Json) -> Json:
    """The schema, or null."""
    if "type" not in schema:
        return schema
    kinds = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
    words = {"enum": [*schema["enum"], None]} if "enum" in schema else {}
    return schema | {"type": [*kinds, "null"]} | words


def of_dataclass(kind: type, title: str = "") -> Json:
    """The schema of a dataclass as it is written."""
    hints = typing.get_type_hints(kind, include_extras=True)
    names = [field.name for field in dataclasses.fields(kind) if field.name not in HIDDEN]
    return {"title": title or kind.__name__} | about(kind) | record({name: schema_of(hints[name]) for name in names})


def of_typed(kind: Any) -> Json:
    """The schema of a typed dictionary; one that stands in itself is told by its name."""
    if kind in OPEN:
        return {"$ref": f"#/components/schemas/{kind.__name__}"}
    OPEN.append(kind)
    hints = typing.get_type_hints(kind, include_extras=True)
    properties = {name: schema_of(hint) for name, hint in hints.items()}
    OPEN.remove(kind)
    needed = [name for name, hint in hints.items() if typing.get_origin(hint) is not typing.NotRequired]
    return {"title": kind.__name__} | about(kind) | {"type": "object", "properties": properties, "required": needed}


OPEN: list[Any] = []  # typed dictionaries whose schemas are being made


def about(kind: type) -> Json:
    """What a type's docstring says, as one paragraph."""
    said = (inspect.getdoc(kind) or "").split("\n\n")[0].replace("\n", " ")
    return {} if not said or said.startswith(f"{kind.__name__}(") else {"about": said[0].lower() + said[1:].rstrip(".")}


def record(required: Json, **optional: Json) -> Json:
    """An object schema."""
    return {"type": "object", "properties": required | optional, "required": list(required)}


def called(title: str, schema: Mapping[str, Any], **more: Any) -> Json:
    """A schema under a name of its own."""
    return dict(schema) | {"title": title} | more
