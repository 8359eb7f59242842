"""Fine polylines of treated outlines in inches, and the area of a mitred offset: floats, a ruler for tests.

None of it shares a line with the core: an outline is drawn point by point, its neighbours' normals give the mitre, and
the shoelace formula gives the area between the outline and its offset.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import asin, cos, hypot, pi, sin, sqrt

Point = tuple[float, float]
Path = list[Point]
FINE = 1000  # segments in half a turn; chords are short of their arc by 5e-7
END = 1e-8  # radians of an arc's first and last segment, so that an open end moves out square to the arc


def arc(centre: Point, radius: float, start: float, end: float) -> Path:
    """Points along a circle from one angle to another, counter-clockwise."""
    steps = max(8, int(FINE * (end - start) / pi))
    inner = [start + (end - start) * i / steps for i in range(1, steps)]
    angles = [start, start + END, *inner, end - END, end]
    return [(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in angles]


def ring(width: float, height: float) -> Path:
    """A closed ellipse, or a circle where both are the same."""
    angles = [2 * pi * i / (2 * FINE) for i in range(2 * FINE)]
    return [(width / 2 * cos(a), height / 2 * sin(a)) for a in angles]


def head_arc(width: float, springline: float, rise: float) -> Path:
    """An arch's head from its right springing point over to the left."""
    radius = (width**2 / 4 + rise**2) / (2 * rise)
    half = asin(min(1.0, width / (2 * radius)))
    return arc((width / 2, springline + rise - radius), radius, pi / 2 - half, pi / 2 + half)


def treated_paths(width: float, spring: float, head: Path, sides: Sequence[str]) -> tuple[list[Path], bool]:
    """(open paths, or one closed one, counter-clockwise; whether it is closed) of an opening with a sill."""
    runs = [("sill", [(0.0, 0.0), (width, 0.0)]), ("jambs", [(width, 0.0), (width, spring)]), ("head", head)]
    runs.append(("jambs", [(0.0, spring), (0.0, 0.0)]))
    runs = [(name, points) for name, points in runs if points[0] != points[-1]]
    kept = [points for name, points in runs if name in sides]
    if len(kept) == len(runs):
        return [[point for points in kept for point in points[:-1]]], True
    joined: list[Path] = []
    for points in kept:
        if joined and near(joined[-1][-1], points[0]):
            joined[-1] += points[1:]
        else:
            joined.append(list(points))
    if len(joined) > 1 and near(joined[-1][-1], joined[0][0]):
        joined[0] = joined.pop() + joined[0][1:]
    return joined, False


def near(a: Point, b: Point) -> bool:
    """Whether two points are the same but for float noise."""
    return hypot(a[0] - b[0], a[1] - b[1]) < 1e-6


def normals(path: Path, closed: bool) -> list[Point]:
    """The outward normal of each segment of a counter-clockwise path."""
    ends = path[1:] + path[:1] if closed else path[1:]
    found = []
    for (ax, ay), (bx, by) in zip(path, ends, strict=False):
        length = hypot(bx - ax, by - ay)
        found.append(((by - ay) / length, (ax - bx) / length))
    return found


def offset(path: Path, distance: float, closed: bool) -> Path:
    """The path moved outward, mitred at each corner; an open path's ends move straight out."""
    out = normals(path, closed)
    moved = []
    for i, (x, y) in enumerate(path):
        before = out[i - 1] if i or closed else out[0]
        after = out[i] if i < len(out) else out[-1]
        scale = distance / (1 + before[0] * after[0] + before[1] * after[1])
        moved.append((x + scale * (before[0] + after[0]), y + scale * (before[1] + after[1])))
    return moved


def shoelace(path: Sequence[Point]) -> float:
    """The signed area of a closed path, counter-clockwise positive."""
    following = [*path[1:], path[0]]
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(path, following, strict=True)) / 2


def length(path: Path, closed: bool) -> float:
    """The length of a path."""
    ends = path[1:] + path[:1] if closed else path[1:]
    return sum(hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(path, ends, strict=False))


def counter_clockwise(path: Path) -> Path:
    """The closed path, turned round where it runs clockwise."""
    return path if shoelace(path) > 0 else path[::-1]


def offset_area(path: Path, depth: float, lap: float, closed: bool) -> float:
    """P·d and the area between the path and its mitred offset."""
    outer = offset(path, lap, closed)
    face = shoelace(outer) - shoelace(path) if closed else shoelace(outer + path[::-1])
    return length(path, closed) * depth + abs(face)


def ellipse_around(width: float, height: float) -> float:
    """Ramanujan's first approximation of an ellipse's perimeter."""
    a, b = width / 2, height / 2
    return pi * (3 * (a + b) - sqrt((3 * a + b) * (a + 3 * b)))
