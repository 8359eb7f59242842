"""Whether a leaf of a derivation is the request's or the edition's own value, looked up anew in the plain documents."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from rates.core.units import AREA_NM2, LENGTH_NM, read_area, read_coverage, read_length, read_pack_size

Document = Mapping[str, Any]
ABSENT = object()
INCH = Fraction(25_400_000)

CONSTANTS = {
    "minutes in an hour": Fraction(60),
    "minutes of one opening-equivalent": Fraction(30),
    "per cent": Fraction(100),
    "days in a day of rental": Fraction(1),
    "minor unit of USD": Fraction(2),
    "minor unit of EUR": Fraction(2),
    "minor unit of JPY": Fraction(0),
    "minor unit of KWD": Fraction(3),
    "1/8 in, that lengths are cut to": LENGTH_NM["in"] / 8,
    "1 mm, that lengths are cut to": LENGTH_NM["mm"],
    **{f"nanometres in 1 {unit}": size for unit, size in LENGTH_NM.items()},
    **{f"nm2 in 1 {unit}": size for unit, size in AREA_NM2.items()},
}
PARAMETERS: dict[str, Fraction | None] = {  # parameters of a rule, with their value where there is only one
    "stretch": None,
    "side": None,
    "place": None,
    "how many": None,
    "alike": None,
    "rounding": None,
    "decimal places": Fraction(2),
    "turns": Fraction(2),
    "laps": Fraction(2),
    "stock of the cut plan": None,
    "each opening": Fraction(1),
    "one unit": Fraction(1),
    "straight": Fraction(1),
    "joints": Fraction(1),
    "receipts tax": Fraction(0),
    "equal weight": None,
    "equal weights": None,
    "nothing to be done": None,
    "no profit row": None,
}

# what stands where an edition says nothing (rules.md, Defaults), by the end of the field's path
TABLE_DEFAULTS = {
    "waste/percent": "0",
    "fringe": "0",
    "overtime_multiplier": "1.5",
    "overtime/after": "40",
    "productive_share": "1",
    "delivery": "0",
    "tape/extra_strip_minutes": "0",
    "setup_hours/mobilisation": "0",
    "setup_hours/elevation": "0",
    "setup_hours/storey_change": "0",
    "opening_minutes/minimum": "0",
    "opening_minutes/fixed": "0",
    "penetration_minutes/minimum": "0",
    "penetration_minutes/fixed": "0",
    "hours_per_day": "8",
    "days_per_week": "5",
    "days_per_month": "20",
    "coats/interval_minutes": "30",
    "learning/model": "none",
    "geometry/face_lap": "2 in",
    "geometry/turn_sill": "2 in",
    "geometry/turn_head": "2 in",
    "geometry/sill_turn_up": "0 in",
    "geometry/diagonal/width": "4 in",
    "geometry/diagonal/length": "8 in",
    "geometry/arch_factor": "1.1",
    "geometry/collar_factor": "1.1",
    "geometry/collar_lap": "2 in",
    "geometry/mesh_lap": "2 in",
    "geometry/tape_lap": "2 in",
    "geometry/tape_sill_turn_up": "6 in",
    "geometry/tape_corner_length": "6 in",
    "geometry/lap_on_pipe": "2 in",
}


def walk(document: Any, steps: Sequence[str]) -> Any:
    """The value at a path, or ABSENT."""
    for step in steps:
        if isinstance(document, Mapping):
            document = document.get(step.replace("~1", "/").replace("~0", "~"), ABSENT)
        elif isinstance(document, Sequence) and not isinstance(document, str) and step.isdigit():
            document = document[int(step)] if int(step) < len(document) else ABSENT
        else:
            return ABSENT
        if document is ABSENT or document is None:
            return ABSENT
    return document


def read(raw: Any, unit: str) -> Fraction | str:
    """A raw value in the exact unit of a leaf."""
    text = str(raw)
    if unit == "text":
        return text.strip()
    if unit == "nm":
        return read_pack_size(text)[1]
    if unit == "nm2":
        return read_area(text)
    if unit in ("nm3", "each"):
        return read_pack_size(text)[1]
    if unit == "nm2/nm3":
        return read_coverage(text)
    return Fraction(text)


def edition_value(source: Document, unit: str, editions: Sequence[Document]) -> Fraction | str:
    """The value that a table leaf must have."""
    edition = editions[source["number"] - 1]
    assert source["effective_from"] == edition["effective_from"] and source["layer"] == "company", source
    if source["table"] == "edition":
        return str(edition.get(source["field"], "half_up"))
    table, field = edition["tables"][source["table"]], source["field"]
    if source["row"] is not None:
        (table,) = [row for row in table if row["code"] == source["row"]]
    raw = walk(table, field.split("/"))
    if field == "coats/charge_idle":
        assert raw is ABSENT or raw is False
        return "no"
    return read(TABLE_DEFAULTS[field] if raw is ABSENT else raw, unit)


def line_default(line: Document, field: str) -> Any:
    """What a schedule line means where it does not say."""
    if field == "springline":
        width, height = read_length(str(line["width"])).nm, read_length(str(line["height"])).nm
        rise = read_length(str(line["rise"])).nm if "rise" in line else width / 2
        return f"{(height - rise) / INCH} in"
    defaults: dict[str, Any] = {
        "access": "ground",
        "elevation": "",
        "storey": "",
        "shape": "rectangle",
        "excluded/reason": "interior",
    }
    if line.get("kind") == "pipe":
        defaults["shape"] = "pipe"
    return defaults[field]


def side_words(line: Document) -> str:
    """The treated sides in the order of work."""
    raw = line.get("sides", "all")
    words = raw.split() if isinstance(raw, str) else list(raw)
    bare = line.get("sill", {}).get("kind") == "none"
    if words == ["all"]:
        words = ["jambs", "head"] if bare else ["sill", "jambs", "head"]
    return " ".join(side for side in ("sill", "jambs", "head") if side in words)


def request_default(request: Document, pointer: str) -> Any:
    """What a request means where it does not say."""
    if pointer == "/perimeter_seal/depth":
        half = read_length(request["perimeter_seal"]["width"]).nm / 2
        return f"{max(half, INCH / 4) / INCH} in"
    if pointer.startswith(("/stock/", "/mobilisations/")):
        return "0" if pointer.startswith("/stock/") else "1"
    defaults = {
        "/mobilisations": "1",
        "/crew/crews": "1",
        "/crew/experience": "experienced",
        "/crew/experience/done_before": "0",
        "/sheathing_joints/corners": "0 in",
        "/sheathing_joints/terminations": "0 in",
        "/sheathing_joints/deflection": "0 in",
        "/sheathing_joints/access": "ground",
        "/empty_price": "zero",
        "/return_trips": "0",
    }
    return defaults[pointer]


def request_value(source: Document, unit: str, request: Document) -> Fraction | str:
    """The value that a leaf of the request or of a schedule line must have."""
    pointer = source["pointer"]
    steps = pointer.split("/")[1:]
    raw = walk(request, steps)
    if steps[0] == "openings":
        line, field = request["openings"][int(steps[1])], "/".join(steps[2:])
        assert source["mark"] == line["mark"]
        if field == "sides":
            return side_words(line)
        raw = line_default(line, field) if raw is ABSENT else raw
        raw = raw["name"] if field == "alternate" and isinstance(raw, dict) else raw
    if raw is ABSENT or isinstance(raw, dict):
        raw = request_default(request, pointer)
    return Fraction(0) if raw == "0" else read(raw, unit)


def priced_lines(request: Document) -> set[str]:
    """Pointers to the quantities of the lines that count in the base price."""
    found = set()
    for i, line in enumerate(request["openings"]):
        interior = request.get("only_external") is True and line.get("external") is False
        named = line.get("alternate")
        out = named is not None and not (isinstance(named, dict) and named.get("kind") == "deduct")
        if "excluded" not in line and not out and not interior and int(line["quantity"]):
            found.add(f"/openings/{i}/quantity")
    return found
