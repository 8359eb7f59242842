"""Every opening shape by one formula: treated area A = P(d + f) + f²K, K = Σ tan(aᵢ/2) + Θ/2.

P is the perimeter treated, d the return depth, f the face lap, aᵢ the exterior turn at each treated corner and Θ the
angle through which curved parts turn. Derivation: a strip of width f around a smooth or mitred outline has area
Pf + f²K; the return into the wall is Pd. Lengths in nm; irrational values to 40 decimals of the unit (irrational.py).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimating.core.irrational import PI, asin, settle, sqrt, tan
from estimating.core.shape import ALL_SIDES as ALL_SIDES
from estimating.core.shape import SIDES as SIDES
from estimating.core.shape import Point as Point
from estimating.core.shape import Shape as Shape
from estimating.core.shape import Stretch as Stretch
from rates.core.fraction import Fraction


@dataclass(frozen=True)
class Rectangle(Shape):
    """Four sides, or those treated; each treated corner turns a right angle (tan 45° = 1)."""

    width: Fraction
    height: Fraction
    name = "rectangle"
    has_sill = True
    needs = ("width", "height")

    @property
    def width_nm(self) -> Fraction:
        return self.width

    @property
    def height_nm(self) -> Fraction:
        return self.height

    def stretches(self, sides: frozenset[str]) -> Sequence[Stretch]:
        return [side for side in RECTANGLE if side.name in sides]

    def stretch_nm(self, name: str, place: int) -> Fraction:
        return self.height if name == "jambs" else self.width

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        return Fraction(self.corners(sides))

    def corners(self, sides: frozenset[str]) -> int:
        return 2 * (len(sides) - 1) if "jambs" in sides else 0


RECTANGLE = (Stretch("sill", 1), Stretch("jambs", 2), Stretch("head", 1))


@dataclass(frozen=True)
class Arched(Shape):
    """Jambs to the springline under a curved head."""

    width: Fraction
    springline: Fraction
    has_sill = True
    may = ("springline", "height")

    @property
    def width_nm(self) -> Fraction:
        return self.width

    def arc(self) -> tuple[Fraction, Fraction]:
        """(length of the head arc in nm, half the angle at its centre in radians)."""
        raise NotImplementedError

    def has_jambs(self, sides: frozenset[str]) -> bool:
        """Whether there are jambs and they are treated."""
        return "jambs" in sides and self.springline > 0

    def stretches(self, sides: frozenset[str]) -> Sequence[Stretch]:
        there = {"sill": "sill" in sides, "jambs": self.has_jambs(sides), "arc": "head" in sides}
        return [stretch for stretch in ARCH if there[stretch.name]]

    def stretch_nm(self, name: str, place: int) -> Fraction:
        return {"sill": self.width, "jambs": self.springline}[name] if name != "arc" else self.arc()[0]

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        """Corners at the sill and, where the arc meets the jambs at an angle, at the springline."""
        found, has_jambs = Fraction(2 if "sill" in sides and self.has_jambs(sides) else 0), self.has_jambs(sides)
        if "head" in sides:
            _, half_angle = self.arc()
            found += half_angle
            if has_jambs and half_angle != PI / 2:
                found += 2 * tan((PI / 2 - half_angle) / 2)
            elif not has_jambs and self.springline == 0 and "sill" in sides:
                found += 2 * (Fraction(1) if half_angle == PI / 2 else tan((PI - half_angle) / 2))
        return settle(found)

    def corners(self, sides: frozenset[str]) -> int:
        lunette = "head" in sides and self.springline == 0
        return 2 if "sill" in sides and (self.has_jambs(sides) or lunette) else 0


ARCH = (Stretch("sill", 1), Stretch("jambs", 2), Stretch("arc", 1))


@dataclass(frozen=True)
class HalfRoundTop(Arched):
    """A half circle on jambs: arc πw/2, Θ = π, no corner at the springline."""

    name = "half_round_top"
    needs = ("width",)

    @property
    def height_nm(self) -> Fraction:
        return self.springline + self.width / 2

    def arc(self) -> tuple[Fraction, Fraction]:
        return PI * self.width / 2, PI / 2


@dataclass(frozen=True)
class SegmentalTop(Arched):
    """A flatter arc of a given rise: R = (w²/4 + r²)/2r, θ = 2 asin(w/2R), rise ≤ w/2."""

    rise: Fraction
    name = "segmental_top"
    needs = ("width", "rise")

    @property
    def height_nm(self) -> Fraction:
        return self.springline + self.rise

    def arc(self) -> tuple[Fraction, Fraction]:
        if 2 * self.rise == self.width:
            return PI * self.width / 2, PI / 2
        radius = (self.width**2 / 4 + self.rise**2) / (2 * self.rise)
        half_angle = asin(self.width / (2 * radius))
        return settle(2 * radius * half_angle), half_angle


@dataclass(frozen=True)
class Round(Shape):
    """A circle: P = πD, K = π."""

    diameter: Fraction
    name = "round"
    needs = ("diameter",)

    @property
    def width_nm(self) -> Fraction:
        return self.diameter

    @property
    def height_nm(self) -> Fraction:
        return self.diameter

    @property
    def sizes(self) -> Mapping[str, Fraction]:
        return {"diameter": self.diameter}

    def stretches(self, sides: frozenset[str]) -> Sequence[Stretch]:
        return COLLAR

    def stretch_nm(self, name: str, place: int) -> Fraction:
        return PI * self.diameter

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        return settle(PI)

    def corners(self, sides: frozenset[str]) -> int:
        return 0


COLLAR = (Stretch("collar", 1),)


@dataclass(frozen=True)
class Pipe(Round):
    """A pipe through the wall: the return runs along the pipe by the request's or its own lap."""

    lap_on_pipe: Fraction | None = None
    name = "pipe"
    may = ("lap_on_pipe",)


@dataclass(frozen=True)
class Ellipse(Shape):
    """An ellipse by Ramanujan's first approximation π[3(a+b) − √((3a+b)(a+3b))], K = π."""

    width: Fraction
    height: Fraction
    name = "ellipse"
    needs = ("width", "height")

    @property
    def width_nm(self) -> Fraction:
        return self.width

    @property
    def height_nm(self) -> Fraction:
        return self.height

    def stretches(self, sides: frozenset[str]) -> Sequence[Stretch]:
        return COLLAR

    def stretch_nm(self, name: str, place: int) -> Fraction:
        a, b = self.width / 2, self.height / 2
        return PI * (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b)))

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        return settle(PI)

    def corners(self, sides: frozenset[str]) -> int:
        return 0


@dataclass(frozen=True)
class Cornered(Shape):
    """Straight sides between points, either way round."""

    points: tuple[Point, ...]
    needs = ("points",)

    @property
    def width_nm(self) -> Fraction:
        return max(x for x, _ in self.points) - min(x for x, _ in self.points)

    @property
    def height_nm(self) -> Fraction:
        return max(y for _, y in self.points) - min(y for _, y in self.points)

    def edges(self) -> list[Point]:
        """The vector of each side."""
        following = self.points[1:] + self.points[:1]
        return [(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(self.points, following, strict=True)]

    def stretches(self, sides: frozenset[str]) -> Sequence[Stretch]:
        """A side between each two points; treated sides do not apply."""
        return [Stretch("side", 1, place) for place in range(len(self.points))]

    def stretch_nm(self, name: str, place: int) -> Fraction:
        x, y = self.edges()[place]
        return sqrt(x * x + y * y)

    def corners(self, sides: frozenset[str]) -> int:
        """Inside corners too."""
        return len(self.points)


@dataclass(frozen=True)
class Polygon(Cornered):
    """A convex polygon: tan(a/2) = |u×v| / (|u||v| + u·v) at each corner."""

    name = "polygon"

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        edges = self.edges()
        lengths = [self.stretch_nm("side", place) for place in range(len(edges))]
        found = Fraction(0)
        for i, (ux, uy) in enumerate(edges):
            j = (i + 1) % len(edges)
            vx, vy = edges[j]
            found += abs(ux * vy - uy * vx) / (lengths[i] * lengths[j] + ux * vx + uy * vy)
        return settle(found)


@dataclass(frozen=True)
class Outline(Cornered):
    """A right-angled outline: outside corners +1, inside −1, so K = 4."""

    name = "outline"

    def corner_factor(self, sides: frozenset[str]) -> Fraction:
        return Fraction(4)


SHAPE: Mapping[str, type[Shape]] = {
    shape.name: shape for shape in (Rectangle, Round, Pipe, HalfRoundTop, SegmentalTop, Ellipse, Polygon, Outline)
}
