"""The reader's lines as they are compared with the truth."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from rates.core.units import read_length
from tests.corpus.truth import ALTERNATE, PRICED, SET_ASIDE, UNKNOWN, Opening, mark_key, place_key, storey_key

NM_IN_MM = 1_000_000


def opening_of(line: Mapping[str, Any]) -> Opening:
    """One line of the reader."""
    kind = str(line.get("kind") or "window")
    state, name = state_of(line)
    quantity = line.get("quantity")
    return Opening(
        mark_key(str(line.get("mark") or "")),
        kind,
        shape_of(line, kind),
        place_key(str(line.get("elevation") or "")),
        storey_key(str(line.get("storey") or "")),
        place_key(str(line.get("building") or "")),
        state,
        name,
        quantity if isinstance(quantity, int) else UNKNOWN,
    )


def state_of(line: Mapping[str, Any]) -> tuple[str, str]:
    """Whether a line is priced, set aside or an alternate, and the alternate's name."""
    if line.get("excluded"):
        return SET_ASIDE, ""
    alternate = line.get("alternate")
    if alternate is None or alternate == "":
        return PRICED, ""
    return ALTERNATE, str(alternate["name"] if isinstance(alternate, dict) else alternate)


def shape_of(line: Mapping[str, Any], kind: str) -> tuple[str, ...]:
    """A shape's name and its dimensions in mm; arches by springline, polygons by corners and the box around them."""
    name = str(line.get("shape") or ("pipe" if kind == "pipe" and line.get("diameter") else "rectangle"))
    try:
        if name in ("polygon", "outline"):
            return box_of(line["points"])
        sizes = {key: length(line[key]) for key in ("width", "height", "diameter", "springline", "rise") if key in line}
    except (KeyError, TypeError, ValueError):
        return ("unread",)
    if "springline" not in sizes and "height" in sizes and name == "half_round_top" and "width" in sizes:
        sizes["springline"] = sizes["height"] - sizes["width"] / 2
    if "springline" not in sizes and "height" in sizes and name == "segmental_top" and "rise" in sizes:
        sizes["springline"] = sizes["height"] - sizes["rise"]
    wanted = {
        "round": ("diameter",), "pipe": ("diameter",), "half_round_top": ("width", "springline"),
        "segmental_top": ("width", "springline", "rise"),
    }.get(name, ("width", "height"))  # fmt: skip
    return (name, *(str(sizes[key]) if key in sizes else "?" for key in wanted))


def box_of(points: Any) -> tuple[str, ...]:
    """A polygon by the number of its corners and the box around them."""
    xs, ys = [length(p[0]) for p in points], [length(p[1]) for p in points]
    return ("polygon", str(len(points)), str(max(xs) - min(xs)), str(max(ys) - min(ys)))


def length(text: Any) -> Fraction:
    """A length in mm, as the core reads it; Unreadable."""
    found = read_length(str(text), unit=None)
    return Fraction(found.nm.numerator, found.nm.denominator) / NM_IN_MM
