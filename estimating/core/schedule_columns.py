"""Plain lines read together, column by column: what takes a schedule of 100,000 lines its time otherwise.

Only lines that stand one after another with the same few fields, all of them as simple as can be, are read this way;
for any others the answer is None, and they are read one by one with every fault named.

    rows > stretches with the same fields > columns > kinds, one look-up for each different one > lines
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import groupby, islice
from types import NoneType
from typing import Any, NamedTuple

from rates.core.jsontext import NumberText

Row = Mapping[str, object]
FEW = 8  # lines for which it does not pay
MOST = 2000  # lines: where one of them is unusual, no more than these are read one by one
SIMPLE_TEXTS = re.compile(r"(?:[A-Za-z0-9][A-Za-z0-9._/-]{0,79}\n)+", re.ASCII)


class Columns(NamedTuple):
    """The same field of all lines, one list each; `values` are those that decide the kind, one tuple a line."""

    marks: Sequence[str]
    quantities: Sequence[int]
    elevations: Sequence[str]
    storeys: Sequence[str]
    buildings: Sequence[str]
    phases: Sequence[str]
    values: Sequence[tuple[object, ...]]


def field_names(row: object) -> tuple[str, ...]:
    """The names of a line's fields as they stand; none for what is no line."""
    return tuple(row) if type(row) is dict else ()


def stretches(rows: Iterable[object]) -> Iterator[tuple[tuple[str, ...], list[Any]]]:
    """Rows one after another that have the same fields, MOST at the most, with the names of these."""
    for names, run in groupby(rows, key=field_names):
        while stretch := list(islice(run, MOST)):
            yield names, stretch


def read_columns(rows: Sequence[Row], kind_fields: Sequence[str], most_quantity: int) -> Columns | None:
    """The columns of rows with the same fields, None where any value is other than plain."""
    marks, quantities = column(rows, "mark"), column(rows, "quantity")
    places: list[list[str]] = [column(rows, name, "") for name in ("elevation", "storey", "building", "phase")]
    of_kind = [column(rows, name) for name in kind_fields]
    if not (are_of(str, marks, *places) and are_of(int, quantities)):
        return None
    if not (simple(marks) and all(simple(set(names) - {""}) for names in places)):
        return None
    if min(quantities) < 0 or max(quantities) > most_quantity or not all(map(plain, of_kind)):
        return None
    values = list(zip(*of_kind, strict=True)) if of_kind else [()] * len(rows)
    elevations, storeys, buildings, phases = places
    return Columns(marks, quantities, elevations, storeys, buildings, phases, values)


def column(rows: Sequence[Row], name: str, absent: object = None) -> list[Any]:
    """One field of all rows, which have the same fields."""
    return [row[name] for row in rows] if name in rows[0] else [absent] * len(rows)


def are_of(type_: type, *columns: Iterable[object]) -> bool:
    """Whether every value is of exactly this type."""
    return all(set(map(type, values)) == {type_} for values in columns)


def simple(texts: Collection[str]) -> bool:
    """Whether none of the texts needs cleaning."""
    joined = "".join(text + "\n" for text in texts)
    return joined.count("\n") == len(texts) and (not texts or SIMPLE_TEXTS.fullmatch(joined) is not None)


def plain(values: Iterable[object]) -> bool:
    """Whether values that are equal are written alike: all of one type, and of one that can be looked up."""
    types = set(map(type, values))
    return len(types) == 1 and types <= {str, int, bool, NoneType, NumberText}


def upper(marks: Sequence[str]) -> list[str]:
    """Marks without a line break in capitals."""
    return "\n".join(marks).upper().split("\n")
