"""Whether a part of the job can be costed: kinds settled, rows and names found, every fault before any costing."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from estimating.core.conditions import Conditions
from estimating.core.crew import CrewCost, crew_cost
from estimating.core.kinds import Kind, settle
from estimating.core.request import Request
from estimating.core.schedule_lines import quantities
from estimating.core.supplies import GYPSUM, Need, supplies
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.problems import Problem, escape

Settled = Callable[[Request, Mapping[int, int], Faults], Mapping[int, Kind]]


@dataclass(frozen=True)
class PartPlan:
    """What a part does: its card, its lines (indexes into the schedule), its mobilisations, whether the joints.

    place: among the parts of the job; several: whether there are more.
    """

    card: Card
    lines: tuple[int, ...]
    mobilisations: int
    joints: bool
    title: str | None
    work_date: datetime.date | None = None
    place: int = 0
    several: bool = False


@dataclass(frozen=True)
class Ready:
    """Kinds settled and rows found: everything that costing needs, nothing at fault."""

    quantities: Mapping[int, int]
    kinds: Mapping[int, Kind]
    joint_method: str
    need: Need
    conditions: Conditions
    crew: CrewCost


def settle_kinds(request: Request, used: Mapping[int, int], faults: Faults) -> dict[int, Kind]:
    """The used kinds with the request's values; each line of a kind at fault is named."""
    settled, wrong = {}, {}
    for index in used:
        kind, found = settle(request.schedule.kinds[index], request.given)
        settled[index] = kind
        if kind.sealed and request.seal is None:
            detail = "this line is to be sealed, and the request describes no perimeter_seal"
            found = [*found, Problem("/seal", "missing", detail)]
        if found:
            wrong[index] = found
    for i, line in enumerate(request.schedule.lines if wrong else ()):
        if line.kind in wrong and line.priced and line.quantity:
            faults.extend(f.within(f"/openings/{i}") for f in wrong[line.kind])
    return settled


def joint_method(request: Request) -> str:
    """The method of the sheathing joints: the request's, or what the wall barrier takes."""
    if request.method == "by_line":
        return "tape" if request.given.barrier == "sheet" else "fluid"
    return request.method


def find_need(request: Request, kinds: Mapping[int, Kind], joints: bool) -> Need:
    """Which roles the priced work asks for."""
    methods = {kind.method for kind in kinds.values()} | ({joint_method(request)} if joints else set())
    taped = {kind.substrate or GYPSUM for kind in kinds.values() if kind.method == "tape"}
    if joints and joint_method(request) == "tape":
        taped.add(request.given.substrate or GYPSUM)
    sealed = request.seal is not None and any(kind.sealed is not False for kind in kinds.values())
    return Need("fluid" in methods, "tape" in methods, tuple(sorted(taped)), sealed)


def check_production(of: Conditions, kinds: Mapping[int, Kind], joints: bool, faults: Faults) -> None:
    """Tables and names of the production table that the work asks for."""
    request, card, production = of.request, of.card, of.production
    temperature = "temperature" if of.own_temperature is None else f"mobilisations/{of.place}/temperature"
    if production.penetration_minutes is None and any(kind.is_pipe for kind in kinds.values()):
        detail = "the schedule has pipes, and the edition has no penetration_minutes"
        faults.append(Problem("/tables/production/penetration_minutes", "missing", detail, "edition"))
    if joints and production.sheathing_joint is None:
        detail = "the request has sheathing joints, and the edition has no sheathing_joint"
        faults.append(Problem("/tables/production/sheathing_joint", "missing", detail, "edition"))
    known_at = {name for row in card.materials for name, _ in row.waste_by_temperature}
    for field, word, known in (
        (temperature, of.temperature, known_at | set(dict(production.temperature))),
        ("congestion", request.congestion, set(dict(production.congestion))),
        ("rework", request.rework, set(dict(production.rework))),
    ):
        if word is not None and word not in known:
            names = ", ".join(sorted(known)) or f"no {field.rsplit('/', 1)[-1]} at all"
            faults.append(Problem(f"/{field}", "unknown_name", f'the edition knows {names}, not "{word}"'))


def check_stock(request: Request, card: Card, faults: Faults) -> None:
    """A code of stock on hand or a unit of it that the edition does not have."""
    rows = {row.code: row for row in card.materials}
    for code, (dimension, size) in request.stock:
        at = "/stock" + escape(code)
        row = rows.get(code)
        if row is None:
            faults.append(Problem(at, "unknown_row", f'the edition has no material "{code}"'))
        elif row.packs[0].dimension != dimension or size < 0:
            faults.append(Problem(at, "wrong_dimension", f"stock of {code} is a {row.packs[0].dimension}"))


def prepare(request: Request, plan: PartPlan, faults: Faults, settled: Settled = settle_kinds) -> Ready | None:
    """What costing needs, or None with every fault that can be decided without costing; settled: as settle_kinds."""
    before, schedule = len(faults), request.schedule
    whole = len(plan.lines) == len(schedule.lines)
    used = schedule.quantities if whole else quantities(schedule.lines, schedule.priced_among(plan.lines))
    kinds = settled(request, used, faults)
    conditions = Conditions(plan.card, request, plan.place, plan.several)
    crew = crew_cost(conditions, faults, plan.work_date or request.work_date)
    joints = plan.joints and request.joints is not None
    check_production(conditions, kinds, joints, faults)
    need = find_need(request, kinds, joints)
    supplies(conditions, need, faults)
    check_stock(request, plan.card, faults)
    if len(faults) > before or crew is None:
        return None
    return Ready(used, kinds, joint_method(request), need, conditions, crew)
