"""The irrational rules of derivations, anew with mpmath at 60 digits: outlines, sloped sills, learning curves.

Outlines by the formula for every shape, K = Σ tan(aᵢ/2) + Θ/2 (plane geometry); the ellipse's perimeter is Ramanujan's
approximation; learning curves are Crawford's and Wright's (cumulative average), summed unit by unit.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from fractions import Fraction
from math import floor

from mpmath import mp, mpf

from tests.core.derivation_inputs import Given, Inputs, Value, named, numbers

TOLERANCE = Fraction(1, 10**30)
DIGITS = 60


def real(x: Fraction) -> mpf:
    """A fraction as a real of 60 digits."""
    return mpf(x.numerator) / mpf(x.denominator)


def fraction(x: mpf) -> Fraction:
    """A real as the fraction that it is."""
    sign, mantissa, exponent, _ = x._mpf_
    value = Fraction(int(mantissa)) * Fraction(2) ** int(exponent)
    return -value if sign else value


class Outline:
    """The inputs of an outline by name."""

    def __init__(self, inputs: Inputs) -> None:
        self.shape = named(inputs, "shape").text
        self.sides = set(named(inputs, "sides").text.split())
        self.sizes = {given.name: given.number for given in inputs if isinstance(given.value, Fraction)}
        points: dict[int, list[Fraction]] = {}
        for given in inputs:
            if given.term is not None:
                points.setdefault(given.term, []).append(given.number)
        self.points = [(x, y) for x, y in points.values()]

    def edges(self) -> list[tuple[Fraction, Fraction]]:
        """The vector of each side between points."""
        following = self.points[1:] + self.points[:1]
        return [(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(self.points, following, strict=True)]

    @property
    def half_angle(self) -> mpf:
        """Half the angle at the centre of an arch's arc."""
        if self.shape == "half_round_top":
            return mp.pi / 2
        width, rise = real(self.sizes["width"]), real(self.sizes["rise"])
        radius = (width**2 / 4 + rise**2) / (2 * rise)
        return mp.asin(min(mpf(1), width / (2 * radius)))

    @property
    def arc(self) -> mpf:
        """Length of an arch's arc."""
        width = real(self.sizes["width"])
        return width / (2 * mp.sin(self.half_angle)) * 2 * self.half_angle

    @property
    def has_jambs(self) -> bool:
        """Whether an arch has treated jambs that are there."""
        return "jambs" in self.sides and self.sizes.get("springline", Fraction(1)) > 0


def shape_run(inputs: Inputs) -> Value:
    """One stretch of the outline."""
    outline, stretch = Outline(inputs), named(inputs, "stretch").text
    sizes = outline.sizes
    if stretch in ("sill", "head"):
        return sizes["width"]
    if stretch == "jambs":
        return sizes.get("springline", sizes.get("height", Fraction(0)))
    if stretch == "arc":
        return fraction(outline.arc)
    if stretch == "side":
        x, y = outline.edges()[int(sizes["side"])]
        return abs(x + y) if not x or not y else fraction(mp.hypot(real(x), real(y)))
    assert stretch == "collar"
    if "diameter" in sizes:
        return fraction(mp.pi * real(sizes["diameter"]))
    a, b = real(sizes["width"]) / 2, real(sizes["height"]) / 2
    return fraction(mp.pi * (3 * (a + b) - mp.sqrt((3 * a + b) * (a + 3 * b))))


def perimeter(inputs: Inputs) -> Fraction:
    """P of the treated sides at once, whatever stretches it was summed from."""
    outline = Outline(inputs)
    sizes, sides = outline.sizes, outline.sides
    if outline.points:
        return fraction(sum((mp.hypot(real(x), real(y)) for x, y in outline.edges()), mpf(0)))
    if "diameter" in sizes or outline.shape == "ellipse":
        return Fraction(shape_run(inputs))
    total = sizes["width"] if "sill" in sides else Fraction(0)
    total += 2 * sizes.get("springline", sizes.get("height", Fraction(0))) if "jambs" in sides else 0
    if "head" not in sides:
        return total
    return total + (sizes["width"] if outline.shape == "rectangle" else fraction(outline.arc))


def shape_outline(inputs: Inputs) -> Fraction:
    """P of all sides, whichever are treated."""
    sides = named(inputs, "sides")
    whole = [dataclasses.replace(x, value="sill jambs head") if x is sides else x for x in inputs]
    return perimeter([*whole, Given("stretch", "collar", None, None)])


def polygon_factor(outline: Outline) -> mpf:
    """Σ tan(turn ÷ 2), each turn from the directions of its two sides."""
    edges = [(real(x), real(y)) for x, y in outline.edges()]
    total = mpf(0)
    for (ux, uy), (vx, vy) in zip(edges, edges[1:] + edges[:1], strict=True):
        turn = mp.atan2(abs(ux * vy - uy * vx), ux * vx + uy * vy)
        total += mp.tan(turn / 2)
    return total


def arch_factor(outline: Outline) -> mpf:
    """Corners at the sill and the springline, and half of what the arc turns."""
    total, half = mpf(0), outline.half_angle
    if outline.has_jambs:
        total += 2 if "sill" in outline.sides else 0
        total += 2 * mp.tan((mp.pi / 2 - half) / 2) if "head" in outline.sides else 0
    elif outline.sizes["springline"] == 0 and outline.sides >= {"sill", "head"}:
        total += 2 * mp.tan((mp.pi - half) / 2)
    return total + (half if "head" in outline.sides else 0)


def shape_corner_factor(inputs: Inputs) -> Value:
    """K."""
    outline = Outline(inputs)
    if outline.shape == "rectangle":
        return Fraction(2 * (len(outline.sides) - 1) if "jambs" in outline.sides else 0)
    if outline.shape == "outline":
        return Fraction(4)
    if outline.shape == "polygon":
        return fraction(polygon_factor(outline))
    return fraction(arch_factor(outline) if outline.shape.endswith("_top") else +mp.pi)


def shape_corners(inputs: Inputs) -> Value:
    """Corners that take a diagonal."""
    outline = Outline(inputs)
    if outline.shape == "rectangle":
        return Fraction(2 * (len(outline.sides) - 1) if "jambs" in outline.sides else 0)
    if outline.points:
        return Fraction(len(outline.points))
    if not outline.shape.endswith("_top") or "sill" not in outline.sides:
        return Fraction(0)
    lunette = outline.sizes["springline"] == 0 and "head" in outline.sides
    return Fraction(2 if outline.has_jambs or lunette else 0)


def shape_width(inputs: Inputs) -> Value:
    """Overall width."""
    outline = Outline(inputs)
    if outline.points:
        return max(x for x, _ in outline.points) - min(x for x, _ in outline.points)
    return outline.sizes.get("width", outline.sizes.get("diameter", Fraction(0)))


def over_cosine(inputs: Inputs) -> Value:
    """depth ÷ cos(slope)."""
    depth, degrees = numbers(inputs)
    return fraction(real(depth) / mp.cos(real(degrees) * mp.pi / 180))


def unit_times(inputs: Inputs) -> Callable[[int], mpf]:
    """m(k) of a model, k from 1."""
    model, first = named(inputs, "model").text, real(named(inputs, "first").number)
    if model == "exponential":
        tau = real(named(inputs, "tau").number)
        return lambda k: 1 + (first - 1) * mp.exp(-(k - 1) / tau)
    b = mp.log(real(named(inputs, "slope").number / 100)) / mp.log(2)
    if model == "unit_curve":
        return lambda k: max(mpf(1), first * mp.power(k, b))

    def total(n: int) -> mpf:
        return first * mp.power(n, 1 + b) if n else mpf(0)

    return lambda k: max(mpf(1), total(k) - total(k - 1))


def total_time(times: Callable[[int], mpf], upto: Fraction) -> mpf:
    """Whole units one by one, and the fraction of the next."""
    whole = floor(upto)
    total = mpf(0)
    for k in range(1, whole + 1):
        total += times(k)
    return total + (real(upto - whole) * times(whole + 1) if upto > whole else 0)


def learning(inputs: Inputs) -> Value:
    """The mean of m(k) over the openings of one crew."""
    start = named(inputs, "start").number
    each = named(inputs, "opening-equivalents").number / named(inputs, "crews").number
    times = unit_times(inputs)
    return fraction((total_time(times, start + each) - total_time(times, start)) / real(each))


def none(inputs: Inputs) -> Value:
    """No learning."""
    assert named(inputs, "model").text == "none"
    return Fraction(1)


IRRATIONAL: Mapping[str, Callable[[Inputs], Value]] = {
    "shape_run": shape_run,
    "shape_corner_factor": shape_corner_factor,
    "shape_corners": shape_corners,
    "shape_width": shape_width,
    "shape_outline": shape_outline,
    "over_cosine": over_cosine,
    "learning_none": none,
    "learning_exponential": learning,
    "learning_unit_curve": learning,
    "learning_cumulative_average": learning,
}


def agrees(computed: Value, stated: Value) -> bool:
    """Equal within 10**-30 of the value."""
    if isinstance(computed, str) or isinstance(stated, str):
        return computed == stated
    return abs(computed - stated) <= TOLERANCE * max(abs(stated), Fraction(1, 10**6))
