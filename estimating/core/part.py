"""One part of the job under one rate card: kinds worked, hours, materials and equipment.

A job has one part, or one for each mobilisation of a season split.

    lines of the part > takeoff of each kind > minutes > learning > hours > materials, equipment
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from estimating.core.crew import CrewCost
from estimating.core.equipment import EquipmentLine, equipment_lines
from estimating.core.kinds import Kind
from estimating.core.labour import (
    MINUTES_A_UNIT,
    Minutes,
    Setup,
    Term,
    Zone,
    factors,
    learning_factor,
    minutes,
    setup,
    zones,
)
from estimating.core.materials import MaterialLine, material_lines
from estimating.core.pack_search import TooClose
from estimating.core.readiness import PartPlan, Ready
from estimating.core.request import Request
from estimating.core.supplies import supplies
from estimating.core.takeoff import JointTakeoff, Takeoff, take_off, take_off_joints
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Problem


@dataclass(frozen=True)
class KindWork:
    """A kind as worked in a part: how many, the takeoff and the minutes of one."""

    kind: Kind
    quantity: int
    takeoff: Takeoff
    minutes: Minutes
    touch_minutes_each: Fraction


@dataclass(frozen=True)
class JointWork:
    """The sheathing joints as worked in a part."""

    access: str
    takeoff: JointTakeoff
    minutes: Minutes
    touch_minutes: Fraction


@dataclass(frozen=True)
class Hours:
    """Standard worker-hours of the part and what they are made of."""

    touch_minutes: Fraction
    opening_equivalents: Fraction
    learning_factor: Fraction
    setup: Setup
    zones: tuple[Zone, ...]
    idle_charged_minutes: Fraction

    @property
    def standard(self) -> Fraction:
        """Touch, charged idle and set-up hours."""
        return (self.touch_minutes + self.idle_charged_minutes) / 60 + self.setup.hours


@dataclass(frozen=True)
class Part:
    """The part worked out; `works` by kind index (kinds without a priced opening are not in it)."""

    plan: PartPlan
    crew: CrewCost
    works: Mapping[int, KindWork]
    joints: JointWork | None
    hours: Hours
    materials: tuple[MaterialLine, ...]
    equipment: tuple[EquipmentLine, ...]


def work_kinds(request: Request, plan: PartPlan, ready: Ready, faults: Faults) -> dict[int, KindWork]:
    """Takeoff and minutes of each kind; learning is not yet in the touch minutes."""
    production = plan.card.production
    rows = supplies(plan.card, request, ready.need, faults)
    hour_cost = ready.crew.standard_hour_cost
    works = {}
    for index, kind in ready.kinds.items():
        takeoff = take_off(kind, production, rows, request.seal, hour_cost)
        if takeoff is None:
            role = "tape" if kind.method == "tape" else "mesh"
            detail = f"every {role} of the edition is no wider than its lap, so strips cannot cover the piece"
            faults.append(Problem("/tables/materials", "stock_too_narrow", detail, "edition"))
            continue
        each = minutes(kind, takeoff, request, production)
        works[index] = KindWork(kind, ready.quantities[index], takeoff, each, each.base * each.factor)
    return works


def work_joints(request: Request, plan: PartPlan, ready: Ready, faults: Faults) -> JointWork | None:
    """The sheathing joints of the part, if it does them."""
    production, joints = plan.card.production, request.joints
    row = production.sheathing_joint
    if not plan.joints or joints is None or row is None:
        return None
    rows = supplies(plan.card, request, ready.need, faults)
    cost = ready.crew.standard_hour_cost
    takeoff = take_off_joints(joints, ready.joint_method, request.given.substrate, row, production, rows, cost)
    if takeoff is None:
        detail = "no stock of the edition is wide enough to lap over a joint"
        faults.append(Problem("/tables/materials", "stock_too_narrow", detail, "edition"))
        return None
    base = row.per.for_length(takeoff.length_nm) if row.per is not None else Fraction(0)
    extra = takeoff.choice.extra_strips * production.extra_strip_minutes
    terms = [Term("joints by length", base, "sheathing_joint"), Term("extra strips", extra, "tape/extra_strip_minutes")]
    access = joints.access or "ground"
    each = Minutes(tuple(t for t in terms if t.value), factors(access, None, None, request, production))
    return JointWork(access, takeoff, each, each.base * each.factor)


def part_hours(
    request: Request,
    plan: PartPlan,
    works: Mapping[int, KindWork],
    joints: JointWork | None,
    before: Fraction,
) -> Hours:
    """Hours of the part; `before` are the opening-equivalents of earlier parts."""
    production = plan.card.production
    base = sum((w.quantity * w.minutes.base for w in works.values()), Fraction(0))
    touch = sum((w.quantity * w.touch_minutes_each for w in works.values()), Fraction(0))
    if joints is not None:
        base, touch = base + joints.minutes.base, touch + joints.touch_minutes
    equivalents = base / MINUTES_A_UNIT
    factor = learning_factor(request, production, equivalents, before)
    lines = [request.schedule.lines[i] for i in request.schedule.priced_among(plan.lines)]
    worked = [line for line in lines if line.quantity and line.kind in works]
    fluid_base = [
        works[k].minutes.base if k in works and works[k].kind.method == "fluid" else None
        for k in range(len(request.schedule.kinds))
    ]
    found = zones(worked, fluid_base, production)
    charged = production.coats is not None and production.coats.charge_idle
    idle = sum((z.idle_minutes for z in found), Fraction(0)) if charged else Fraction(0)
    mobilisations = plan.mobilisations if worked or joints is not None else 0
    return Hours(touch * factor, equivalents, factor, setup(worked, mobilisations, production), found, idle)


def net_use(works: Mapping[int, KindWork], joints: JointWork | None) -> dict[str, Fraction]:
    """Net use of each material by code, base units, crew-day consumables apart."""
    net: dict[str, Fraction] = {}
    for work in works.values():
        for code, each in work.takeoff.use:
            net[code] = net.get(code, Fraction(0)) + each * work.quantity
    for code, amount in joints.takeoff.use if joints is not None else ():
        net[code] = net.get(code, Fraction(0)) + amount
    return net


def touch_by_access(works: Mapping[int, KindWork], joints: JointWork | None) -> dict[str, Fraction]:
    """Touch minutes worked from each kind of access."""
    found: dict[str, Fraction] = {}
    for work in works.values():
        access = work.kind.access or "ground"
        found[access] = found.get(access, Fraction(0)) + work.quantity * work.touch_minutes_each
    if joints is not None:
        found[joints.access] = found.get(joints.access, Fraction(0)) + joints.touch_minutes
    return found


def cost_part(
    request: Request, plan: PartPlan, ready: Ready, before: Fraction, smooth: bool, faults: Faults
) -> Part | None:
    """The part worked out, or None with faults noted; `before`: opening-equivalents of earlier parts."""
    known = len(faults)
    works, joints = work_kinds(request, plan, ready, faults), work_joints(request, plan, ready, faults)
    if len(faults) > known:
        return None
    hours = part_hours(request, plan, works, joints, before)
    learnt = hours.learning_factor
    works = {
        k: KindWork(w.kind, w.quantity, w.takeoff, w.minutes, w.touch_minutes_each * learnt) for k, w in works.items()
    }
    if joints is not None:
        joints = JointWork(joints.access, joints.takeoff, joints.minutes, joints.touch_minutes * learnt)
    net = net_use(works, joints)
    days = ready.crew.exact_days(hours.standard) if smooth else Fraction(ready.crew.days(hours.standard))
    for row in plan.card.materials:
        if row.role == "consumable" and row.per == "crew_day":
            net[row.code] = days
    card, crew = plan.card, ready.crew
    mobilisations = hours.setup.mobilisations
    try:
        materials = material_lines(net, ready.stock, request, card, smooth)
        rented = equipment_lines(touch_by_access(works, joints), crew, mobilisations, card, smooth)
    except TooClose:
        detail = "a row's packs have unit prices too close to each other to tell the cheapest mix; leave one out"
        faults.append(Problem("/tables/materials", "packs_too_close", detail, "edition"))
        return None
    return Part(plan, crew, works, joints, hours, materials, rented)
