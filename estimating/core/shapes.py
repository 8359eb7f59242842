"""Every opening shape by one formula: treated area A = P(d + f) + f²K, K = Σ tan(aᵢ/2) + Θ/2.

P is the perimeter treated, d the return depth, f the face lap, aᵢ the exterior turn at each treated corner and Θ the
angle through which curved parts turn. Derivation: a strip of width f around a smooth or mitred outline has area
Pf + f²K; the return into the wall is Pd. Lengths in nm; irrational values to 40 decimals of the unit (irrational.py).
"""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.irrational import PI, asin, cos, settle, sqrt, tan
from rates.core.fraction import Fraction

Point = tuple[Fraction, Fraction]
SIDES = ("sill", "jambs", "head")
ALL_SIDES = frozenset(SIDES)


@dataclass(frozen=True)
class Run:
    """Straight or curved stretches of one name: each `length_nm` long."""

    name: str
    length_nm: Fraction
    count: int


@dataclass(frozen=True)
class Measure:
    """What the outline gives: P, K, corners that take a diagonal, and the runs that pieces are cut for."""

    perimeter_nm: Fraction
    corner_factor: Fraction
    corners: int
    runs: tuple[Run, ...]


@dataclass(frozen=True)
class Shape:
    """A rough opening's outline; `name` is the word of the schedule."""

    name = "shape"
    has_sill = False

    @property
    def width_nm(self) -> Fraction:
        """Overall width."""
        raise NotImplementedError

    def measure(self, sides: frozenset[str]) -> Measure:
        """P, K, corners and runs of the treated sides."""
        raise NotImplementedError


def measured(runs: list[Run], corner_factor: Fraction | int, corners: int) -> Measure:
    """The measure whose perimeter is the sum of its runs; quotients of irrationals settle to 40 decimals."""
    perimeter = sum((run.length_nm * run.count for run in runs), Fraction(0))
    return Measure(perimeter, settle(Fraction(corner_factor)), corners, tuple(runs))


@dataclass(frozen=True)
class Rectangle(Shape):
    """Four sides, or those treated; each treated corner turns a right angle (tan 45° = 1)."""

    width: Fraction
    height: Fraction
    name = "rectangle"
    has_sill = True

    @property
    def width_nm(self) -> Fraction:
        return self.width

    def measure(self, sides: frozenset[str]) -> Measure:
        """Runs in the order of work: sill, jambs, head."""
        runs = [
            run
            for run in (Run("sill", self.width, 1), Run("jambs", self.height, 2), Run("head", self.width, 1))
            if run.name in sides
        ]
        corners = 2 * (len(sides) - 1) if "jambs" in sides else 0
        return measured(runs, corners, corners)


@dataclass(frozen=True)
class Arched(Shape):
    """Jambs to the springline under a curved head."""

    width: Fraction
    springline: Fraction
    has_sill = True

    @property
    def width_nm(self) -> Fraction:
        return self.width

    def arc(self) -> tuple[Fraction, Fraction]:
        """(length of the head arc in nm, half the angle at its centre in radians)."""
        raise NotImplementedError

    def measure(self, sides: frozenset[str]) -> Measure:
        """Corners at the sill and, where the arc meets the jambs at an angle, at the springline."""
        arc_nm, half_angle = self.arc()
        has_jambs = "jambs" in sides and self.springline > 0
        runs = [Run("sill", self.width, 1)] if "sill" in sides else []
        runs += [Run("jambs", self.springline, 2)] if has_jambs else []
        corner_factor = Fraction(0)
        if "head" in sides:
            runs.append(Run("arc", arc_nm, 1))
            corner_factor += half_angle
            if has_jambs and half_angle != PI / 2:
                corner_factor += 2 * tan((PI / 2 - half_angle) / 2)
            elif not has_jambs and self.springline == 0 and "sill" in sides:
                corner_factor += 2 * (Fraction(1) if half_angle == PI / 2 else tan((PI - half_angle) / 2))
        squared = 2 if "sill" in sides and has_jambs else 0
        at_sill = 2 if "sill" in sides and (has_jambs or ("head" in sides and self.springline == 0)) else 0
        return measured(runs, corner_factor + squared, at_sill)


@dataclass(frozen=True)
class HalfRoundTop(Arched):
    """A half circle on jambs: arc πw/2, Θ = π, no corner at the springline."""

    name = "half_round_top"

    def arc(self) -> tuple[Fraction, Fraction]:
        return PI * self.width / 2, PI / 2


@dataclass(frozen=True)
class SegmentalTop(Arched):
    """A flatter arc of a given rise: R = (w²/4 + r²)/2r, θ = 2 asin(w/2R), rise ≤ w/2."""

    rise: Fraction
    name = "segmental_top"

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

    @property
    def width_nm(self) -> Fraction:
        return self.diameter

    def measure(self, sides: frozenset[str]) -> Measure:
        """One collar around; sides do not apply."""
        return measured([Run("collar", PI * self.diameter, 1)], PI, 0)


@dataclass(frozen=True)
class Pipe(Round):
    """A pipe through the wall: the return runs along the pipe by the request's or its own lap."""

    lap_on_pipe: Fraction | None = None
    name = "pipe"


@dataclass(frozen=True)
class Ellipse(Shape):
    """An ellipse by Ramanujan's first approximation π[3(a+b) − √((3a+b)(a+3b))], K = π."""

    width: Fraction
    height: Fraction
    name = "ellipse"

    @property
    def width_nm(self) -> Fraction:
        return self.width

    def measure(self, sides: frozenset[str]) -> Measure:
        """One collar around; sides do not apply."""
        a, b = self.width / 2, self.height / 2
        around = PI * (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b)))
        return measured([Run("collar", around, 1)], PI, 0)


@dataclass(frozen=True)
class Cornered(Shape):
    """Straight sides between points, either way round."""

    points: tuple[Point, ...]

    @property
    def width_nm(self) -> Fraction:
        return max(x for x, _ in self.points) - min(x for x, _ in self.points)

    def edges(self) -> list[Point]:
        """The vector of each side."""
        following = self.points[1:] + self.points[:1]
        return [(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(self.points, following, strict=True)]

    def sides_nm(self) -> list[Fraction]:
        """The length of each side."""
        return [sqrt(x * x + y * y) for x, y in self.edges()]


@dataclass(frozen=True)
class Polygon(Cornered):
    """A convex polygon: tan(a/2) = |u×v| / (|u||v| + u·v) at each corner."""

    name = "polygon"

    def measure(self, sides: frozenset[str]) -> Measure:
        """A piece a side and a diagonal a corner; sides do not apply."""
        edges, lengths = self.edges(), self.sides_nm()
        corner_factor = Fraction(0)
        for i, (ux, uy) in enumerate(edges):
            j = (i + 1) % len(edges)
            vx, vy = edges[j]
            corner_factor += abs(ux * vy - uy * vx) / (lengths[i] * lengths[j] + ux * vx + uy * vy)
        return measured([Run("side", length, 1) for length in lengths], corner_factor, len(edges))


@dataclass(frozen=True)
class Outline(Cornered):
    """A right-angled outline: outside corners +1, inside −1, so K = 4."""

    name = "outline"

    def measure(self, sides: frozenset[str]) -> Measure:
        """A piece a side and a diagonal a corner, inside corners too; sides do not apply."""
        return measured([Run("side", length, 1) for length in self.sides_nm()], 4, len(self.points))


def treated_area_nm2(measure: Measure, depth_nm: Fraction, face_lap_nm: Fraction) -> Fraction:
    """A = P(d + f) + f²K in nm²; a pipe's d is its lap on the pipe."""
    return measure.perimeter_nm * (depth_nm + face_lap_nm) + face_lap_nm**2 * measure.corner_factor


def sloped_depth_nm(depth_nm: Fraction, angle_degrees: Fraction) -> Fraction:
    """d / cos φ: the return of a sill sloped by φ."""
    return settle(depth_nm / cos(angle_degrees * PI / 180)) if angle_degrees else depth_nm


def cross(o: Point, a: Point, b: Point) -> Fraction:
    """Twice the signed area of the triangle o a b."""
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])


def turns(values: list[Fraction]) -> int:
    """How often a cyclic sequence changes its sign, zeros passed over."""
    signs = [v > 0 for v in values if v]
    return sum(signs[i] != signs[i - 1] for i in range(len(signs)))


def polygon_fault(shape: Polygon) -> str | None:
    """What keeps the points from being a convex polygon, or None."""
    n = len(shape.points)
    corners = [cross(shape.points[i - 1], shape.points[i], shape.points[(i + 1) % n]) for i in range(n)]
    if 0 in corners:
        return "three points in a row stand in one line, or two are the same"
    edges = shape.edges()
    if turns(corners) or turns([x for x, _ in edges]) != 2 or turns([y for _, y in edges]) != 2:
        return "the outline is not convex"
    return None


def outline_fault(shape: Outline) -> str | None:
    """What keeps the points from being a right-angled outline that does not cross itself, or None."""
    edges = shape.edges()
    n = len(edges)
    if any((x == 0) == (y == 0) for x, y in edges):
        return "every side runs along or up"
    if any((edges[i][0] == 0) == (edges[i - 1][0] == 0) for i in range(n)):
        return "sides along and up take turns"
    boxes = []
    for (ax, ay), (x, y) in zip(shape.points, edges, strict=True):
        boxes.append((min(ax, ax + x), max(ax, ax + x), min(ay, ay + y), max(ay, ay + y)))
    for i in range(n):
        for j in range(i + 2, n - (i == 0)):
            a, b = boxes[i], boxes[j]
            if a[0] <= b[1] and b[0] <= a[1] and a[2] <= b[3] and b[2] <= a[3]:
                return "the outline crosses or touches itself"
    return None
