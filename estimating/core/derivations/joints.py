"""The length and the treated area of sheathing joints."""

from __future__ import annotations

from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node
from estimating.core.derivations.printing import AREA, LENGTH, RUN
from estimating.core.derivations.scope import PartScope
from estimating.core.request import Joints, SheetWall
from estimating.core.takeoff import joint_length_nm
from rates.core.fraction import Fraction
from rates.core.rows import JointRow

OWN_LENGTHS = ("corners", "terminations", "deflection")
WALL_WORDS = "(height ÷ sheet up, rounded up − 1) × length + (length ÷ sheet along, rounded up − 1) × height"


def wall_node(scope: PartScope, k: int, wall: SheetWall) -> Node:
    """The joints of one wall by its layout."""
    alone = Joints((wall,), Fraction(0), Fraction(0), Fraction(0), None)

    def inputs() -> list[Input]:
        fields = (
            ("length", wall.length_nm),
            ("height", wall.height_nm),
            ("sheet_long", wall.sheet_long_nm),
            ("sheet_high", wall.sheet_high_nm),
        )
        at = f"/sheathing_joints/walls/{k}"
        return [scope.asked(name.replace("_", " "), f"{at}/{name}", nm, LENGTH) for name, nm in fields]

    return Node(f"Joints of wall {k + 1}", WALL_WORDS, "sheet_joints", joint_length_nm(alone), RUN, inputs)


def length_inputs(scope: PartScope, joints: Joints) -> list[Input]:
    """Every wall, and the lengths that are given outright."""
    found = [scope.ref(f"wall {k + 1}", f"joints.wall.{k}") for k in range(len(joints.walls))]
    for name in OWN_LENGTHS:
        nm: Fraction = getattr(joints, f"{name}_nm")
        found.append(scope.asked(name, f"/sheathing_joints/{name}", nm, LENGTH))
    return found


def area_inputs(scope: PartScope, row: JointRow) -> list[Input]:
    """Length and width treated."""
    width = scope.production("width treated", "sheathing_joint/width", row.width_nm, LENGTH)
    return [scope.ref("length", "joints.length"), width]


def joint_geometry_book(scope: PartScope) -> Book:
    """Length and area of the joints that the part does."""
    joints, row, work = scope.request.joints, scope.card.production.sheathing_joint, scope.part.joints
    if joints is None or row is None or work is None:
        return {}
    length, area = work.takeoff.length_nm, work.takeoff.treated_area_nm2
    book: Book = {
        "joints.length": lambda: Node(
            "Length of sheathing joints",
            "Σ walls by layout + lengths given",
            "sum",
            length,
            RUN,
            partial(length_inputs, scope, joints),
        ),
        "joints.treated_area": lambda: Node(
            "Treated area of joints", "length × width treated", "product", area, AREA, partial(area_inputs, scope, row)
        ),
    }
    return book | {f"joints.wall.{k}": partial(wall_node, scope, k, wall) for k, wall in enumerate(joints.walls)}
