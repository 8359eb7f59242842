"""The rules of outlines, their words, and their sizes as a schedule line gives them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from estimating.core.figures.printing import LENGTH, TEXT
from estimating.core.figures.rules import rule
from estimating.core.irrational import PI, cos, settle
from estimating.core.shapes import SIDES, Shape
from rates.core.fraction import Fraction

OUTLINE_WORDS = {
    "sill": "the width",
    "jambs": "the height, of an arch the height of its springline",
    "head": "the width",
    "arc": "half round: π × width ÷ 2; segmental: R = (w²/4 + r²) ÷ 2r, θ = 2 asin(w ÷ 2R), arc Rθ",
    "collar": "circle: π × diameter; ellipse: π (3(a + b) − √((3a + b)(a + 3b))) of the semi-axes (Ramanujan)",
    "side": "√(Δx² + Δy²) between the side's two points",
    "width": "the width, the diameter, or from the leftmost point to the rightmost",
    "corners": "rectangle: where jambs meet sill or head; arch: where jambs or arc "
    "meet the sill; polygon and outline: every corner; else none",
}
Terms = tuple[Fraction, ...]


@rule("the length of one stretch of the outline, by its formula for each shape")
def shape_run(stretch: str, *outline: Any) -> Fraction:
    """Of (place of a side, if it is one,) shape and treated sides."""
    *place, shape, _ = outline
    return shape.stretch_nm(stretch, int(place[0]) if place else 0)  # type: ignore[no-any-return]


@rule("Σ tan(turn ÷ 2) over the treated corners + half the angle through which curved parts turn")
def shape_corner_factor(shape: Shape, sides: frozenset[str]) -> Fraction:
    """K."""
    return shape.corner_factor(sides)


@rule("how many corners of the outline take a diagonal")
def shape_corners(shape: Shape, sides: frozenset[str]) -> Fraction:
    """A count."""
    return Fraction(shape.corners(sides))


@rule("the overall width of the outline")
def shape_width(shape: Shape, sides: frozenset[str]) -> Fraction:
    """From the leftmost point to the rightmost."""
    return shape.width_nm


@rule("the length of the whole outline, whatever sides are treated")
def shape_outline(shape: Shape, sides: frozenset[str]) -> Fraction:
    """Once around."""
    return shape.outline_nm


@rule("first ÷ cos(second)")
def over_cosine(depth_nm: Fraction, angle_degrees: Fraction) -> Fraction:
    """d / cos φ: the return of a sill sloped by φ."""
    return settle(depth_nm / cos(angle_degrees * PI / 180)) if angle_degrees else depth_nm


def area_terms(perimeter: Fraction, depth: Fraction, lap: Fraction, corner_factor: Fraction) -> Sequence[Terms]:
    """A = P(d + f) + f²K as terms of a sum of products; a pipe's d is its lap on the pipe."""
    return (perimeter, depth), (perimeter, lap), (lap, lap, corner_factor)


def told_outline(view: Any) -> list[Any]:
    """Shape, treated sides and sizes of a kind's view; an arch's springline may follow from its overall height."""
    kind = view.subject.kind
    sides = " ".join(side for side in SIDES if side in kind.sides)
    found = [
        view.of_first_line("shape", "shape", kind.shape.name, TEXT),
        view.of_first_line("sides", "sides", sides, TEXT),
    ]
    for field, nm in kind.shape.sizes.items():
        found.append(view.of_first_line(field, field, nm, LENGTH))
    for k, point in enumerate(getattr(kind.shape, "points", ())):
        axes = [(f"{'xy'[axis]}{k}", f"points/{k}/{axis}", nm) for axis, nm in enumerate(point)]
        found.append(tuple(view.of_first_line(name, at, nm, LENGTH) for name, at, nm in axes))
    return found
