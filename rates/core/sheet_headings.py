"""Headings of an edition's sheets: the path of a field, its steps joined by "/", places in lists counted from 1."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from difflib import SequenceMatcher
from typing import Any

from rates.core.fields import ListOf, MapOf, Record
from rates.core.problems import escape

Path = tuple[str | int, ...]


def heading(path: Path) -> str:
    """A path as a heading."""
    steps = (str(s + 1) if isinstance(s, int) else escape(s)[1:] for s in path)
    return "/".join(steps)


def rank(reader: Any, path: Path, names: Mapping[Path, int]) -> tuple[int, ...]:
    """Where a column stands: fields in the order of their table, names of maps in the order of first sight."""
    found: list[int] = []
    for i, step in enumerate(path):
        if isinstance(reader, Record):
            found.append(list(reader.by_name).index(str(step)))
            reader = reader.by_name[str(step)].reader
        elif isinstance(reader, ListOf):
            found.append(int(step))
            reader = reader.item
        else:
            found.append(names[path[: i + 1]])
            reader = reader.value
    return tuple(found)


def reader_at(reader: Any, path: Path) -> Any:
    """The reader of what stands at a path of a table in its normal form."""
    for step in path:
        if isinstance(reader, Record):
            reader = reader.by_name[str(step)].reader
        else:
            reader = reader.item if isinstance(reader, ListOf) else reader.value
    return reader


def read_path(reader: Any, text: str) -> tuple[Path, Any] | None:
    """The path that a heading names and the reader at its end, None for anything unknown.

    Where the path ends at something that has parts, only (none) is sound in its cells: the table's reader says so.
    """
    path: list[str | int] = []
    for step in text.strip().split("/"):
        name = step.replace("~1", "/").replace("~0", "~")
        if isinstance(reader, Record) and name in reader.by_name:
            path.append(name)
            reader = reader.by_name[name].reader
        elif isinstance(reader, ListOf) and step.isascii() and step.isdigit() and 1 <= int(step[:5]) <= reader.high:
            path.append(int(step) - 1)
            reader = reader.item
        elif isinstance(reader, MapOf) and name.strip():
            path.append(name)
            reader = reader.value
        else:
            return None
    return tuple(path), reader


def near_field(record: Record, text: str) -> str | None:
    """The field whose name a heading has in other letters, misspells, or goes on from; None for words of their own."""
    names = list(field_names(record))
    whole = "_".join(re.findall("[a-z0-9]+", re.sub(r"\(.*?\)", "", text.lower())))
    first = text.partition("/")[0].strip().lower()
    if "/" in text and first in record.by_name:
        return first
    return next((name for name in names if alike(whole, name)), None)


def alike(text: str, name: str) -> bool:
    """Whether four in five letters of a heading and a field's name are the same, in one order: likely a slip."""
    same = sum(block.size for block in SequenceMatcher(None, text, name).get_matching_blocks())
    return 10 * same >= 4 * (len(text) + len(name))


def field_names(reader: Any) -> Iterator[str]:
    """The names of the fields of a table, those inside its fields as well."""
    if isinstance(reader, Record):
        for item in reader.fields:
            yield item.name
            yield from field_names(item.reader)
    elif isinstance(reader, ListOf | MapOf):
        yield from field_names(reader.item if isinstance(reader, ListOf) else reader.value)
