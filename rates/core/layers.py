"""Layers of rates: company book < branch book < project rates, merged by (table, code, field) at resolve time.

A layer's document holds only what differs: rows by their code with the fields that differ, or whole rows of its own.
Objects merge by name, lists and the learning model are taken whole, null takes a field away, and of forms that exclude
each other (a percentage, an amount, tiers; minutes a foot or a metre) the nearer layer's stands alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rates.core.rows import Supply

LAYERS = ("company", "branch", "project")
LIST_TABLES = ("labour", "materials", "equipment", "overheads")
TAKEN_WHOLE = frozenset({"learning"})
EXCLUSIVE: tuple[frozenset[str], ...] = (
    frozenset({"percent", "amount", "tiers"}),
    frozenset({"per_foot", "per_metre"}),
    frozenset({"minutes_per_foot", "minutes_per_metre"}),
    frozenset({"minutes_per_inch", "minutes_per_mm"}),
)
Key = tuple[str, str | None, str]
Supplies = dict[Key, Supply]


@dataclass(frozen=True)
class EditionSource:
    """One edition as stored: who it is, its document, and the edition of the layer below it."""

    id: str
    number: int
    layer: str
    document: Mapping[str, object]
    below: EditionSource | None = None

    def chain(self) -> tuple[EditionSource, ...]:
        """The editions of all layers, the company's first."""
        return (*self.below.chain(), self) if self.below is not None else (self,)

    def supply(self) -> Supply:
        """Who supplies what stands in this document."""
        return Supply(self.id, self.number, str(self.document.get("effective_from")).strip(), self.layer)


@dataclass(frozen=True)
class Place:
    """Where a value goes: the table, the row's code (None: the production table), and who supplies it."""

    table: str
    code: str | None
    supply: Supply
    found: Supplies

    def note(self, path: str) -> None:
        """The field is this layer's from here on, what stood there before is gone."""
        for key in [k for k in self.found if k[:2] == (self.table, self.code) and k[2].startswith(f"{path}/")]:
            del self.found[key]
        self.found[self.table, self.code, path] = self.supply


def merge(source: EditionSource) -> tuple[dict[str, Any], Supplies]:
    """The one document that the layers of a source come to, and who supplied each field that is not the company's.

    A document that is no sound layer merges as far as it can be read: reading the outcome tells its faults.
    """
    bottom, *above = source.chain()
    document: dict[str, Any] = dict(bottom.document)
    found: Supplies = {}
    for layer in above:
        document = merge_layer(document, layer, found)
    return document, found


def merge_layer(below: Mapping[str, Any], layer: EditionSource, found: Supplies) -> dict[str, Any]:
    """The document below with one layer on it; counts from the later of the two starts."""
    tables = dict(below.get("tables") or {})
    own = layer.document.get("tables")
    for table, content in own.items() if isinstance(own, Mapping) else ():
        if table in LIST_TABLES:
            tables[table] = merge_rows(tables.get(table) or (), content, table, layer.supply(), found)
        elif table == "production" and isinstance(content, Mapping):
            place = Place(table, None, layer.supply(), found)
            tables[table] = merge_object(tables.get(table) or {}, content, "", place)
    start = max(str(document.get("effective_from")).strip() for document in (below, layer.document))
    return {**below, "effective_from": start, "tables": tables}


def merge_rows(
    below: Sequence[Mapping[str, Any]], own: object, table: str, supply: Supply, found: Supplies
) -> list[Mapping[str, Any]]:
    """The rows below in their order, each with the fields of its layer's row, then the layer's own rows."""
    rows = {str(row.get("code")).strip(): row for row in below}
    for row in own if isinstance(own, Sequence) else ():
        if not isinstance(row, Mapping):
            continue
        code = str(row.get("code")).strip()
        place = Place(table, code, supply, found)
        if code in rows:
            rows[code] = merge_object(rows[code], {k: v for k, v in row.items() if k != "code"}, "", place)
        else:
            rows[code] = row
            place.note("")
    return list(rows.values())


def merge_object(below: Mapping[str, Any], own: Mapping[str, Any], path: str, place: Place) -> dict[str, Any]:
    """The object below with the names of the layer's: objects by name, everything else whole."""
    merged = dict(below)
    for name, value in own.items():
        at = f"{path}/{name}".lstrip("/")
        for names in EXCLUSIVE:
            if name in names and value is not None:
                merged = {k: v for k, v in merged.items() if k == name or k not in names}
        old = merged.get(name)
        if isinstance(value, Mapping) and isinstance(old, Mapping) and name not in TAKEN_WHOLE:
            merged[name] = merge_object(old, value, at, place)
        else:
            merged[name] = value
            place.note(at)
    return merged


def supplied(found: Mapping[Key, Supply], at: Key) -> Supply | None:
    """Who supplied a field: the longest noted path that it lies on, else one that lies inside it, else None."""
    table, code, field = at
    for path in paths_up(field):
        if (table, code, path) in found:
            return found[table, code, path]
    inside = [supply for key, supply in found.items() if key[:2] == (table, code) and key[2].startswith(f"{field}/")]
    return max(inside, key=lambda supply: LAYERS.index(supply.layer), default=None)


def paths_up(field: str) -> Iterator[str]:
    """The field's path, then each that it lies on, down to the whole row."""
    while field:
        yield field
        field = field.rpartition("/")[0]
    yield ""
