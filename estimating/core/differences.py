"""Everything in which two values of the core differ: records field by field, rows by their code, lists by place.

Walks what was read and not what was written, so a default that was written out is no difference, and a field that comes
later is told without a line here.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from estimating.core.kinds import Override, Sill
from estimating.core.open_questions import OpenQuestions
from estimating.core.request import Allowance, Member, SheetWall, Subcontract, UnitPriceAsked
from estimating.core.shapes import Shape
from rates.core.labour_rows import Burden, Determination, LabourRow
from rates.core.production_rows import LearningRow, PerLength
from rates.core.rows import EquipmentRow, MaterialRow, OverheadRow, PackRow, RentalRow, Waste

# told as one, whatever of it differs
WHOLE = (Shape, Sill, Override, PerLength, Waste, LearningRow, Determination, SheetWall, Member, OpenQuestions)
# what tells the rows of a list apart; other lists go by place
KEYS: Mapping[type, str] = {
    LabourRow: "code",
    MaterialRow: "code",
    EquipmentRow: "code",
    OverheadRow: "code",
    Burden: "title",
    Subcontract: "title",
    Allowance: "title",
    UnitPriceAsked: "mark",
    PackRow: "label",
    RentalRow: "period",
}
ORDER = "order"


@dataclass(frozen=True)
class Difference:
    """One value: the names that lead to it (attributes, codes, places from 1), the last attribute, both values.

    None: nothing stands there. The path ends in ORDER where only the order of rows differs; the values are their keys.
    """

    path: tuple[str, ...]
    attribute: str
    before: Any
    after: Any


def is_record(value: object) -> bool:
    """Whether a value has named fields that are told one by one."""
    named = dataclasses.is_dataclass(value) or hasattr(value, "_fields")
    return named and not isinstance(value, WHOLE)


def field_names(record: Any) -> tuple[str, ...]:
    """The fields of a record that say something."""
    if dataclasses.is_dataclass(record):
        return tuple(field.name for field in dataclasses.fields(record))
    return tuple(record._fields)


def key_of(item: Any) -> str | None:
    """What tells an entry of a list apart: the name of a pair, the code of a row; None where only its place does."""
    if isinstance(item, tuple) and not hasattr(item, "_fields"):
        return item[0] if len(item) == 2 and isinstance(item[0], str) else None
    attribute = KEYS.get(type(item))
    return None if attribute is None else str(getattr(item, attribute))


def by_key(items: tuple[Any, ...]) -> dict[str, Any] | None:
    """The entries by what tells them apart; None where anything can't be told so, or stands twice."""
    keys = [key_of(item) for item in items]
    if None in keys or len(set(keys)) < len(keys):
        return None
    values = (item[1] if type(item) is tuple else item for item in items)
    return {str(key): value for key, value in zip(keys, values, strict=True)}


def differences(before: Any, after: Any, path: tuple[str, ...] = (), attribute: str = "") -> Iterator[Difference]:
    """Every value that differs, in the order of the fields."""
    if before == after:
        return
    if type(before) is type(after) and is_record(before):
        for name in field_names(before):
            yield from differences(getattr(before, name), getattr(after, name), (*path, name), name)
    elif type(before) is tuple and type(after) is tuple:
        yield from of_lists(before, after, path, attribute)
    else:
        yield Difference(path, attribute, before, after)


def of_lists(
    before: tuple[Any, ...], after: tuple[Any, ...], path: tuple[str, ...], attribute: str
) -> Iterator[Difference]:
    """The entries that differ; a list of plain values, as the coats of a film, is told as one."""
    first, second = by_key(before), by_key(after)
    if first is None or second is None:
        if attribute == "members" or not all(is_record(item) or isinstance(item, SheetWall) for item in before + after):
            yield Difference(path, attribute, before, after)
            return
        first, second = ({str(place): item for place, item in enumerate(items, 1)} for items in (before, after))
    found = False
    for key in dict.fromkeys((*first, *second)):
        for difference in differences(first.get(key), second.get(key), (*path, key), attribute):
            found = True
            yield difference
    if not found:
        yield Difference((*path, ORDER), attribute, tuple(first), tuple(second))
