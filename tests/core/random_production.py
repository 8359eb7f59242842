"""Random production tables: minutes, factors, set-up, learning, coats, working time and piece geometry."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from tests.core.random_chance import Chance

Document = dict[str, Any]
TEMPERATURES = ("hot", "cold")
ACCESS = ("ground", "step_ladder", "rolling_scaffold", "extension_ladder", "lift", "swing_stage")
SHAPES = ("round", "half_round_top", "outline", "pipe")


def per(chance: Chance, foot: str, metre: str, most: int) -> Document:
    """Minutes for a foot, or for a metre."""
    return {chance.pick([foot, foot, metre]): chance.number(0, most, 3)}


def factors(chance: Chance, names: Sequence[str], low: int = 1) -> Document:
    """A factor from low to 2 for each name."""
    return {name: chance.number(low, 2, 2) for name in names}


def learning(chance: Chance) -> Document:
    """One of the learning models."""
    first = chance.number(1, 3, 2)
    return chance.pick(
        [
            {"model": "none"},
            {"model": "exponential", "first": first, "tau": chance.number(1, 40, 1)},
            {"model": "unit_curve", "first": first, "slope_percent": chance.number(70, 100, 1)},
            {"model": "cumulative_average", "first": first, "slope_percent": chance.number(70, 100, 1)},
        ]
    )


def geometry(chance: Chance) -> Document:
    """Laps and turns under the narrowest stock's four inches."""
    inches = {"face_lap": (1, 3), "turn_sill": (0, 4), "turn_head": (0, 4), "sill_turn_up": (0, 6)}
    inches |= {"mesh_lap": (1, 3), "tape_lap": (1, 3), "tape_sill_turn_up": (0, 8), "tape_corner_length": (4, 9)}
    inches |= {"collar_lap": (0, 4)}
    found: Document = {name: f"{chance.whole(*bounds)} in" for name, bounds in inches.items() if chance.maybe(0.6)}
    if chance.maybe(0.5):
        found["diagonal"] = {"width": chance.pick(["4 in", "5 in"]), "length": chance.pick(["8 in", "10 in"])}
    for name in ("arch_factor", "collar_factor"):
        if chance.maybe(0.5):
            found[name] = chance.number(1, 2, 2)
    if chance.maybe(0.5):
        found["lap_on_pipe"] = chance.pick(["2 in", "3 in"])
    return found


def coats(chance: Chance) -> Document:
    """The wait between coats, charged or not."""
    found: Document = {"interval_minutes": chance.number(10, 120, 0), "dry_hours": "2"}
    if chance.maybe(0.7):
        found |= {"first_coat_share": chance.pick(["0.5", "0.4", "0.65"]), "charge_idle": chance.maybe(0.6)}
    return found


def depth_over(chance: Chance) -> Document:
    """Minutes past a depth, for an inch or for a millimetre."""
    rate = {"minutes_per_inch": chance.number(0, 3, 2)} if chance.maybe(0.7) else {"minutes_per_mm": "0.05"}
    return {"from": chance.pick(["4 in", "6 in", "150 mm"])} | rate


def random_production(chance: Chance) -> Document:
    """A whole production table; pipes and sheathing joints can always be costed."""
    height = [{"over": f"{over} ft", "factor": chance.number(1, 2, 2)} for over in chance.shuffled([12, 20, 40])]
    optional: dict[str, tuple[float, Callable[[], Any]]] = {
        "shape": (0.6, lambda: {name: chance.number(0, 8, 1) for name in SHAPES}),
        "sill": (0.6, lambda: {name: chance.number(0, 6, 1) for name in ("sloped", "pan", "flat")}),
        "depth_over": (0.5, lambda: depth_over(chance)),
        "height": (0.6, lambda: height[: chance.whole(1, 3)]),
        "pair": (0.6, lambda: {"factor": chance.pick(["0.95", "1.00", "0.9"])} | from_width(chance)),
        "coats": (0.7, lambda: coats(chance)),
        "tape": (0.6, lambda: {"extra_strip_minutes": chance.number(0, 4, 1)}),
        "perimeter_seal": (0.7, lambda: per(chance, "minutes_per_foot", "minutes_per_metre", 2)),
        "hours_per_day": (0.6, lambda: chance.pick(["8", "7.5", "10"])),
        "days_per_week": (0.4, lambda: chance.pick(["4", "5", "6"])),
        "days_per_month": (0.4, lambda: chance.pick(["20", "22"])),
        "geometry": (0.6, lambda: geometry(chance)),
    }
    base = {"minimum": chance.number(10, 40, 0), "fixed": chance.number(0, 20, 1)}
    found: Document = {
        "opening_minutes": base | per(chance, "per_foot", "per_metre", 3),
        "penetration_minutes": {"fixed": chance.number(0, 12, 1)} | per(chance, "per_foot", "per_metre", 4),
        "access": factors(chance, ACCESS),
        "temperature": factors(chance, TEMPERATURES),
        "congestion": factors(chance, ["tight", "open"]),
        "rework": factors(chance, ["some"]),
        "setup_hours": {name: chance.number(0, 4, 2) for name in ("mobilisation", "elevation", "storey_change")},
        "learning": learning(chance),
        "sheathing_joint": {"width": chance.pick(["4 in", "6 in", "100 mm"])},
    }
    if chance.maybe(0.8):
        found["sheathing_joint"] |= per(chance, "minutes_per_foot", "minutes_per_metre", 1)
    return found | {name: draw() for name, (chances, draw) in optional.items() if chance.maybe(chances)}


def from_width(chance: Chance) -> Document:
    """The width from which two work together, or nothing."""
    return {"from_width": chance.pick(["36 in", "60 in"])} if chance.maybe(0.6) else {}
