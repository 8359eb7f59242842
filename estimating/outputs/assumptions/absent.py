"""The fields of a field table that a document leaves out and that then stand at a default."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from estimating.outputs.assumptions.words import field_said, value_said
from rates.core.exact import print_quantity
from rates.core.fields import Field, ListOf, Record
from rates.core.fraction import Fraction
from rates.core.production_rows import LearningRow
from rates.core.rows import Waste
from rates.core.tables import length, length_or_zero

Show = Callable[[Fraction], str]


@dataclass(frozen=True)
class Absent:
    """A field that was left out; path: the names that lead to it, places in lists as numbers."""

    path: tuple[str, ...]
    field: Field

    @property
    def name(self) -> str:
        """The path as one text."""
        return "/".join(self.path)

    def sentence(self, whose: str, value: str) -> str:
        """What is left open, and what is taken; whose: who leaves it open, and how that is said."""
        return f"{whose} {field_said(self.path[-1], self.field)}; taken: {value_said(self.name, value)}."


def absent_fields(fields: Sequence[Field], raw: Mapping[str, Any], path: tuple[str, ...] = ()) -> Iterator[Absent]:
    """Every field that is left out and has a default, those of records inside with them."""
    for field in fields:
        value, at = raw.get(field.name), (*path, field.name)
        record = field.reader if isinstance(field.reader, Record) else None
        if record is not None and isinstance(value, Mapping):
            yield from absent_fields(record.fields, value, at)
        elif value is None and record is not None and field.default is not None and stands_alone(record):
            yield from absent_fields(record.fields, {}, at)
        elif value is None and field.default is not None:
            yield Absent(at, field)
        elif isinstance(field.reader, ListOf) and isinstance(value, list) and isinstance(field.reader.item, Record):
            for place, entry in enumerate(value):
                if isinstance(entry, Mapping):
                    yield from absent_fields(field.reader.item.fields, entry, (*at, str(place)))


def stands_alone(record: Record) -> bool:
    """Whether a record needs none of its fields: left out, it stands at the defaults of all of them."""
    return not any(field.required for field in record.fields)


def print_default(field: Field, show: Show) -> str:
    """A field's default as people read it."""
    value = field.default
    if isinstance(value, Waste):
        return f"{print_quantity(value.rate * 100)} %"
    if isinstance(value, LearningRow):
        return value.model
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return show(value) if field.reader in (length, length_or_zero) else print_quantity(value)
    if isinstance(value, tuple):
        sizes = [show(item) for item in value if isinstance(item, Fraction)]
        words = [item for item in value if isinstance(item, str)]
        return " × ".join(sizes) or ", ".join(words) or "none"
    return str(value)
