"""From one line's raw fields to its kind: the field table, dimensions by shape, sides, every fault noted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from estimating.core import shapes
from estimating.core.kinds import BARRIERS, METHODS, OPENING_KINDS, Kind, Override, Sill
from estimating.core.length_fields import length_reader
from estimating.core.outline_faults import outline_fault, polygon_fault
from estimating.core.shapes import ALL_SIDES, SIDES, Shape
from rates.core.fields import (
    Faults,
    Field,
    ListOf,
    Reader,
    Record,
    boolean,
    choice,
    decimal,
    text,
)
from rates.core.fraction import Fraction
from rates.core.problems import Problem, Unreadable
from rates.core.production import SHAPES, SILLS
from rates.core.tables import ACCESS, SUBSTRATES

OVERRIDE = Record(
    Override,
    (Field("reason", text(300), "why", required=True), Field("by", text(100), "who decided", required=True)),
    title="MethodOverride",
)


def check_sill(sill: Sill, pointer: str, faults: Faults) -> None:
    """Only a sloped sill has an angle, and it needs one; only a pan has a back dam."""
    if (sill.kind == "sloped") != (sill.angle_degrees is not None):
        detail = "a sloped sill needs its angle" if sill.kind == "sloped" else "only a sloped sill has an angle"
        faults.append(Problem(pointer + "/angle_degrees", "angle", detail))
    if sill.back_dam_nm is not None and sill.kind != "pan":
        faults.append(Problem(pointer + "/back_dam", "not_for_sill", "only a pan has a back dam"))


def sill_record(length: Reader) -> Record:
    """Reader of the sill, lengths as `length` reads them."""
    return Record(
        lambda kind, angle_degrees, back_dam: Sill(kind, angle_degrees, back_dam.nm if back_dam else None),
        (
            Field("kind", choice(*SILLS), "kind of sill", required=True),
            Field("angle_degrees", decimal(0, 60, above=True), "slope in degrees"),
            Field("back_dam", length, "height of a pan's back dam"),
        ),
        check_sill,
        title="Sill",
    )


def parse_sides(raw: object) -> frozenset[str]:
    """The treated sides: a list of sill, jambs, head, or the same words in one text."""
    words = raw.replace(",", " ").replace("+", " ").split() if isinstance(raw, str) else raw
    if not isinstance(words, list | tuple) or not words or not all(isinstance(w, str) for w in words):
        raise Unreadable("unknown_choice", f"a list of one or more of {', '.join(SIDES)} is expected")
    if words == ["all"]:
        return ALL_SIDES
    if not set(words) <= ALL_SIDES or len(set(words)) < len(words):
        raise Unreadable("unknown_choice", f"each of {', '.join(SIDES)} at most once, nothing else")
    return frozenset(words)


@lru_cache(maxsize=32)
def kind_fields(unit: str | None) -> tuple[Field, ...]:
    """The fields of a line that make its kind, lengths in the document's unit."""
    length, point = length_reader(unit), length_reader(unit, zero=True, negative=True)
    sides_schema = {"type": ["array", "string"], "items": {"enum": list(SIDES)}}
    return (
        Field("kind", choice(*OPENING_KINDS), "window, door, louvre, duct, pipe or other", default="window"),
        Field("shape", choice(*SHAPES), "outline; rectangle if absent, pipe if the kind is pipe"),
        Field("width", length, "rough width"),
        Field("height", length, "rough height; of an arch the overall height"),
        Field("springline", length_reader(unit, zero=True), "height of an arch's springline above the sill"),
        Field("rise", length, "rise of a segmental top"),
        Field("diameter", length, "diameter of a round opening, outside diameter of a pipe"),
        Field("lap_on_pipe", length_reader(unit, zero=True), "lap along the pipe"),
        Field("points", ListOf(ListOf(point, 2, 2), 3, 64), "corners of a polygon or outline, in order"),
        Field("sides", Reader(parse_sides, sides_schema), "sides treated; all if absent"),
        Field("access", choice(*ACCESS), "how it is reached; ground if absent"),
        Field("treated_depth", length_reader(unit, zero=True), "treated return depth into the wall"),
        Field("substrate", choice(*SUBSTRATES), "what the rough opening is cut in"),
        Field("wall_barrier", choice(*BARRIERS), "the field water-resistive barrier"),
        Field("sill", sill_record(length), "the sill"),
        Field("method", choice(*METHODS), "fluid or tape"),
        Field("method_override", OVERRIDE, "lets a method stand against the wall barrier"),
        Field("height_above_grade", length_reader(unit, zero=True, negative=True), "height above grade"),
        Field("external", boolean(), "in an exterior wall: true, false or unknown"),
        Field("seal", boolean(), "whether the perimeter seal is done"),
        Field("from_inside", boolean(), "worked from the floor inside, so its height is not checked", default=False),
    )


# shape -> fields of its size that it needs, and that it may have
DIMENSIONS = {name: shape.needs for name, shape in shapes.SHAPE.items()}
OPTIONAL = {name: shape.may for name, shape in shapes.SHAPE.items() if shape.may}
_OF_A_SHAPE = frozenset(field for fields in (*DIMENSIONS.values(), *OPTIONAL.values()) for field in fields)
MEASURES = tuple(field.name for field in kind_fields(None) if field.name in _OF_A_SHAPE)
# those that draw the outline
OUTLINE_FIELDS = tuple(name for name in MEASURES if name != "lap_on_pipe")


def check_dimensions(name: str, v: dict[str, Any], pointer: str, faults: Faults) -> bool:
    """Whether the shape has just the dimensions that it needs."""
    before = len(faults)
    allowed = DIMENSIONS[name] + OPTIONAL.get(name, ())
    for field in MEASURES:
        if v[field] is not None and field not in allowed:
            faults.append(Problem(f"{pointer}/{field}", "not_for_shape", f"a {name} has no {field}"))
        if v[field] is None and field in DIMENSIONS[name]:
            faults.append(Problem(f"{pointer}/{field}", "missing", f"a {name} needs its {field}"))
    if name in ("half_round_top", "segmental_top") and (v["springline"] is None) == (v["height"] is None):
        detail = "an arch gives its springline or its overall height, one of the two"
        faults.append(Problem(f"{pointer}/springline", "one_of", detail))
    return len(faults) == before


def missing_dimensions(row: Mapping[str, object], v: dict[str, Any], faults: Faults) -> None:
    """What a line lacks whose other fields are at fault, so that every fault of it is told at once."""
    if any(fault.pointer in ("/shape", "/kind") for fault in faults):
        return
    name = shape_name(v)
    for field in DIMENSIONS[name]:
        if row.get(field) is None:
            faults.append(Problem(f"/{field}", "missing", f"a {name} needs its {field}"))


def shape_name(v: dict[str, Any]) -> str:
    """The shape as stated, or what the kind of opening makes it."""
    return str(v["shape"] or ("pipe" if v["kind"] == "pipe" else "rectangle"))


def build_arch(name: str, nm: dict[str, Fraction], pointer: str, faults: Faults) -> Shape | None:
    """A half-round or segmental top from its springline or overall height."""
    width, rise = nm["width"], nm.get("rise", nm["width"] / 2)
    if 2 * rise > width:
        faults.append(Problem(pointer + "/rise", "rise_over_half_width", "an arch's rise is at most half its width"))
        return None
    springline = nm["springline"] if "springline" in nm else nm["height"] - rise
    if springline < 0:
        faults.append(Problem(pointer + "/height", "too_small", "the overall height is less than the arch's rise"))
        return None
    if name == "half_round_top":
        return shapes.HalfRoundTop(width, springline)
    return shapes.SegmentalTop(width, springline, rise)


def build_cornered(name: str, points: Any, pointer: str, faults: Faults) -> Shape | None:
    """A polygon or outline that is one."""
    corners = tuple((x.nm, y.nm) for x, y in points)
    polygon, outline = shapes.Polygon(corners), shapes.Outline(corners)
    shape: Shape = polygon if name == "polygon" else outline
    fault = polygon_fault(polygon) if name == "polygon" else outline_fault(outline)
    if fault:
        faults.append(Problem(pointer + "/points", "bad_outline", fault))
        return None
    return shape


def build_shape(v: dict[str, Any], pointer: str, faults: Faults) -> Shape | None:
    """The line's shape, or None with faults noted."""
    name = shape_name(v)
    if not check_dimensions(name, v, pointer, faults):
        return None
    nm = {f: v[f].nm for f in MEASURES if f != "points" and v[f] is not None}
    if name in ("half_round_top", "segmental_top"):
        return build_arch(name, nm, pointer, faults)
    if name in ("polygon", "outline"):
        return build_cornered(name, v["points"], pointer, faults)
    build: Callable[..., Shape] = shapes.SHAPE[name]
    return build(**nm)


def build_sides(v: dict[str, Any], shape: Shape, pointer: str, faults: Faults) -> frozenset[str]:
    """The treated sides: those named, or all; an opening drawn with no sill has none to treat."""
    sill = v["sill"]
    given: frozenset[str] | None = v["sides"]
    if not shape.has_sill:
        if given is not None and given != ALL_SIDES:
            faults.append(Problem(pointer + "/sides", "not_for_shape", f"a {shape.name} is treated all round"))
        if sill is not None:
            faults.append(Problem(pointer + "/sill", "not_for_shape", f"a {shape.name} has no sill"))
        return ALL_SIDES
    if sill is not None and sill.kind == "none":
        if given is not None and "sill" in given:
            faults.append(Problem(pointer + "/sides", "contradiction", "the sill is none, yet it is to be treated"))
        return given if given is not None else ALL_SIDES - {"sill"}
    if sill is not None and sill.kind in ("sloped", "pan") and given is not None and "sill" not in given:
        faults.append(Problem(pointer + "/sill", "contradiction", f"a {sill.kind} sill that is not among the sides"))
    return given if given is not None else ALL_SIDES


def build_kind(v: dict[str, Any], pointer: str, faults: Faults) -> Kind | None:
    """The kind of a line from its values, or None with faults noted."""
    before = len(faults)
    shape = build_shape(v, pointer, faults)
    if shape is None:
        return None
    sides = build_sides(v, shape, pointer, faults)
    if len(faults) > before:
        return None
    return Kind(
        kind=v["kind"],
        shape=shape,
        sides=sides,
        access=v["access"],
        depth_nm=v["treated_depth"].nm if v["treated_depth"] is not None else None,
        substrate=v["substrate"],
        barrier=v["wall_barrier"],
        sill=v["sill"],
        method=v["method"],
        override=v["method_override"],
        height_above_grade_nm=v["height_above_grade"].nm if v["height_above_grade"] is not None else None,
        external=v["external"],
        sealed=v["seal"],
        from_inside=v["from_inside"],
        snapped=tuple(f for f in MEASURES if f != "points" and v[f] is not None and v[f].snapped),
    )
