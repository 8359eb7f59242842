"""One part of the job under one rate card: kinds worked, hours, materials and equipment.

A job has one part, or one for each mobilisation of a season split.

    lines of the part > takeoff of each kind > minutes > learning > hours > materials, equipment
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.crew import CrewCost
from estimating.core.equipment import EquipmentLine
from estimating.core.hours import Hours
from estimating.core.joints import JointWork
from estimating.core.materials import MaterialLine, stated_stock
from estimating.core.pack_search import TooClose
from estimating.core.places import places_of
from estimating.core.readiness import PartPlan, Ready
from estimating.core.supplies import Supplies, supplies
from estimating.core.work import KindWork
from estimating.core.worked import Worked
from estimating.core.zones import zones
from rates.core.fields import Faults
from rates.core.problems import Problem


@dataclass(eq=False, repr=False)
class Part(PartSubject):
    """The part worked out; `works` by kind index (kinds without a priced opening are not in it)."""

    plan: PartPlan
    conditions: Conditions
    crew: CrewCost
    works: Mapping[int, KindWork]
    joints: JointWork | None
    hours: Hours
    materials: tuple[MaterialLine, ...]
    equipment: tuple[EquipmentLine, ...]

    @property
    def label(self) -> str:
        """The part among those of the job."""
        return f"part {self.conditions.place}: {self.plan.title or ''}"

    @property
    def every_work(self) -> list[Worked]:
        """Every kind, then the joints."""
        return every_work(self.works, self.joints)


def every_work(works: Mapping[int, KindWork], joints: JointWork | None) -> list[Worked]:
    """Every kind, then the joints."""
    return [*works.values()] if joints is None else [*works.values(), joints]


def work_kinds(ready: Ready, rows: Supplies, faults: Faults) -> dict[int, KindWork]:
    """Each kind as worked; learning is not yet in the touch minutes."""
    works = {}
    for index, kind in ready.kinds.items():
        work = KindWork(ready.conditions, ready.crew, rows, index, kind, ready.quantities[index])
        if not work.fitting:
            role = "tape" if kind.method == "tape" else "mesh"
            detail = f"every {role} of the edition is no wider than its lap, so strips cannot cover the piece"
            faults.append(Problem("/tables/materials", "stock_too_narrow", detail, "edition"))
            continue
        works[index] = work
    return works


def work_joints(plan: PartPlan, ready: Ready, rows: Supplies, faults: Faults) -> JointWork | None:
    """The sheathing joints of the part, if it does them."""
    conditions = ready.conditions
    if not plan.joints or conditions.request.joints is None or conditions.production.sheathing_joint is None:
        return None
    joints = JointWork(conditions, ready.crew, rows, ready.joint_method)
    if not joints.fitting:
        detail = "no stock of the edition is wide enough to lap over a joint"
        faults.append(Problem("/tables/materials", "stock_too_narrow", detail, "edition"))
        return None
    return joints


def part_hours(
    plan: PartPlan, ready: Ready, works: Mapping[int, KindWork], joints: JointWork | None, earlier: Sequence[Part]
) -> Hours:
    """Hours of the part; what it learns is told to its works."""
    conditions, schedule = ready.conditions, ready.conditions.request.schedule
    lines, all_works = schedule.lines, every_work(works, joints)
    worked = [i for i in schedule.priced_among(plan.lines) if lines[i].quantity and lines[i].kind in works]
    places, found = places_of(lines, worked), zones(conditions, works, worked)
    hours = Hours(
        conditions, ready.crew, all_works, places, found, plan.mobilisations, [part.hours for part in earlier]
    )
    factor = hours.learning_factor
    for work in all_works:
        work.learning_factor = factor
    return hours


def material_lines(
    ready: Ready, hours: Hours, works: Sequence[Worked], earlier: Sequence[Part], smooth: bool
) -> tuple[MaterialLine, ...]:
    """A line for each row of which something is used, in the order of the table."""
    conditions = ready.conditions
    used = {code for work in works for code in work.used}
    found = []
    for row in conditions.card.materials:
        if row.code in used or row.per == "crew_day":
            before = [line for part in earlier for line in part.materials if line.row.code == row.code]
            stock = stated_stock(row, conditions.request)
            found.append(MaterialLine(conditions, row, works, hours, stock, before, smooth))
    return tuple(line for line in found if line.net)


def cost_part(plan: PartPlan, ready: Ready, earlier: Sequence[Part], smooth: bool, faults: Faults) -> Part | None:
    """The part worked out, or None with faults noted; `earlier`: the parts before, whose learning and stock count."""
    known, conditions = len(faults), ready.conditions
    rows = supplies(conditions, ready.need, faults)
    works, joints = work_kinds(ready, rows, faults), work_joints(plan, ready, rows, faults)
    if len(faults) > known:
        return None
    hours = part_hours(plan, ready, works, joints, earlier)
    all_works = every_work(works, joints)
    materials = material_lines(ready, hours, all_works, earlier, smooth)
    rows_rented = conditions.card.equipment
    rentals = [EquipmentLine(conditions, row, all_works, ready.crew, hours, smooth) for row in rows_rented]
    rented = tuple(line for line in rentals if line.touch_minutes)
    try:
        for amount in (*(line.amount for line in materials), *(line.amount for line in rented)):
            assert amount >= 0  # the cheapest packs are searched for here, where a failure is a fault
    except TooClose:
        detail = "a row's packs have unit prices too close to each other to tell the cheapest mix; leave one out"
        faults.append(Problem("/tables/materials", "packs_too_close", detail, "edition"))
        return None
    return Part(plan, conditions, ready.crew, works, joints, hours, materials, rented)
