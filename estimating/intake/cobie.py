"""Openings of a COBie workbook: Type and Component joined, counted per type and storey; sizes settled or asked about.

Facility > unit, Type > openings and their sizes, Component > counts, Space > storeys, Attribute > exterior
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from estimating.intake.asking import BLOCKS_COSTING, BLOCKS_ISSUE, Asker
from estimating.intake.cells import Reading, blank, read_cell_length, read_cell_size
from estimating.intake.checks import LEAST, MOST
from estimating.intake.cobie_sheets import Record, records
from estimating.intake.draft import Draft
from estimating.intake.kind_words import kind_of
from estimating.intake.vocabulary import UNIT_WORDS
from rates.core.fraction import Fraction
from rates.core.grid import Sheet
from rates.core.units import LENGTH_NM

ASKED_UNITS = ("mm", "m", "cm", "in", "ft")
HIGHEST = 2000 * LENGTH_NM["m"]  # no storey stands higher
NOT_OPENINGS = re.compile(
    r"blind|shade|cubicle|toilet|compartment|partition|hardware|closer|hinge|lock|operator|film|cabinet|locker|screen"
    r"|treatment|covering|curtain(?![ -]?wall)|elevator|hatch|access (?:door|panel)|signage",
    re.IGNORECASE,
)
_IN_TEXT = re.compile(
    r"([0-9][0-9.'\"/ -]*?(?:mm|cm|m|in|ft)?)\s*(?:x|×|by)\s*([0-9][0-9.'\"/ -]*(?:mm\b|cm\b|m\b|in\b|ft\b|\"|')?)",
    re.IGNORECASE,
)


@dataclass
class CobieReading:
    """Drafts, the records of each, and what is reported beside them."""

    drafts: list[Draft] = field(default_factory=list)
    records: list[Record] = field(default_factory=list)
    apart: list[dict[str, Any]] = field(default_factory=list)

    def place(self, index: int, name: str | None = None) -> str:
        """The cell of the Type sheet that a field was read from."""
        cell = {"width": "nominalwidth", "height": "nominalheight", "mark": "name"}.get(name or "")
        return self.drafts[index].places.get(name or "") or self.records[index].place(cell)


@dataclass
class Sized:
    """A type of opening and what its columns say of its size."""

    record: Record
    kind: str
    width: Reading
    length: Reading
    height: Reading


def read_cobie(sheets: Sequence[Sheet], asker: Asker) -> CobieReading:
    """The opening lines of a COBie workbook."""
    reading = CobieReading()
    types = find_types(records(sheets, "type"), reading, asker)
    unit = settle_unit(sheets, types, asker)
    counts = count_components(sheets, {record.text("name") for record, _ in types}, asker)
    external = externals(sheets)
    by_length = ask_lengths([size(record, kind, unit) for record, kind in types], asker)
    for sized in by_length:
        add_lines(reading, sized, counts.get(sized.record.text("name"), {}), external, asker)
    check_floors(sheets, unit, asker)
    return reading


def find_types(rows: Sequence[Record], reading: CobieReading, asker: Asker) -> list[tuple[Record, str]]:
    """Types that are windows or doors; what only sounds like one is reported."""
    found, sounding = [], []
    for record in rows:
        category, name = record.text("category"), f"{record.text('name')} {record.text('description')}"
        kind = kind_of(category) or kind_of(name)
        if kind not in ("window", "door", "louvre"):
            continue
        if NOT_OPENINGS.search(category) or NOT_OPENINGS.search(name):
            sounding.append(record)
        else:
            found.append((record, kind))
    if sounding:
        listed = ", ".join(record.text("name")[:40] for record in sounding[:8])
        asker.tell(
            "not_openings", f"{len(sounding)} types only sound like windows or doors: {listed}. They are left out.",
            cells=[record.place("name") for record in sounding],
        )  # fmt: skip
        reading.apart.extend({"what": "not_an_opening", "mark": record.text("name")} for record in sounding)
    return found


def settle_unit(sheets: Sequence[Sheet], types: Sequence[tuple[Record, str]], asker: Asker) -> str:
    """The unit of the sizes: as Facility declares it, asked for where it declares none or one that can't be."""
    facility = records(sheets, "facility")
    declared = UNIT_WORDS.get(facility[0].text("linearunits").lower(), "") if facility else ""
    cells = [facility[0].place("linearunits")] if facility else []
    if not declared:
        answer = asker.ask(
            "unit_unknown", BLOCKS_COSTING, "The workbook declares no unit of length. In which unit are its sizes?",
            about=("cobie",), choices=ASKED_UNITS, cells=cells,
        )  # fmt: skip
        return answer or ""
    sizes = [
        nm for record, _ in types for name in ("nominalwidth", "nominalheight") if (nm := known(record, name, declared))
    ]
    wild = [nm for nm in sizes if nm > MOST]
    if not wild or len(wild) * 2 < len(sizes):
        return declared
    factor = LENGTH_NM[declared]
    fitting = [u for u in ASKED_UNITS if all(LEAST <= nm / factor * LENGTH_NM[u] <= MOST for nm in wild)]
    largest = max(wild) / LENGTH_NM["m"]
    answer = asker.ask(
        "unit_implausible", BLOCKS_COSTING,
        f"The workbook declares {declared}; that makes an opening {int(largest):,} m wide or high. Which unit is it?",
        about=("cobie", declared), choices=(*fitting, declared), cells=cells,
    )  # fmt: skip
    return answer or declared


def known(record: Record, name: str, unit: str) -> Fraction | None:
    """A size of a record, None where it says none."""
    return read_cell_length(record.text(name), unit).nm if record.text(name) else None


def size(record: Record, kind: str, unit: str) -> Sized:
    """What a type's size columns say."""
    readings = [
        read_cell_length(record.text(name), unit) for name in ("nominalwidth", "nominallength", "nominalheight")
    ]
    return Sized(record, kind, *readings)


def ask_lengths(types: list[Sized], asker: Asker) -> list[Sized]:
    """The types, width taken from NominalLength where NominalWidth has none, or a leaf's thickness, and so answered."""
    doubtful = [
        s for s in types
        if s.length.nm is not None and s.length.nm >= LEAST and (s.width.nm is None or s.width.nm < LEAST)
    ]  # fmt: skip
    if not doubtful:
        return types
    answer = asker.ask(
        "width_in_length_column", BLOCKS_COSTING,
        f"{len(doubtful)} types have no likely NominalWidth but a NominalLength. Is that the width?",
        about=sorted(s.record.text("name") for s in doubtful)[:300], choices=("length_is_width", "width_unknown"),
        cells=[s.record.place("nominallength") for s in doubtful],
    )  # fmt: skip
    nothing = Reading(code="unknown", detail="NominalWidth holds no likely width")
    for sized in doubtful:
        sized.width = sized.length if answer == "length_is_width" else nothing
    return types


def count_components(sheets: Sequence[Sheet], wanted: set[str], asker: Asker) -> dict[str, dict[str, int]]:
    """Type -> storey -> how many components; spaces on two storeys are asked about."""
    floors = {record.text("name"): record.text("floorname") for record in records(sheets, "space")}
    counts: dict[str, dict[str, int]] = {}
    split: list[tuple[Record, list[str]]] = []
    for record in records(sheets, "component"):
        kind = record.text("typename")
        if kind not in wanted:
            continue
        storeys = storeys_of(record.text("space"), floors)
        if len(storeys) > 1:
            split.append((record, storeys))
        storey = storeys[0] if storeys else ""
        found = counts.setdefault(kind, {})
        found[storey] = found.get(storey, 0) + 1
    if split:
        asker.ask(
            "two_storeys", BLOCKS_ISSUE,
            f"{len(split)} components stand between spaces of two storeys; they are counted on the first. Right?",
            about=sorted(record.text("name") for record, _ in split)[:300], choices=("as_read",),
            cells=[record.place("space") for record, _ in split],
        )  # fmt: skip
    return counts


def storeys_of(spaces: str, floors: dict[str, str]) -> list[str]:
    """The storeys of the spaces in one cell, which may hold several."""
    names = [spaces] if spaces in floors else [part.strip() for part in re.split(r"[,;|]", spaces) if part.strip()]
    return list(dict.fromkeys(floors.get(name, "") or (name if name in floors.values() else "") for name in names))


def externals(sheets: Sequence[Sheet]) -> dict[str, bool]:
    """Type -> exterior or interior, where the Attribute sheet says so."""
    found = {}
    for record in records(sheets, "attribute"):
        if record.text("name").lower() == "isexternal" and record.text("sheetname").lower() == "type":
            value = record.text("value").lower()
            if value in ("true", "yes", "1", "false", "no", "0"):
                found[record.text("rowname")] = value in ("true", "yes", "1")
    return found


def add_lines(
    reading: CobieReading, sized: Sized, counts: dict[str, int], external: dict[str, bool], asker: Asker
) -> None:  # fmt: skip
    """A line for each storey of a type; a type without components is told."""
    record = sized.record
    name = record.text("name")
    if not counts:
        asker.tell(
            "type_not_used",
            f"The type {name[:60]} has no component; it is not counted.",
            about=(name,),
            cells=(record.place("name"),),
        )
        return
    values: dict[str, Any] = {"mark": " ".join(name.split())[:80], "kind": sized.kind}
    written: dict[str, str] = {}
    places = {"width": record.place("nominallength")} if sized.width is sized.length else {}
    for field_name, reading_of in (("width", sized.width), ("height", sized.height)):
        if not reading_of.code:
            values[field_name] = reading_of.text
    if not ("width" in values and "height" in values):
        ask_size(sized, values, written, asker)
    if name in external:
        values["external"] = external[name]
    for storey, count in counts.items():
        index = len(reading.drafts)
        line = {**values, "quantity": count} | ({"storey": storey} if storey else {})
        reading.drafts.append(Draft(line, 0, index, dict(written), dict(places)))
        reading.records.append(record)


def ask_size(sized: Sized, values: dict[str, Any], written: dict[str, str], asker: Asker) -> None:
    """A size that the columns don't give: what the description says is offered, never taken."""
    record = sized.record
    said = size_in_text(f"{record.text('description')} {record.text('name')}")
    answer = asker.ask(
        "size_unknown", BLOCKS_COSTING,
        f"What is the size of {record.text('name')[:60]}? Its columns say"
        f" {sized.width.text or 'nothing'} by {sized.height.text or 'nothing'}.",
        about=(record.text("name"), record.text("nominalwidth"), record.text("nominalheight"), said),
        choices=(*([said] if said else ()), "set_aside"), open_answer="a size such as 3'-0\" x 6'-8\"",
        cells=(record.place("nominalwidth"), record.place("nominalheight")),
    )  # fmt: skip
    if answer == "set_aside":
        values["excluded"] = {"reason": "size unknown"}
    elif answer:
        width, height = read_cell_size(answer, "")
        if width.code or height.code:
            asker.refuse("size_unknown", (), width.detail or height.detail)
        else:
            written |= {"width": record.text("nominalwidth"), "height": record.text("nominalheight")}
            values |= {"width": width.text, "height": height.text}


def size_in_text(text: str) -> str:
    """A size that stands in words, such as Window 915 x 1830 mm; blank where none does."""
    match = _IN_TEXT.search(text)
    if match is None:
        return ""
    first, second = (part.strip() for part in match.groups())
    unit = next((u for u in ("mm", "cm", "in", "ft", "m") if second.lower().endswith(u)), "")
    if unit and first.replace(".", "").isdigit():
        first = f"{first} {unit}"
    offered = f"{first} x {second}"
    width, height = read_cell_size(offered, "")
    return "" if width.code or height.code or blank(offered) else offered


def check_floors(sheets: Sequence[Sheet], unit: str, asker: Asker) -> None:
    """Storey elevations that can't be; they are not priced."""
    for record in records(sheets, "floor"):
        nm = read_cell_length(record.text("elevation"), unit).nm if record.text("elevation") else None
        if nm is not None and abs(nm) > HIGHEST:
            says = record.text("elevation")[:20]
            sentence = f"The storey {record.text('name')[:40]} has an elevation of {says}; it is not used."
            asker.tell(
                "storey_elevation_implausible",
                sentence,
                about=(record.text("name"),),
                cells=(record.place("elevation"),),
            )
