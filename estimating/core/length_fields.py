"""Lengths of an opening line: how a field of the line's table reads one, and which fields are lengths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from estimating.core.kinds import LARGEST
from rates.core.fields import Field, Reader, measure, number_text
from rates.core.fraction import Fraction
from rates.core.problems import Unreadable
from rates.core.units import read_length


@dataclass(frozen=True)
class LengthReader(Reader):
    """Reader of a length; its class says of a field that it is one."""


def length_reader(unit: str | None, *, zero: bool = False, negative: bool = False) -> LengthReader:
    """Reader of a length in the document's unit; gives units.Length, so that snapping can be told."""

    def parse(raw: object) -> Any:
        length = read_length(number_text(raw), unit=unit)
        if length.nm < 0 and not negative:
            raise Unreadable("too_small", "must not be negative")
        if length.nm == 0 and not zero:
            raise Unreadable("too_small", "must be more than 0; leave it out where it is unknown")
        if abs(length.nm) > LARGEST:
            raise Unreadable("too_large", "more than 1,000 m; is the unit right?")
        return length

    return LengthReader(parse, measure(lambda t: Fraction(0)).schema)


def names_of_lengths(fields: Iterable[Field]) -> tuple[str, ...]:
    """The names of the fields that are lengths."""
    return tuple(field.name for field in fields if isinstance(field.reader, LengthReader))
