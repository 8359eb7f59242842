"""Plain lines read together, column by column: what takes a schedule of 100,000 lines its time otherwise.

Only lines with the same few fields, all of them as simple as can be, are read this way; for any others the answer is
None, and they are read one by one with every fault named.

    rows > those with the same fields > columns > kinds, one look-up for each different one > lines
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from types import NoneType
from typing import Any, NamedTuple

from estimating.core.schedule_lines import MOST_NAME, MOST_NOTE, MOST_QUANTITY, mark_key
from rates.core.jsontext import NumberText

Row = Mapping[str, object]
FEW = 4  # lines for which it does not pay
MOST = 2000  # lines that are looked through at a time
PLACES = ("elevation", "storey", "building", "phase")
TAKEN = frozenset({"id", "mark", "quantity", "note", *PLACES})  # of the fields of a line that are no kind's
NEEDED = {"mark", "quantity"}


class Columns(NamedTuple):
    """The same field of all lines, one list each; `values` are those that decide the kind, one tuple a line.

    types: what each of the values is of, the same in all lines; lines of equal values are then written alike.
    """

    marks: Sequence[str]
    keys: Sequence[str]
    quantities: Sequence[int]
    elevations: Sequence[str]
    storeys: Sequence[str]
    buildings: Sequence[str]
    phases: Sequence[str]
    ids: Sequence[str | None]
    values: Sequence[tuple[object, ...]]
    types: tuple[type, ...]


def stretches(rows: Iterable[object]) -> Iterator[list[Any]]:
    """Rows one after another, MOST at the most."""
    remaining = iter(rows)
    while stretch := list(islice(remaining, MOST)):
        yield stretch


def by_names(rows: Sequence[object]) -> dict[tuple[str, ...], list[int]]:
    """Places of the rows by the names of their fields, none of them for what is no line."""
    found: dict[tuple[str, ...], list[int]] = {}
    for place, row in enumerate(rows):
        names = tuple(row) if type(row) is dict else ()
        if names in found:
            found[names].append(place)
        else:
            found[names] = [place]
    return found


def read_columns(rows: Sequence[Row], kind_fields: Sequence[str]) -> Columns | None:
    """The columns of rows with the same fields, None where any value is other than plain."""
    marks, quantities = texts(column(rows, "mark"), MOST_NAME), column(rows, "quantity")
    if marks is None or set(map(type, quantities)) != {int}:
        return None
    if min(quantities) < 0 or max(quantities) > MOST_QUANTITY:
        return None
    elevations, storeys, buildings, phases = [texts(column(rows, name, ""), MOST_NAME, blank=True) for name in PLACES]
    if elevations is None or storeys is None or buildings is None or phases is None:
        return None
    if texts(column(rows, "note", ""), MOST_NOTE, blank=True) is None:
        return None
    ids: Sequence[str | None] | None = texts(column(rows, "id"), MOST_NAME) if "id" in rows[0] else [None] * len(rows)
    of_kind = [column(rows, name) for name in kind_fields]
    types = [set(map(type, values)) for values in of_kind]
    if ids is None or not all(len(one) == 1 and one <= SIMPLE for one in types):
        return None
    values = list(zip(*of_kind, strict=True)) if of_kind else [()] * len(rows)
    places = (elevations, storeys, buildings, phases)
    return Columns(marks, mark_keys(marks), quantities, *places, ids, values, tuple(one.pop() for one in types))


SIMPLE = {str, int, bool, NoneType, NumberText}  # values of one of these types that are equal are written alike


def column(rows: Sequence[Row], name: str, absent: object = None) -> list[Any]:
    """One field of all rows, which have the same fields."""
    return [row[name] for row in rows] if name in rows[0] else [absent] * len(rows)


def texts(values: Sequence[Any], limit: int, *, blank: bool = False) -> list[str] | None:
    """Texts trimmed, as fields.text reads each; None where any has a fault, or a character that it looks at closer."""
    if set(map(type, values)) != {str} or max(map(len, values)) > limit or not "".join(values).isprintable():
        return None
    trimmed = list(map(str.strip, values))
    return trimmed if blank or all(trimmed) else None


def mark_keys(marks: Sequence[str]) -> Sequence[str]:
    """The key of each mark, by which it is compared."""
    joined = "\n".join(marks)
    return joined.upper().split("\n") if joined.isascii() and "  " not in joined else list(map(mark_key, marks))
