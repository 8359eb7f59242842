"""One part of the job under one rate card: kinds worked, hours, materials and equipment.

A job has one part, or one for each mobilisation of a season split.

    lines of the part > takeoff of each kind > minutes > learning > hours > materials, equipment

Where a cut plan decides the quantities, stock is chosen for the whole part between takeoff and minutes.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from estimating.core.conditions import Conditions, PartSubject
from estimating.core.crew import CrewCost
from estimating.core.equipment import EquipmentLine
from estimating.core.hours import Hours
from estimating.core.joints import JointWork
from estimating.core.materials import MaterialLine, stated_stock
from estimating.core.pack_search import TooClose
from estimating.core.readiness import PartPlan, Ready
from estimating.core.roll_needs import CUT_PLAN, STEPS, too_short
from estimating.core.schedule_lines import Place, places_of
from estimating.core.shared_work import Shared
from estimating.core.stock_choice import choose_for_job
from estimating.core.supplies import Supplies, supplies
from estimating.core.work import KindWork
from estimating.core.worked import Worked
from estimating.core.zones import zones
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Problem
from rates.core.rows import MaterialRow

Known = Callable[[PartSubject, str, Sequence[str]], None]  # takes over figures of an equal part, by their names


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


def work_kinds(ready: Ready, rows: Supplies, shared: Shared | None, faults: Faults) -> dict[int, KindWork]:
    """Each kind as worked; learning is not yet in the touch minutes."""
    works = {}
    known = shared.working(ready, rows) if shared is not None else None
    alike: dict[Any, KindWork] = {}
    for index, kind in ready.kinds.items():
        work = known and known[index]
        work = work or KindWork(ready.conditions, ready.crew, rows, index, kind, ready.quantities[index])
        if not work.fitting:
            role = "tape" if kind.method == "tape" else "mesh"
            detail = f"every {role} of the edition is no wider than its lap, so strips cannot cover the piece"
            faults.append(Problem("/tables/materials", "stock_too_narrow", detail, "edition"))
            continue
        work.cut_like(alike)
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


def places_from(
    conditions: Conditions, works: Mapping[int, KindWork], worked: Sequence[int]
) -> dict[str, Sequence[Place]]:
    """Where the worked lines of each access are that the production table sets up zone by zone."""
    lines, found = conditions.request.schedule.lines, dict[str, Sequence[Place]]()
    for access, _ in conditions.production.setup_hours.zone:
        kinds = {index for index, work in works.items() if work.access == access}
        indexes = [i for i in worked if lines[i].kind in kinds] if kinds else []
        if indexes:
            found[access] = places_of(lines, indexes)
    return found


def part_hours(
    plan: PartPlan, ready: Ready, works: Mapping[int, KindWork], joints: JointWork | None, earlier: Sequence[Part]
) -> Hours:
    """Hours of the part; what it learns is told to its works."""
    conditions, schedule = ready.conditions, ready.conditions.request.schedule
    lines, all_works = schedule.lines, every_work(works, joints)
    if len(plan.lines) == len(lines):
        worked, places = schedule.worked, schedule.places
    else:
        worked = tuple([i for i in schedule.priced_among(plan.lines) if lines[i].quantity and lines[i].kind in works])
        places = places_of(lines, worked)
    from_access = places_from(conditions, works, worked)
    found, before = zones(conditions, works, worked), [part.hours for part in earlier]
    hours = Hours(conditions, ready.crew, all_works, places, from_access, found, plan.mobilisations, before)
    factor = hours.learning_factor
    for work in all_works:
        work.learning_factor = factor
    return hours


def stock_left(conditions: Conditions, earlier: Sequence[Part], row: MaterialRow) -> Fraction:
    """What is on hand of a row after the parts before."""
    taken = [line.taken for part in earlier for line in part.materials if line.row.code == row.code]
    return Fraction(stated_stock(row, conditions.request)) - sum(taken, Fraction(0))


def check_rolls(conditions: Conditions, rows: Supplies, faults: Faults) -> None:
    """A roll that nothing can be joined of."""
    geometry, step = conditions.production.geometry, STEPS[conditions.request.units]
    laps = [(price.row, geometry.mesh_lap_nm) for price in rows.meshes]
    laps += [(price.row, geometry.tape_lap_nm) for price in rows.tapes]
    for row, lap in laps:
        if too_short(row, lap, step):
            at = f"/tables/materials/{conditions.card.materials.index(row)}/packs"
            detail = f"a roll of {row.code} is no longer than the lap of a joint, so a cut plan cannot join any of it"
            faults.append(Problem(at, "roll_too_short", detail, "edition"))


def material_lines(
    ready: Ready, hours: Hours, works: Sequence[Worked], earlier: Sequence[Part], smooth: bool, known: Known
) -> tuple[MaterialLine, ...]:
    """A line for each row of which something is used, in the order of the table."""
    conditions = ready.conditions
    used = {code for work in works for code in work.used}
    found = []
    for row in conditions.card.materials:
        if row.code in used or row.per == "crew_day":
            before = [line for part in earlier for line in part.materials if line.row.code == row.code]
            stock = stated_stock(row, conditions.request)
            line = MaterialLine(conditions, row, works, hours, stock, before, smooth)
            if not line.by_crew_day:
                known(line, f"material {row.code}", ("net",))
            found.append(line)
    return tuple(line for line in found if line.net)


def cost_part(
    plan: PartPlan,
    ready: Ready,
    earlier: Sequence[Part],
    smooth: bool,
    faults: Faults,
    shared: Shared | None = None,
) -> Part | None:
    """The part worked out, or None with faults noted; `earlier`: the parts before, whose learning and stock count."""
    known, conditions = len(faults), ready.conditions
    rows = supplies(conditions, ready.need, faults)
    works, joints = work_kinds(ready, rows, shared, faults), work_joints(plan, ready, rows, faults)
    if conditions.request.quantities_from == CUT_PLAN:
        check_rolls(conditions, rows, faults)
    if len(faults) > known:
        return None
    try:
        return worked_out(plan, ready, works, joints, earlier, smooth, shared)
    except TooClose:
        detail = "a row's packs have unit prices too close to each other to tell the cheapest mix; leave one out"
        faults.append(Problem("/tables/materials", "packs_too_close", detail, "edition"))
        return None


def worked_out(
    plan: PartPlan,
    ready: Ready,
    works: Mapping[int, KindWork],
    joints: JointWork | None,
    earlier: Sequence[Part],
    smooth: bool,
    shared: Shared | None,
) -> Part:
    """The part from its works, in which nothing is at fault; TooClose."""

    def known(subject: PartSubject, what: str, names: Sequence[str]) -> None:
        if shared is not None:
            shared.take_over(subject, ready, joints is not None, what, names)

    conditions = ready.conditions
    if conditions.request.quantities_from == CUT_PLAN and not smooth:
        step = STEPS[conditions.request.units]
        choose_for_job(every_work(works, joints), ready.crew, partial(stock_left, conditions, earlier), step)
    hours = part_hours(plan, ready, works, joints, earlier)
    known(hours, "hours", ("base_minutes", "touch_minutes"))
    if shared is not None and hours.zones:
        counted = shared.number("zones", [zone.counts for zone in hours.zones])
        known(hours, f"idle {counted}", ("idle_minutes",))
    all_works = every_work(works, joints)
    materials = material_lines(ready, hours, all_works, earlier, smooth, known)
    rows_rented = conditions.card.equipment
    rentals = [EquipmentLine(conditions, row, all_works, ready.crew, hours, smooth) for row in rows_rented]
    rented = tuple(line for line in rentals if line.touch_minutes)
    for amount in (*(line.amount for line in materials), *(line.amount for line in rented)):
        assert amount >= 0  # the cheapest packs are searched for here, where a failure is a fault
    return Part(plan, conditions, ready.crew, works, joints, hours, materials, rented)
