"""Opening lines: one schema for each shape, from the field tables that read a line."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from api.rest.schemas.refining import refine
from estimating.core.kind_reading import DIMENSIONS, MEASURES, OPTIONAL, kind_fields
from estimating.core.schedule_lines import LINE_FIELDS
from rates.core.fields import Field, Record

Json = dict[str, Any]
FIELDS: tuple[Field, ...] = (*LINE_FIELDS, *kind_fields(None))
NEEDED = tuple(field.name for field in FIELDS if field.required)
BY_KIND = "pipe"  # the one kind of opening whose shape follows from it


def camel(name: str) -> str:
    """The name of a shape as part of a schema's."""
    return name.title().replace("_", "")


def line(measures: tuple[str, ...], needed: Collection[str]) -> Json:
    """A line with these measures and these fields needed."""
    chosen = tuple(field for field in FIELDS if field.name not in MEASURES or field.name in measures)
    schema = dict(Record(dict, chosen).schema)
    schema["required"] = [field.name for field in chosen if field.name in needed]
    return refine(schema) | {"within": "Opening"}


def of_shape(shape: str) -> Json:
    """A line of one shape, which it states; a rectangle need not."""
    measures = DIMENSIONS[shape] + OPTIONAL.get(shape, ())
    schema = line(measures, {*NEEDED, *DIMENSIONS[shape]} | (set() if shape == "rectangle" else {"shape"}))
    schema["properties"]["shape"] = {"type": "string", "const": shape, "description": "its outline"}
    return {"title": f"{camel(shape)}Opening", "about": f"an opening line: {shape.replace('_', ' ')}"} | schema


def of_kind() -> Json:
    """A pipe by its kind, without a shape."""
    schema = line(DIMENSIONS[BY_KIND] + OPTIONAL[BY_KIND], {*NEEDED, *DIMENSIONS[BY_KIND], "kind"})
    schema["properties"]["kind"] = {"type": "string", "const": BY_KIND, "description": "what makes its shape a pipe"}
    del schema["properties"]["shape"]
    return {"title": "PipeByKindOpening", "about": "an opening line: a pipe by its kind"} | schema


def not_priced() -> Json:
    """A line that stays visible and is not priced: it may lack its size."""
    schema = line(MEASURES, {*NEEDED, "excluded"})
    return {"title": "ExcludedOpening", "about": "an opening line that is not priced; its size may be unknown"} | schema


def as_read() -> Json:
    """A line as it was read, whatever it lacks."""
    schema = line(MEASURES, NEEDED)
    schema["required"] = []
    return {"about": "a line as it was read; what it lacks or doubts is asked about"} | schema


def as_changed() -> Json:
    """Fields of a line, each with its new value; null takes one away."""
    return line(MEASURES, ()) | {"title": "OpeningFields", "about": "fields of an opening line", "minProperties": 1}


OPENING_LINE: Json = {
    "title": "OpeningLine",
    "about": "one line of an opening schedule, told by its `shape`: a rectangle where it gives none",
    "anyOf": [*(of_shape(shape) for shape in DIMENSIONS), of_kind(), not_priced()],
}
