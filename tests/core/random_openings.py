"""Random opening lines: every shape, sides, sills, access, places, and lines that are not priced."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from estimating.core.shapes import SHAPE
from tests.core.random_chance import Chance

Document = dict[str, Any]
ACCESS = ("ground", "step_ladder", "extension_ladder", "rolling_scaffold", "frame_scaffold", "lift", "swing_stage")
SUBSTRATES = ("gypsum_sheathing", "cement_board", "plywood", "osb", "cmu", "concrete", "steel")
# corners in grid steps; the polygons are convex and the outlines right-angled, one of each kind the other way round
POLYGONS = (
    ((0, 0), (4, 0), (4, 3), (0, 6)),
    ((0, 0), (0, 5), (7, 1)),
    ((1, 0), (5, 0), (7, 3), (4, 6), (0, 4)),
    ((0, 2), (2, 5), (6, 5), (8, 2), (6, 0), (2, 0)),
)
OUTLINES = (
    ((0, 0), (6, 0), (6, 3), (3, 3), (3, 8), (0, 8)),
    ((0, 0), (0, 2), (2, 2), (2, 6), (4, 6), (4, 2), (6, 2), (6, 0)),
    ((0, 0), (9, 0), (9, 5), (6, 5), (6, 2), (3, 2), (3, 5), (0, 5)),
)


def length(chance: Chance, low: int, high: int) -> str:
    """A length from low to high inches, in one of the ways people write it."""
    inches = chance.whole(low, high)
    feet, rest = divmod(inches, 12)
    mixed = f"{inches} {chance.whole(1, 7)}/8 in"
    return chance.pick([f"{inches} in", mixed, f"{feet}'-{rest}\"", f"{inches * 25} mm", f"{inches * 254 // 100} cm"])


def rectangle(chance: Chance) -> Document:
    """Four sides, the shape left out at times."""
    named = {"shape": "rectangle"} if chance.maybe(0.5) else {}
    return named | {"width": length(chance, 16, 90), "height": length(chance, 16, 96)}


def arch(chance: Chance) -> Document:
    """A half-round or segmental top, from its springline or its overall height; at times without a jamb."""
    inches = chance.whole(20, 80)
    spring = 0 if chance.maybe(0.1) else chance.whole(12, 60)
    rise = chance.whole(4, inches // 2)
    found: Document = {"shape": "segmental_top", "width": f"{inches} in", "rise": f"{rise} in"}
    height = f"{spring + rise} in"
    if chance.maybe(0.5):
        found = {"shape": "half_round_top", "width": f"{inches} in"}
        height = f"{2 * spring + inches}/2 in"
    return found | ({"springline": f"{spring} in"} if chance.maybe(0.6) else {"height": height})


def cornered(chance: Chance) -> Document:
    """A convex polygon or a right-angled outline."""
    polygon = chance.maybe(0.5)
    step = chance.whole(5, 14)
    points = [[f"{x * step} in", f"{y * step} in"] for x, y in chance.pick(POLYGONS if polygon else OUTLINES)]
    return {"shape": "polygon" if polygon else "outline", "points": points}


def pipe(chance: Chance) -> Document:
    """A pipe, by its kind or by its shape too; at times a square penetration."""
    found: Document = {"kind": "pipe"}
    if chance.maybe(0.1):
        return found | {"shape": "rectangle", "width": "10 in", "height": "8 in"}
    if chance.maybe(0.5):
        found["shape"] = "pipe"
    if chance.maybe(0.4):
        found["lap_on_pipe"] = chance.pick(["2 in", "3 in", "60 mm"])
    return found | {"diameter": length(chance, 2, 14)}


SIZES: tuple[Callable[[Chance], Document], ...] = (
    rectangle,
    rectangle,
    rectangle,
    arch,
    arch,
    cornered,
    pipe,
    lambda chance: {"shape": "round", "diameter": length(chance, 12, 60)},
    lambda chance: {"shape": "ellipse", "width": length(chance, 20, 70), "height": length(chance, 16, 60)},
)


def sides(chance: Chance, size: Document) -> Document:
    """The treated sides and the sill of a shape that has one."""
    if not SHAPE[size.get("shape", "rectangle")].has_sill or "diameter" in size:
        return {}
    choices: list[Document] = [
        {},
        {},
        {"sill": {"kind": "flat"}},
        {"sill": {"kind": "sloped", "angle_degrees": chance.number(1, 40, 1)}},
        {"sill": {"kind": "pan"}},
        {"sill": {"kind": "none"}},
        {"kind": "door", "sides": ["jambs", "head"]},
        {"kind": "door", "sides": ["head", "jambs", "sill"], "sill": {"kind": "threshold"}},
        {"sides": chance.some(["sill", "jambs", "head"], least=1)},
        {"sides": "sill"},
    ]
    found = chance.pick(choices)
    return {k: v for k, v in found.items() if k != "kind"} if "kind" in size else found


def conditions(chance: Chance, by_line: bool) -> Document:
    """Where the line stands and under what conditions."""
    found: Document = {"method": chance.pick(["fluid", "tape"])} if by_line else {}
    optional: dict[str, tuple[float, Callable[[], Any]]] = {
        "access": (0.8, lambda: chance.pick(ACCESS)),
        "elevation": (0.8, lambda: chance.pick(["North", "South", "East", "north"])),
        "storey": (0.7, lambda: chance.pick(["1", "2", "3"])),
        "treated_depth": (0.3, lambda: length(chance, 3, 11)),
        "substrate": (0.3, lambda: chance.pick(SUBSTRATES)),
        "height_above_grade": (0.4, lambda: f"{chance.whole(-4, 70)} ft"),
        "external": (0.5, lambda: chance.pick([True, True, False])),
        "seal": (0.2, lambda: chance.maybe(0.5)),
    }
    return found | {name: draw() for name, (chances, draw) in optional.items() if chance.maybe(chances)}


def priced(chance: Chance) -> Document:
    """How many; a few lines are excluded, an alternate or of quantity 0."""
    if chance.maybe(0.08):
        return {"quantity": chance.whole(1, 5), "excluded": {"reason": "by others"}}
    if chance.maybe(0.08):
        return {"quantity": chance.whole(1, 5), "alternate": "1"}
    return {"quantity": 0 if chance.maybe(0.06) else chance.whole(1, 12 if chance.maybe(0.9) else 150)}


def random_openings(chance: Chance, *, by_line: bool) -> list[Document]:
    """The lines of a few marks, each mark of one size on one to three lines; now and then none at all."""
    if chance.maybe(0.03):
        return []
    lines = []
    for number in range(1, chance.whole(1, 5) + 1):
        size = chance.pick(SIZES)(chance)
        for _ in range(chance.pick([1, 1, 2, 3])):
            kind = {} if "kind" in size else {"kind": chance.pick(["window", "louvre", "duct", "other"])}
            line = {"mark": f"M{number}"} | kind | size | sides(chance, size)
            lines.append(line | conditions(chance, by_line) | priced(chance))
    return lines
