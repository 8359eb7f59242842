"""A layer's document read: every field by its table's own reader, what says nothing new told, the outcome sound."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rates.core.bands import Band, check_band
from rates.core.card import Card, EditionSource, parse_currency, read_edition
from rates.core.fields import Faults, Field, MapOf, Reader, Record, date, shown, text
from rates.core.labour_table import LABOUR
from rates.core.layers import LIST_TABLES, TAKEN_WHOLE, merge
from rates.core.problems import Problem, Refused, escape
from rates.core.production import PRODUCTION
from rates.core.tables import EQUIPMENT, MATERIALS, OVERHEADS

ROWS: Mapping[str, Record] = {
    "labour": LABOUR,
    "materials": MATERIALS,
    "equipment": EQUIPMENT,
    "overheads": OVERHEADS,
}
anything = Reader(lambda raw: raw, {"type": "object"})
HEAD = Record(
    lambda **v: v,
    (
        Field("effective_from", date(), "first day of work that the edition prices", required=True),
        Field("note", text(2000, blank=True), "a note"),
        Field("currency", Reader(parse_currency, {"type": "string"}), "ISO 4217, that of the layer below"),
        Field("tables", anything, "the tables, with only what differs", required=True),
    ),
)


def same(reader: Any, below: object, own: object) -> bool:
    """Whether two written values are read as the same."""
    quiet: Faults = []
    first, second = reader.read(below, "", quiet), reader.read(own, "", quiet)
    return not quiet and bool(first == second)


def read_field(reader: Any, below: object, own: object, name: str, pointer: str, faults: Faults) -> None:
    """The faults of one field on its own: unreadable, unknown inside, or no different from the layer below."""
    nested = isinstance(own, Mapping) and isinstance(below, Mapping) and name not in TAKEN_WHOLE
    if nested and isinstance(reader, Record):
        read_object(reader, below, own, pointer, faults)  # type: ignore[arg-type]
    elif nested and isinstance(reader, MapOf):
        assert isinstance(own, Mapping) and isinstance(below, Mapping)
        for inner, value in own.items():
            if reader.names and inner not in reader.names:
                detail = f"one of {', '.join(reader.names)} is expected"
                faults.append(Problem(pointer + escape(inner), "unknown_choice", detail))
            else:
                read_field(reader.value, below.get(inner), value, inner, pointer + escape(inner), faults)
    elif own is None:
        if below is None:
            faults.append(Problem(pointer, "no_difference", "the layer below has nothing here to take away"))
    else:
        before = len(faults)
        reader.read(own, pointer, faults)
        if len(faults) == before and below is not None and same(reader, below, own):
            faults.append(Problem(pointer, "no_difference", "the layer below says the same; leave it out"))


def read_object(record: Record, below: Mapping[str, Any], own: Mapping[str, Any], pointer: str, faults: Faults) -> None:
    """The faults of the fields that an object of a layer gives; what it leaves out is the layer below's."""
    for name, value in own.items():
        found = record.by_name.get(name)
        if found is None:
            known = ", ".join(record.by_name)
            faults.append(Problem(pointer + escape(name), "unknown_field", f"no such field; known here: {known}"))
        elif name != "code":
            read_field(found.reader, below.get(name), value, name, pointer + escape(name), faults)


def read_rows(record: Record, below: Sequence[Mapping[str, Any]], own: object, pointer: str, faults: Faults) -> None:
    """The faults of the rows of a layer's table; a row whose code is new must be whole."""
    if not isinstance(own, Sequence) or isinstance(own, str):
        faults.append(Problem(pointer, "not_a_list", f"a list is expected, not {shown(own)}"))
        return
    rows = {str(row.get("code")).strip(): row for row in below}
    seen: set[str] = set()
    for i, row in enumerate(own):
        at = f"{pointer}/{i}"
        if not isinstance(row, Mapping):
            faults.append(Problem(at, "not_an_object", f"an object is expected, not {shown(row)}"))
            continue
        code = record.by_name["code"].reader.read(row.get("code"), f"{at}/code", faults)
        if code in seen:
            faults.append(Problem(f"{at}/code", "duplicate_code", f'the code "{code}" stands twice'))
        seen.add(code)
        if code in rows:
            if len(row) == 1:
                faults.append(Problem(at, "no_difference", "this row changes nothing; leave it out"))
            read_object(record, rows[code], row, at, faults)
        elif code is not None:
            record.read(row, at, faults)


def read_tables(below: Mapping[str, Any], own: object, faults: Faults) -> None:
    """The faults of the tables of a layer's document."""
    if not isinstance(own, Mapping):
        faults.append(Problem("/tables", "not_an_object", f"an object is expected, not {shown(own)}"))
        return
    for table, content in own.items():
        at = "/tables" + escape(table)
        if table in LIST_TABLES:
            read_rows(ROWS[table], below[table], content, at, faults)
        elif table != "production":
            faults.append(Problem(at, "unknown_field", f"no such table; known here: {', '.join(ROWS)}, production"))
        elif not isinstance(content, Mapping):
            faults.append(Problem(at, "not_an_object", f"an object is expected, not {shown(content)}"))
        else:
            read_object(PRODUCTION, below["production"], content, at, faults)


def place_fault(fault: Problem, merged: Mapping[str, Any], own: Mapping[str, Any]) -> Problem:
    """A fault of the merged document where the layer's own document says it, else at its table."""
    steps = fault.pointer.split("/")
    if len(steps) < 4 or steps[2] not in LIST_TABLES or not steps[3].isdigit():
        return fault
    table, code = steps[2], str(merged["tables"][steps[2]][int(steps[3])].get("code")).strip()
    codes = [str(row.get("code")).strip() for row in own.get("tables", {}).get(table) or ()]
    if code not in codes:
        detail = f'row "{code}" of the layer below: {fault.detail}'
        return Problem(f"/tables/{table}", fault.code, detail, fault.document)
    pointer = "/".join(["", "tables", table, str(codes.index(code)), *steps[4:]])
    return Problem(pointer, fault.code, fault.detail, fault.document)


def read_layer(source: EditionSource, band: Band | None) -> Card:
    """The rate card that a layer's edition gives on the layers below it; Refused with every fault of the layer.

    Pointers are in the layer's own document. band: how far it may depart, None as far as it likes.
    """
    assert source.below is not None
    faults: Faults = []
    own = source.document
    below, _ = merge(source.below)
    head = HEAD.read(own, "", faults)
    if head is not None and head["currency"] not in (None, below["currency"]):
        faults.append(Problem("/currency", "other_currency", f"the layer below is in {below['currency']}"))
    if isinstance(own, Mapping) and own.get("tables") is not None:
        read_tables(below["tables"], own["tables"], faults)
    if not faults and band is not None:
        check_band(below, own, band, faults)
    card: Card | None = None
    if not faults or all(fault.code == "outside_band" for fault in faults):
        try:
            card = read_edition(source)
        except Refused as refused:
            merged, _ = merge(source)
            faults.extend(place_fault(fault, merged, own) for fault in refused.problems)
    if faults or card is None:
        raise Refused([fault.within("", "edition") for fault in faults])
    return card
