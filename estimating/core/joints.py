"""The sheathing joints as worked in a part: their length by the layout of sheets, a strip over each, liquid on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from estimating.core.conditions import Conditions
from estimating.core.crew import CrewCost
from estimating.core.cuts import Cut
from estimating.core.figures.figure import Step, figure, figures, told
from estimating.core.figures.printing import AREA, RUN, TEXT
from estimating.core.figures.rules import product, rule, total
from estimating.core.request import SheetWall
from estimating.core.supplies import Supplies
from estimating.core.worked import Worked
from rates.core.fraction import Fraction

OWN_LENGTHS = ("corners_nm", "terminations_nm", "deflection_nm")


@rule("(height ÷ sheet up, rounded up − 1) × length + (length ÷ sheet along, rounded up − 1) × height")
def sheet_joints(length: Fraction, height: Fraction, along: Fraction, up: Fraction) -> Fraction:
    """The joints of a wall L × H of sheets a × b: (ceil(H/b) − 1) L + (ceil(L/a) − 1) H."""
    return (-(-height // up) - 1) * length + (-(-length // along) - 1) * height


class JointWork(Worked):
    """The sheathing joints as worked in a part: a strip over each joint, liquid on its treated width."""

    elsewhere = {"learning_factor": "learning_factor"}
    index = None
    cuts = (Cut("joint", 1),)

    def __init__(self, conditions: Conditions, crew: CrewCost, supplies: Supplies, method: str) -> None:
        self.conditions, self.crew, self.supplies, self.method = conditions, crew, supplies, method
        self.substrate = conditions.request.given.substrate
        self.stocks = supplies.tapes if method == "tape" else supplies.meshes
        self.geometry = conditions.card.production.geometry
        self.learning_factor = Fraction(1)
        self.access = (conditions.request.joints.access if conditions.request.joints else None) or "ground"

    @property
    def path(self) -> str:
        """joints"""
        return f"{self.prefix}joints"

    @property
    def sheets(self) -> Sequence[SheetWall]:
        """The walls that are sheathed."""
        return self.request.joints.walls if self.request.joints is not None else ()

    def told_sheets(view: Any) -> Any:
        """As the request gives them."""
        return view.request.joints.walls

    @figures(
        lambda s, k: f"Joints of wall {k + 1}",
        RUN,
        lambda s: range(len(s.sheets)),
        "wall.{}",
        label=lambda s, k: f"wall {k + 1}",
    )
    def wall(self, place: int) -> Step:
        wall = self.sheets[place]
        sizes = wall.length_nm, wall.height_nm, wall.sheet_long_nm, wall.sheet_high_nm
        return sheet_joints, sheet_joints.words, *sizes

    @figure("Length of sheathing joints", RUN, step="length")
    def perimeter(self) -> Step:
        own = [getattr(self.request.joints, name) for name in OWN_LENGTHS]
        return total, "Σ walls by layout + lengths given", *self.wall.values(), *own

    @told
    def run(self) -> Mapping[int, Any]:
        """The joints themselves."""
        return {0: self.perimeter}

    @figure("Treated area of joints", AREA)
    def treated_area(self) -> Step:
        width = self.production.sheathing_joint.width_nm  # type: ignore[union-attr]
        return product, "length × width treated", self.perimeter, width

    def covered(self, name: str) -> list[Any]:
        """The width treated."""
        return [self.production.sheathing_joint.width_nm]  # type: ignore[union-attr]

    def addends(self) -> list[str]:
        """By length, and extra strips."""
        row = self.production.sheathing_joint
        return ["length", "extra_strips"] if row is not None and row.per is not None else ["extra_strips"]

    def told_looked_up(view: Any) -> Mapping[str, Any]:
        """As the request gives it."""
        return {"access": view.request.joints.stated("access", view.subject.access, TEXT)}
