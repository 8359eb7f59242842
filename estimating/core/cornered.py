"""Openings of straight sides between points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.core.irrational import settle, sqrt
from estimating.core.shape import Point, Shape, Stretch
from rates.core.fraction import Fraction


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
