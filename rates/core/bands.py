"""How far a layer may depart from the layer below it: a percentage for all numbers, others for named fields."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rates.core.exact import print_quantity, read_decimal
from rates.core.fields import Faults, Field, MapOf, Record, boolean, percent
from rates.core.fraction import Fraction
from rates.core.layers import LIST_TABLES
from rates.core.problems import Problem, Unreadable, escape
from rates.core.units import read_coverage, read_pack_size

Leaf = tuple[str, object]


@dataclass(frozen=True)
class Band:
    """The widest departure allowed, as a rate; `fields` by "table" or "table/field"; whether rows may be added."""

    rate: Fraction | None
    fields: tuple[tuple[str, Fraction], ...]
    new_rows: bool

    def rate_of(self, path: str) -> Fraction | None:
        """The rate of the longest stated path that `path` lies on; None allows any departure."""
        stated = [(len(name), rate) for name, rate in self.fields if path == name or path.startswith(f"{name}/")]
        return max(stated)[1] if stated else self.rate


BAND = Record(
    lambda percent, fields, new_rows: Band(percent, fields, new_rows),
    (
        Field("percent", percent(), "widest departure of any number from the layer below; any if absent"),
        Field("fields", MapOf(percent()), 'widest departure by "table" or "table/field"', default=()),
        Field("new_rows", boolean(), "whether a layer may add rows of its own", default=True),
    ),
    title="Band",
)


def leaves(value: object, at: str = "") -> Iterator[Leaf]:
    """Every (path, value) below a JSON value that holds no others."""
    if isinstance(value, Mapping):
        for name, item in value.items():
            yield from leaves(item, at + escape(name))
    elif isinstance(value, Sequence) and not isinstance(value, str):
        for i, item in enumerate(value):
            yield from leaves(item, f"{at}/{i}")
    else:
        yield at, value


def magnitude(value: object) -> tuple[str, Fraction] | None:
    """What a leaf measures and its size: a plain number, a length, a volume, a count, a coverage; None for words."""
    if isinstance(value, bool) or not isinstance(value, str | int):
        return None
    text = str(value).strip()
    try:
        return "number", read_decimal(text)
    except Unreadable:
        pass
    try:
        return ("coverage", read_coverage(text)) if "/" in text and "2/" in text else read_pack_size(text)
    except Unreadable:
        return None


def without_places(path: str) -> str:
    """A leaf's path without the places in lists: packs/0/price is packs/price."""
    return "/".join(step for step in path.strip("/").split("/") if not step.isdigit())


def check_object(
    below: Mapping[str, Any], own: Mapping[str, Any], table: str, band: Band, pointer: str, faults: Faults
) -> None:
    """Every number of one row or of the production table within the band of what it replaces."""
    old = dict(leaves(below))
    for path, value in leaves(own):
        rate = band.rate_of(f"{table}/{without_places(path)}")
        if path == "/code" or rate is None:
            continue
        now, was = magnitude(value), magnitude(old.get(path))
        if now is None or now == was:
            continue
        if was is None or was[0] != now[0]:
            faults.append(Problem(pointer + path, "outside_band", "the layer below has no number here to depart from"))
        elif abs(now[1] - was[1]) > rate * abs(was[1]):
            allowed = f"{print_quantity(rate * 100)} % of {old[path]}"
            faults.append(Problem(pointer + path, "outside_band", f"the company lets this depart by {allowed} at most"))


def check_band(below: Mapping[str, Any], layer: Mapping[str, Any], band: Band, faults: Faults) -> None:
    """Faults of a sound layer's document where it departs further from the merged document below than it may."""
    for table, content in (layer.get("tables") or {}).items():
        if table == "production":
            check_object(below["tables"][table], content, table, band, "/tables/production", faults)
        elif table in LIST_TABLES:
            rows = {str(row["code"]).strip(): row for row in below["tables"][table]}
            for i, row in enumerate(content):
                at = f"/tables/{table}/{i}"
                if str(row["code"]).strip() in rows:
                    check_object(rows[str(row["code"]).strip()], row, table, band, at, faults)
                elif not band.new_rows:
                    faults.append(Problem(at, "row_of_its_own", "the company lets this layer add no rows"))
