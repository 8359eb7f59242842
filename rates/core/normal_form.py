"""One way to write a table: numbers as text, true and false as themselves, nothing that says nothing.

What is stored and digested is this form, so that a table means the same in JSON, CSV and XLSX.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rates.core.fields import ListOf, Record, boolean
from rates.core.layer_reading import ROWS
from rates.core.production import PRODUCTION

BOOLEAN = boolean().schema


def reader_of(table: str) -> Any:
    """The reader of a whole table."""
    return PRODUCTION if table == "production" else ListOf(ROWS[table])


def is_boolean(reader: Any) -> bool:
    """Whether a reader takes true and false."""
    return getattr(reader, "schema", None) == BOOLEAN


def normal(reader: Any, value: Any, keep_null: bool) -> Any:
    """A sound value in the one form; None for what says nothing. Null is kept where it takes a field away."""
    if isinstance(value, Mapping):
        found = {}
        for name, item in value.items():
            inner = reader.by_name[name].reader if isinstance(reader, Record) else reader.value
            written = normal(inner, item, keep_null)
            if written is not None or (keep_null and item is None):
                found[name.strip()] = written
        return found or None
    if isinstance(reader, ListOf) and value is not None:
        return [normal(reader.item, item, keep_null) or {} for item in value] or None
    if value is None or isinstance(value, bool):
        return value
    if is_boolean(reader):
        return reader.parse(value)
    return str(value).strip()


def normal_table(table: str, content: Any, *, layer: bool = False) -> Any:
    """A sound table in the one form; of a layer nulls stay, and an emptied object stays empty."""
    return normal(reader_of(table), content, layer) or ({} if table == "production" else [])


def normal_document(document: Mapping[str, Any], *, layer: bool = False) -> dict[str, Any]:
    """A sound edition's document with its tables in the one form."""
    tables = {name: normal_table(name, content, layer=layer) for name, content in document["tables"].items()}
    return {**document, "tables": tables}
