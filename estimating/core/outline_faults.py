"""What keeps points from being an outline that can be priced: convex, or right-angled and not crossing itself."""

from __future__ import annotations

from estimating.core.cornered import Outline, Polygon
from estimating.core.shape import Point
from rates.core.fraction import Fraction


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
