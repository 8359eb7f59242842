"""Every opening shape by one formula: treated area A = P(d + f) + f²K, K = Σ tan(aᵢ/2) + Θ/2.

P is the perimeter treated, d the return depth, f the face lap, aᵢ the exterior turn at each treated corner and Θ the
angle through which curved parts turn. Derivation: a strip of width f around a smooth or mitred outline has area
Pf + f²K; the return into the wall is Pd. Lengths in nm; irrational values to 40 decimals of the unit (irrational.py).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimating.core.arches import Arched as Arched
from estimating.core.arches import HalfRoundTop as HalfRoundTop
from estimating.core.arches import SegmentalTop as SegmentalTop
from estimating.core.cornered import Cornered as Cornered
from estimating.core.cornered import Outline as Outline
from estimating.core.cornered import Polygon as Polygon
from estimating.core.irrational import PI, settle, sqrt
from estimating.core.shape import ALL_SIDES as ALL_SIDES
from estimating.core.shape import SIDES as SIDES
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


SHAPE: Mapping[str, type[Shape]] = {
    shape.name: shape for shape in (Rectangle, Round, Pipe, HalfRoundTop, SegmentalTop, Ellipse, Polygon, Outline)
}
