"""Two editions row by row: what was added, taken out, changed or moved; a respelt value is no change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rates.core.card import EDITION, TABLES
from rates.core.fields import Faults, ListOf, MapOf, Record
from rates.core.layer_reading import ROWS
from rates.core.problems import escape
from rates.core.production import PRODUCTION

HEAD = ("effective_from", "currency", "rounding", "sales_tax_by", "cost_codes", "note")


@dataclass(frozen=True)
class FieldChange:
    """One value: its path in the row, and what each edition writes (None: nothing)."""

    field: str
    before: Any
    after: Any


@dataclass(frozen=True)
class RowChange:
    """One row (code None: the production table or the head): added, removed, changed or moved."""

    table: str
    code: str | None
    change: str
    fields: tuple[FieldChange, ...]


def same(reader: Any, before: Any, after: Any) -> bool:
    """Whether two written values are read as the same; what can't be read is compared as written."""
    if before == after:
        return True
    faults: Faults = []
    first, second = reader.read(before, "", faults), reader.read(after, "", faults)
    return not faults and bool(first == second)


def differences(reader: Any, before: Any, after: Any, at: str = "") -> list[FieldChange]:
    """The values that differ, objects taken apart by name and lists by place."""
    if (before is None and after is None) or (None not in (before, after) and same(reader, before, after)):
        return []
    found: list[FieldChange] = []
    if isinstance(reader, Record) and all(isinstance(v, Mapping | None) for v in (before, after)):
        first, second = before or {}, after or {}
        for f in reader.fields:
            found += differences(f.reader, first.get(f.name), second.get(f.name), at + escape(f.name))
    elif isinstance(reader, MapOf) and all(isinstance(v, Mapping | None) for v in (before, after)):
        first, second = before or {}, after or {}
        for name in dict.fromkeys((*first, *second)):
            found += differences(reader.value, first.get(name), second.get(name), at + escape(name))
    elif isinstance(reader, ListOf) and all(isinstance(v, list | tuple | None) for v in (before, after)):
        first, second = before or (), after or ()
        for i in range(max(len(first), len(second))):
            one, other = (values[i] if i < len(values) else None for values in (first, second))
            found += differences(reader.item, one, other, f"{at}/{i}")
    else:
        found.append(FieldChange(at.removeprefix("/"), before, after))
    return found


def longest(runs: Sequence[list[str]]) -> list[str]:
    """The longest run, the first of equals; none where there is none."""
    return max(runs, key=lambda run: len(run)) if runs else []


def moved(before: Sequence[str], after: Sequence[str]) -> set[str]:
    """Codes in both lists that no longer stand in the order they had: all but a longest run that kept it."""
    places = {code: i for i, code in enumerate(before)}
    common = [code for code in after if code in places]
    best: list[list[str]] = []
    for k, code in enumerate(common):
        runs = [best[j] for j in range(k) if places[common[j]] < places[code]]
        best.append([*longest(runs), code])
    kept = set(longest(best))
    return {code for code in common if code not in kept}


def row_changes(table: str, before: Sequence[Mapping[str, Any]], after: Sequence[Mapping[str, Any]]) -> list[RowChange]:
    """The rows of a list table that differ, in the order of the later edition, those taken out last.

    Only in overheads does the order of rows decide anything, so only there is a moved row a change.
    """
    record = ROWS[table]
    first = {str(row["code"]).strip(): row for row in before}
    second = {str(row["code"]).strip(): row for row in after}
    shifted = moved(list(first), list(second)) if table == "overheads" else set()
    found = []
    for code, row in second.items():
        fields = tuple(differences(record, first.get(code), row))
        if code not in first:
            found.append(RowChange(table, code, "added", fields))
        elif fields:
            found.append(RowChange(table, code, "changed", fields))
        if code in shifted:
            found.append(RowChange(table, code, "moved", ()))
    gone = [code for code in first if code not in second]
    return found + [RowChange(table, code, "removed", tuple(differences(record, first[code], None))) for code in gone]


def edition_changes(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[RowChange, ...]:
    """Everything in which two editions' documents differ: the head, then table by table."""
    head: list[FieldChange] = []
    for name in HEAD:
        field = EDITION.by_name.get(name)
        if field is not None:
            head += differences(field.reader, before.get(name), after.get(name), f"/{name}")
    found = [RowChange("edition", None, "changed", tuple(head))] if head else []
    first, second = before["tables"], after["tables"]
    for table in TABLES:
        if table != "production":
            found += row_changes(table, first.get(table) or (), second.get(table) or ())
        elif fields := differences(PRODUCTION, first.get(table), second.get(table)):
            found.append(RowChange(table, None, "changed", tuple(fields)))
    return tuple(found)
