"""Small editions and requests that a test puts together by hand; every rate is invented and round, to follow by eye.

The worker costs 60.00 an hour, so a standard minute is 1.00. Without overheads the price is labour, materials and
equipment alone. `edition(...)` and `request(...)` give plain documents, as a file or a body would hold them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from estimating.core.build_lines import PercentLine, RowLine
from estimating.core.crew import CrewCost
from estimating.core.estimate import Estimate
from estimating.core.figures.rules import sum_of_products
from estimating.core.hours import Hours
from estimating.core.job import cost_request, read_request
from estimating.core.kinds import Kind
from estimating.core.materials import MaterialLine
from estimating.core.outlines import area_terms
from estimating.core.schedule import read_schedule
from estimating.core.shapes import Shape, Stretch
from estimating.core.work import KindWork
from rates.core.card import EditionSource
from rates.core.fields import Faults
from rates.core.problems import Problem, Refused
from rates.core.units import AREA_NM2, LENGTH_NM, VOLUME_NM3

Document = dict[str, Any]
WORK_DATE = "2027-03-15"
LIQUID = {"wet_film": ["20 mil", "20 mil"], "packs": [{"size": "1 gal", "price": "40"}]}
MESH = {"width": "9 in", "packs": [{"size": "150 ft", "price": "60"}]}
TAPE = {"width": "9 in", "packs": [{"size": "75 ft", "price": "75"}]}
PRIMER = {
    "apply": "edge",
    "edge_width": "1 in",
    "coverage": "200 ft2/gal",
    "packs": [{"size": "1 gal", "price": "50"}],
}
SEALANT = {"packs": [{"size": "10.1 fl oz", "price": "8"}]}


def rod(diameter: str) -> Document:
    """A backer rod."""
    return material("backer_rod", f"rod {diameter}", diameter=diameter, packs=[{"size": "100 ft", "price": "20"}])


def material(role: str, code: str, **fields: Any) -> Document:
    """A material row without waste."""
    return {"code": code, "title": f"Invented {code}", "role": role} | fields


def materials() -> list[Document]:
    """A row of each role that openings always need, with a primer for all substrates."""
    rows = {"liquid": LIQUID, "mesh": MESH, "tape": TAPE, "primer": PRIMER}
    return [material(role, role, **fields) for role, fields in rows.items()]


def seal_materials() -> list[Document]:
    """Those, and what a perimeter seal needs."""
    return [*materials(), material("sealant", "sealant", **SEALANT), rod("3/8 in"), rod("1/2 in"), rod("5/8 in")]


def worker(code: str = "worker", wage: str = "60", **fields: Any) -> Document:
    """A labour row that costs its wage and no more."""
    return {"code": code, "title": f"Invented {code}", "wage": wage} | fields


def overhead(step: str, code: str | None = None, **fields: Any) -> Document:
    """An overheads row."""
    return {"code": code or step, "title": f"Invented {step.replace('_', ' ')}", "step": step} | fields


def percent(step: str, rate: str, on: str, code: str | None = None, **fields: Any) -> Document:
    """An overheads row of so many percent on a base."""
    return overhead(step, code, percent=rate, on=on, **fields)


def lift(**fields: Any) -> Document:
    """A rented lift at 200 a day."""
    row = {"code": "lift", "title": "Invented lift", "for_access": ["lift"]}
    return row | {"rental": [{"period": "day", "price": "200"}]} | fields


def production(**fields: Any) -> Document:
    """Opening minutes as in the worked cases (30 up to 16 ft of perimeter, else 12 + 1.125 a foot), nothing else."""
    table: Document = {
        "opening_minutes": {"minimum": "30", "fixed": "12", "per_foot": "1.125"},
        "penetration_minutes": {"fixed": "8", "per_foot": "2"},
    }
    return table | fields


def edition(**tables: Any) -> Document:
    """An edition; tables and heading fields that are given replace the plain ones."""
    plain: Document = {
        "labour": [worker()],
        "materials": materials(),
        "equipment": [],
        "production": production(),
        "overheads": [],
    }
    head: Document = {"effective_from": "2027-01-01", "note": "invented rates", "currency": "USD"}
    head |= {name: value for name, value in tables.items() if name not in plain}
    return head | {"tables": plain | {name: value for name, value in tables.items() if name in plain}}


def with_row(role: str, **fields: Any) -> Document:
    """The plain edition with one role's row changed."""
    rows = [m | fields if m["role"] == role else m for m in materials()]
    return edition(materials=rows)


def without(*roles: str, extra: Sequence[Document] = ()) -> Document:
    """The plain edition without some roles, with other rows."""
    return edition(materials=[m for m in materials() if m["role"] not in roles] + list(extra))


def opening(mark: str = "A", quantity: int = 1, **fields: Any) -> Document:
    """A 48 × 48 in window (16 ft around, 30 minutes) unless its size is given."""
    sized = {"width", "diameter", "points", "shape"} & fields.keys()
    size = {} if sized else {"width": "48 in", "height": "48 in"}
    return {"mark": mark, "quantity": quantity, "access": "ground"} | size | fields


def request(*openings: Mapping[str, Any], **fields: Any) -> Document:
    """A fluid request on plywood for one worker; fields that are given replace the plain ones."""
    plain: Document = {
        "work_date": WORK_DATE,
        "method": "fluid",
        "wall_barrier": "fluid",
        "substrate": "plywood",
        "treated_depth": "6 in",
        "crew": {"members": [{"labour": "worker", "count": 1}]},
    }
    return plain | fields | {"openings": list(openings)}


def sources(*editions: Mapping[str, Any]) -> list[EditionSource]:
    """The editions as the core takes them; the plain one if none is given."""
    return [EditionSource(f"edition-{i}", i, "company", e) for i, e in enumerate(editions or (edition(),), start=1)]


def costed(document: Mapping[str, Any], *editions: Mapping[str, Any]) -> Estimate:
    """The costed estimate of a request document."""
    return cost_request(document, sources(*editions))


def refused(document: Mapping[str, Any], *editions: Mapping[str, Any]) -> tuple[Problem, ...]:
    """Why a request is refused before costing."""
    try:
        read_request(document, sources(*editions))
    except Refused as why:
        return why.problems
    raise AssertionError("the request was taken")


def refusals(document: Mapping[str, Any], *editions: Mapping[str, Any]) -> list[tuple[str, str]]:
    """(pointer, code) of each problem."""
    return [(p.pointer, p.code) for p in refused(document, *editions)]


def work(estimate: Estimate, kind: int = 0, part: int = 0) -> KindWork:
    """A kind as worked, by its order of first appearance."""
    return estimate.parts[part].works[kind]


def worked(crew: CrewCost, standard: Fraction) -> Hours:
    """What follows from so many standard hours of a crew."""
    hours = Hours(crew.conditions, crew, [], [], {}, (), 0, [])
    hours.__dict__["standard"] = standard
    return hours


def bought(estimate: Estimate, code: str, part: int = 0) -> MaterialLine:
    """One material's line."""
    return next(m for m in estimate.parts[part].materials if m.row.code == code)


def packs(line: MaterialLine) -> dict[str, int]:
    """Packs bought, by label."""
    return {pack.label: count for pack, count in line.mix.counts}


def amounts(estimate: Estimate) -> list[tuple[str, int]]:
    """(step, minor units) of each line of the build-up."""
    return [(line.step, line.amount_minor) for line in estimate.up.lines]


def built(estimate: Estimate) -> list[tuple[Any, ...]]:
    """Everything of the build-up: each line with its exact and its rounded amount, and the sums that they pass."""
    up = estimate.up
    lines: list[tuple[Any, ...]] = []
    for x in up.lines:
        row = x.row if isinstance(x, RowLine) else None
        base = x.base if isinstance(x, PercentLine) else None
        lines.append(
            (x.step, x.title, x.basis, x.exact if x.has_exact else None, x.amount, x.cost_code, x.part, row, base)
        )
    return [*lines, (up.direct_minor, up.cost_minor, up.price_minor, up.profit_minor)]


def mark_prices(estimate: Estimate) -> dict[str | None, int]:
    """Minor units by mark."""
    return {m.mark: m.price_minor for m in estimate.allocation.marks}


def feet(nm: Fraction) -> Fraction:
    """A length in feet."""
    return nm / LENGTH_NM["ft"]


def inches(nm: Fraction) -> Fraction:
    """A length in inches."""
    return nm / LENGTH_NM["in"]


def square_inches(nm2: Fraction) -> Fraction:
    """An area in square inches."""
    return nm2 / AREA_NM2["in2"]


def square_feet(nm2: Fraction) -> Fraction:
    """An area in square feet."""
    return nm2 / AREA_NM2["ft2"]


def gallons(nm3: Fraction) -> Fraction:
    """A volume in US gallons."""
    return nm3 / VOLUME_NM3["gal"]


def read_kind(**fields: Any) -> Kind:
    """The kind of one schedule line."""
    faults: Faults = []
    line = {"mark": "A", "quantity": 1} | fields
    schedule = read_schedule([line], "in", only_external=False, pointer="", faults=faults)
    assert schedule is not None, faults
    return schedule.kinds[0]


class Measure:
    """What a shape gives for its treated sides: P, K, corners that take a diagonal, and its stretches."""

    def __init__(self, shape: Shape, sides: frozenset[str]) -> None:
        self.runs: list[tuple[Stretch, Fraction]] = []
        for stretch in shape.stretches(sides):
            self.runs.append((stretch, shape.stretch_nm(stretch.name, stretch.place)))
        self.perimeter_nm = sum((length * stretch.times for stretch, length in self.runs), Fraction(0))
        self.corner_factor, self.corners = shape.corner_factor(sides), shape.corners(sides)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Measure) and vars(self) == vars(other)


def measure(**fields: Any) -> Measure:
    """The measure of one schedule line, its treated sides only."""
    kind = read_kind(**fields)
    return Measure(kind.shape, kind.sides)


def line_faults(**fields: Any) -> list[tuple[str, str]]:
    """(pointer, code) of what is wrong with one schedule line."""
    faults: Faults = []
    read_schedule([{"mark": "A", "quantity": 1} | fields], "in", only_external=False, pointer="", faults=faults)
    return [(f.pointer, f.code) for f in faults]


def treated_area(found: Measure, depth: Fraction | int, lap: Fraction | int) -> float:
    """A in square inches, d and f in inches."""
    depth, lap = depth * LENGTH_NM["in"], lap * LENGTH_NM["in"]
    return float(square_inches(sum_of_products(*area_terms(found.perimeter_nm, depth, lap, found.corner_factor))))
