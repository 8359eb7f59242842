"""What one opening of a kind takes: perimeter, treated area, pieces from the chosen stock, net use of each material.

kind > measure > cuts > strips of the least-cost stock > use of each row
"""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.cuts import Cut, cuts, return_depth_nm, sill_depth_nm
from estimating.core.kinds import Kind
from estimating.core.request import Joints, Seal
from estimating.core.shapes import Measure, treated_area_nm2
from estimating.core.strips import StockChoice, choose
from estimating.core.supplies import Supplies
from rates.core.fraction import Fraction
from rates.core.rows import JointRow, MaterialRow, Production

Use = tuple[tuple[str, Fraction], ...]


@dataclass(frozen=True)
class Takeoff:
    """Quantities of one opening: perimeter nm, area nm², bead nm (0 unsealed), use by material code in base units."""

    measure: Measure
    return_depth_nm: Fraction
    sill_extra_nm2: Fraction
    treated_area_nm2: Fraction
    choice: StockChoice | None
    primer: MaterialRow | None
    bead_nm: Fraction
    use: Use


def bead_nm(kind: Kind, measure: Measure, seal: Seal | None) -> Fraction:
    """Length of bead and rod: the perimeter less the weep gaps, gaps only where a sill is treated; 0 unsealed."""
    if seal is None or kind.sealed is False:
        return Fraction(0)
    has_sill = kind.shape.has_sill and "sill" in kind.sides
    gaps = seal.weep_count * seal.weep_length_nm if has_sill else Fraction(0)
    return max(Fraction(0), measure.perimeter_nm - gaps)


def primer_use(row: MaterialRow, measure: Measure, area_nm2: Fraction) -> Fraction:
    """Primer in nm³: the edge strip or the bonded area over its coverage."""
    primed = measure.perimeter_nm * (row.edge_width_nm or 0) if row.apply == "edge" else area_nm2
    return primed / (row.coverage_per_nm or Fraction(1))


def liquid_use(row: MaterialRow, area_nm2: Fraction) -> Fraction:
    """Liquid in nm³: area × total wet film."""
    return area_nm2 * sum(row.wet_film_nm or (), Fraction(0))


def film_use(
    method: str | None, substrate: str | None, measure: Measure, area_nm2: Fraction, choice: StockChoice, s: Supplies
) -> tuple[list[tuple[str, Fraction]], MaterialRow | None]:
    """(use of stock, liquid and primer; the primer row)."""
    length = sum((p.length_nm * p.pieces for p in choice.pieces), Fraction(0))
    use = [(choice.stock.row.code, length)]
    if method == "fluid" and s.liquid is not None:
        use.append((s.liquid.code, liquid_use(s.liquid, area_nm2)))
    primer = s.primer_for(substrate) if method == "tape" else None
    if primer is not None:
        use.append((primer.code, primer_use(primer, measure, area_nm2)))
    return use, primer


def lap_nm(kind_method: str | None, production: Production) -> Fraction:
    """The lap between strips of this method's stock."""
    g = production.geometry
    return g.tape_lap_nm if kind_method == "tape" else g.mesh_lap_nm


def take_off(
    kind: Kind, production: Production, supplies: Supplies, seal: Seal | None, standard_hour_cost: Fraction
) -> Takeoff | None:
    """The takeoff of one opening of a settled kind, or None where no stock is wide enough to lap."""
    g = production.geometry
    measure = kind.shape.measure(kind.sides)
    depth = return_depth_nm(kind, g)
    has_sill = any(run.name == "sill" for run in measure.runs)
    width = kind.shape.width_nm
    sill_extra = width * (sill_depth_nm(kind, g) - depth) if has_sill else Fraction(0)
    area = treated_area_nm2(measure, depth, g.face_lap_nm) + sill_extra
    stocks = supplies.tapes if kind.method == "tape" else supplies.meshes
    strip_cost = production.extra_strip_minutes / 60 * standard_hour_cost
    choice = choose(cuts(kind, measure, g), stocks, lap_nm(kind.method, production), strip_cost)
    if choice is None:
        return None
    use, primer = film_use(kind.method, kind.substrate, measure, area, choice, supplies)
    bead = bead_nm(kind, measure, seal)
    if bead and seal is not None and supplies.sealant is not None and supplies.rod is not None:
        use += [(supplies.sealant.code, bead * seal.width_nm * seal.depth_nm), (supplies.rod.code, bead)]
    use += [(row.code, Fraction(1)) for row in supplies.consumables if row.per == "opening"]
    return Takeoff(measure, depth, sill_extra, area, choice, primer, bead, tuple(use))


@dataclass(frozen=True)
class JointTakeoff:
    """Sheathing joints: length nm, treated area nm², use by material code in base units."""

    length_nm: Fraction
    treated_area_nm2: Fraction
    method: str
    choice: StockChoice
    primer: MaterialRow | None
    use: Use


def ceil_div(a: Fraction, b: Fraction) -> int:
    """a / b rounded up."""
    return -(-a // b)


def joint_length_nm(joints: Joints) -> Fraction:
    """(ceil(H/b) − 1) L + (ceil(L/a) − 1) H for each wall L × H of sheets a × b, plus the lengths given."""
    length = joints.corners_nm + joints.terminations_nm + joints.deflection_nm
    for wall in joints.walls:
        rows = ceil_div(wall.height_nm, wall.sheet_high_nm)
        columns = ceil_div(wall.length_nm, wall.sheet_long_nm)
        length += (rows - 1) * wall.length_nm + (columns - 1) * wall.height_nm
    return length


def take_off_joints(
    joints: Joints,
    method: str,
    substrate: str | None,
    row: JointRow,
    production: Production,
    supplies: Supplies,
    standard_hour_cost: Fraction,
) -> JointTakeoff | None:
    """The takeoff of the sheathing joints: a strip of mesh or tape over each joint, liquid on its treated width."""
    length = joint_length_nm(joints)
    stocks = supplies.tapes if method == "tape" else supplies.meshes
    strip_cost = production.extra_strip_minutes / 60 * standard_hour_cost
    choice = choose((Cut("joint", length, row.width_nm, 1),), stocks, lap_nm(method, production), strip_cost)
    if choice is None:
        return None
    area = length * row.width_nm
    measure = Measure(length, Fraction(0), 0, ())
    use, primer = film_use(method, substrate, measure, area, choice, supplies)
    return JointTakeoff(length, area, method, choice, primer, tuple(use))
