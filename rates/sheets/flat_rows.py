"""Items of a list as rows of cells: nested values flat, numbers and dates as such, by the JSON Schema of an item.

An object's fields are columns, their path joined by "/". In one table (CSV) objects of a list are numbered columns
(`packs/1/size`), other lists one text. In a workbook a list is a sheet of its own with a row for each entry, beside the
row and the first column of the item that it belongs to: no number stands twice. An object whose names are data is a
list of names and values, and so is what no schema describes; in one table that is one text (`name=Hall; number=7`).
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rates.core.grid import Cell, Cells, NumberText

Json = Mapping[str, Any]
Path = tuple[str | int, ...]
NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?", re.ASCII)
TEXT: Json = {"type": "string"}
DECIMALS = ("^-?[0-9]", "^[0-9]")  # how the pattern of exact decimal text, of a whole number, begins


@dataclass(frozen=True)
class Column:
    """Where a column's values stand in an item, and what they are; `listed`: a list, which is no cell."""

    path: Path
    schema: Json
    listed: bool = False

    @property
    def heading(self) -> str:
        """The path as text, places in lists from 1."""
        return "/".join(str(step + 1) if isinstance(step, int) else step for step in self.path)

    def value(self, item: Any) -> Any:
        """What an item has here; None for nothing."""
        for step in self.path:
            if isinstance(step, int):
                item = item[step] if isinstance(item, list) and step < len(item) else None
            else:
                item = item.get(step) if isinstance(item, Mapping) else None
        return item

    def cell(self, item: Any) -> Cell:
        """What an item has here as a cell."""
        return as_cell(self.value(item), self.schema)


def as_cell(value: Any, schema: Json) -> Cell:
    """A value as a cell, by its schema; one that has parts of its own as a text."""
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, Mapping | list):
        return "; ".join(f"{path}={part}" if path else part for path, part in parts(value))
    if not isinstance(value, str):
        return NumberText(value)
    if str(schema.get("pattern", "")).startswith(DECIMALS) and NUMBER.fullmatch(value):
        return NumberText(value)
    kinds = {"date": datetime.date, "date-time": datetime.datetime}
    try:
        return kinds[schema["format"]].fromisoformat(value) if schema.get("format") in kinds else value
    except ValueError:
        return str(value)


def parts(value: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """(path, text) of every value inside one; a list of plain values has no path."""
    if isinstance(value, Mapping):
        for name, item in value.items():
            yield from parts(item, f"{path}/{name}" if path else str(name))
    elif isinstance(value, list):
        for place, item in enumerate(value, 1):
            yield from parts(item, f"{path}/{place}" if path or isinstance(item, Mapping | list) else "")
    elif value is not None:
        yield path, str(value).lower() if isinstance(value, bool) else str(value)


def is_free(schema: Json) -> bool:
    """Whether a schema says nothing of a value, or of an object's fields."""
    told = {"properties", "items", "enum", "const", "format", "pattern"} & set(schema)
    return not told and not is_map(schema) and ("type" not in schema or "object" in schema["type"])


def is_map(schema: Json) -> bool:
    """Whether an object has names that are data."""
    return isinstance(schema.get("additionalProperties"), Mapping) and bool(schema["additionalProperties"])


def has_pairs(schema: Json, wide: bool) -> bool:
    """Whether a value is a list of names and values; in one table the fields of a map of objects are columns."""
    if is_map(schema):
        return not (wide and "properties" in schema["additionalProperties"])
    return not wide and is_free(schema)


def listed_schema(schema: Json, wide: bool) -> Json:
    """A schema with lists of names and values in place of what is one."""
    if has_pairs(schema, wide):
        inner = listed_schema(schema["additionalProperties"], True) if is_map(schema) else TEXT
        return {"items": {"properties": {"name": TEXT} | dict(inner.get("properties", {"value": inner}))}}
    found = dict(schema)
    if "items" in schema:
        found["items"] = listed_schema(schema["items"], True)
    if "properties" in schema:
        found["properties"] = {name: listed_schema(inner, wide) for name, inner in schema["properties"].items()}
    return found


def listed_value(value: Any, schema: Json, wide: bool) -> Any:
    """A value in the form of `listed_schema`."""
    if value is None:
        return None
    if has_pairs(schema, wide):
        if not is_map(schema):
            return [{"name": path, "value": text} for path, text in parts(value)]
        inner = schema["additionalProperties"]
        pairs = ((name, listed_value(item, inner, True)) for name, item in value.items())
        return [{"name": name} | (item if "properties" in inner else {"value": item}) for name, item in pairs]
    if isinstance(value, list):
        return [listed_value(item, schema.get("items", {}), True) for item in value]
    if not isinstance(value, Mapping):
        return value
    known, other = schema.get("properties", {}), schema.get("additionalProperties") or {}
    return {name: listed_value(item, known.get(name, other), wide) for name, item in value.items()}


def columns(schema: Json, values: Sequence[Any], path: Path = (), *, wide: bool) -> Iterator[Column]:
    """The columns of values by their schema; of a field that may be absent where a value has it, or there is no value.

    wide: objects of lists are columns; otherwise a list is one, `listed`.
    """
    objects = [value for value in values if isinstance(value, Mapping)]
    if "items" in schema and not wide:
        yield Column(path, schema, True)
    elif "properties" in schema.get("items", {}):
        lists = [value for value in values if isinstance(value, list)]
        for place in range(max([1, *map(len, lists)])):
            inner = [value[place] for value in lists if place < len(value)]
            yield from columns(schema["items"], inner, (*path, place), wide=wide)
    elif "properties" in schema or is_map(schema):
        fields: Json = schema.get("properties") or dict.fromkeys(
            (name for value in objects for name in value), schema.get("additionalProperties", {})
        )
        for name, field in fields.items():
            inner = [value[name] for value in objects if name in value]
            if inner or not values or name in schema.get("required", fields):
                yield from columns(field, inner, (*path, name), wide=wide)
    else:
        yield Column(path, schema)


def flat_table(items: Sequence[Any], schema: Json) -> list[Cells]:
    """The items as one table, the headings first."""
    plain = [listed_value(item, schema, True) for item in items]
    found = list(columns(listed_schema(schema, True), plain, wide=True))
    return [[column.heading for column in found], *([column.cell(item) for column in found] for item in plain)]


def flat_sheets(items: Sequence[Any], schema: Json, title: str) -> dict[str, list[Cells]]:
    """The items as a sheet, and beside it a sheet for each list in them."""
    plain = [listed_value(item, schema, False) for item in items]
    found = list(columns(listed_schema(schema, False), plain, wide=False))
    own = [column for column in found if not column.listed]
    rows: list[Cells] = [[column.heading for column in own], *([column.cell(item) for column in own] for item in plain)]
    return {title: rows} | {
        column.heading.replace("/", " "): entry_rows(column, own[:1], plain) for column in found if column.listed
    }


def entry_rows(column: Column, keys: Sequence[Column], items: Sequence[Any]) -> list[Cells]:
    """The entries of a list, a row each, behind the row and the first column of their item."""
    schema = column.schema.get("items", {})
    entries = [
        (NumberText(row), item, entry)
        for row, item in enumerate(items, start=2)
        for entry in (column.value(item) or ())
    ]
    found = list(columns(schema, [entry for _, _, entry in entries], wide=True))
    headings = [one.heading or str(column.path[-1]) for one in found]
    return [
        ["row", *(key.heading for key in keys), *headings],
        *(
            [row, *(key.cell(item) for key in keys), *(one.cell(entry) for one in found)]
            for row, item, entry in entries
        ),
    ]
