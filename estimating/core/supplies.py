"""The material rows that the work uses: one liquid and sealant, primers by substrate, mesh, tape, rod at least cost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from estimating.core.conditions import Conditions
from estimating.core.material_prices import MaterialPrice
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Problem
from rates.core.rows import MaterialRow

GYPSUM = "gypsum_sheathing"
ROD_OVER_JOINT = Fraction(5, 4)


@dataclass(frozen=True)
class Supplies:
    """The rows by role; None or empty where nothing needs the role."""

    liquid: MaterialPrice | None
    meshes: tuple[MaterialPrice, ...]
    tapes: tuple[MaterialPrice, ...]
    primers: tuple[MaterialPrice, ...]
    sealant: MaterialPrice | None
    rod: MaterialPrice | None
    consumables: tuple[MaterialPrice, ...]

    def primer_for(self, substrate: str | None) -> MaterialPrice | None:
        """The primer row for tape on this substrate; unknown counts as gypsum sheathing."""
        at = substrate or GYPSUM
        return next((p for p in self.primers if p.row.substrates is None or at in p.row.substrates), None)

    @property
    def codes(self) -> set[str]:
        """The codes of the meshes and tapes that may be chosen."""
        return {price.row.code for price in (*self.meshes, *self.tapes)}


@dataclass(frozen=True)
class Need:
    """What the priced work asks for."""

    fluid: bool
    tape: bool
    tape_substrates: tuple[str, ...]
    seal: bool


def rows_of(of: Conditions, role: str, faults: Faults) -> tuple[MaterialRow, ...]:
    """The card's rows of a role, or the one that the request names."""
    rows = tuple(row for row in of.card.materials if row.role == role)
    code = dict(of.request.materials).get(role)
    if code is None:
        return rows
    chosen = tuple(row for row in rows if row.code == code)
    if not chosen:
        faults.append(Problem(f"/materials/{role}", "unknown_row", f'the edition has no {role} row "{code}"'))
    return chosen


def missing(role: str, faults: Faults) -> None:
    """Note that the edition lacks a role that the work needs."""
    detail = f"the work needs a {role} row, and the edition has none"
    faults.append(Problem("/tables/materials", "missing_role", detail, "edition"))


def only_row(of: Conditions, role: str, faults: Faults) -> MaterialRow | None:
    """The one row of a role; with several the request says which."""
    before = len(faults)
    rows = rows_of(of, role, faults)
    if not rows and len(faults) == before:
        missing(role, faults)
    if len(rows) > 1:
        codes = ", ".join(row.code for row in rows)
        faults.append(Problem(f"/materials/{role}", "choose_row", f"the edition has several {role} rows: {codes}"))
    return rows[0] if len(rows) == 1 else None


def stocks(of: Conditions, role: str, faults: Faults) -> tuple[MaterialRow, ...]:
    """The mesh or tape rows."""
    rows = rows_of(of, role, faults)
    if not rows:
        missing(role, faults)
    return rows


def rod_for(of: Conditions, width_nm: Fraction, faults: Faults) -> MaterialRow | None:
    """The next rod size at or above 1.25 × the joint (common practice, no source), ties to the cheaper."""
    rows = rows_of(of, "backer_rod", faults)
    if not rows:
        missing("backer_rod", faults)
        return None
    fitting = [row for row in rows if (row.diameter_nm or 0) >= width_nm * ROD_OVER_JOINT]
    if not fitting:
        detail = "no backer rod of the edition is 1.25 times as wide as the joint"
        faults.append(Problem("/perimeter_seal/width", "no_rod_fits", detail))
        return None
    return min(fitting, key=lambda row: (row.diameter_nm or 0, MaterialPrice(of, row).unit_price))


def primers(of: Conditions, need: Need, faults: Faults) -> tuple[MaterialRow, ...]:
    """The primer rows for the substrates under tape; gypsum without primer needs a named reason."""
    rows = rows_of(of, "primer", faults)
    for substrate in need.tape_substrates:
        applying = [row for row in rows if row.substrates is None or substrate in row.substrates]
        if len(applying) > 1:
            codes = ", ".join(row.code for row in applying)
            detail = f"several primer rows are for {substrate}: {codes}"
            faults.append(Problem("/materials/primer", "choose_row", detail))
        if not applying and substrate == GYPSUM and of.request.no_primer_reason is None:
            detail = "tape does not hold on cut gypsum: a primer row is needed, or no_primer_reason in the request"
            faults.append(Problem("/tables/materials", "missing_role", detail, "edition"))
    if of.request.no_primer_reason is not None:
        return tuple(row for row in rows if row.substrates is not None and GYPSUM not in row.substrates)
    return rows


def supplies(of: Conditions, need: Need, faults: Faults) -> Supplies:
    """The rows that the work needs, faults noted for those that are not there."""
    seal = of.request.seal if need.seal else None

    def one(row: MaterialRow | None) -> MaterialPrice | None:
        return None if row is None else MaterialPrice(of, row)

    def each(rows: Iterable[MaterialRow]) -> tuple[MaterialPrice, ...]:
        return tuple(MaterialPrice(of, row) for row in rows)

    return Supplies(
        liquid=one(only_row(of, "liquid", faults)) if need.fluid else None,
        meshes=each(stocks(of, "mesh", faults)) if need.fluid else (),
        tapes=each(stocks(of, "tape", faults)) if need.tape else (),
        primers=each(primers(of, need, faults)) if need.tape else (),
        sealant=one(only_row(of, "sealant", faults)) if seal else None,
        rod=one(rod_for(of, seal.width_nm, faults)) if seal else None,
        consumables=each(row for row in of.card.materials if row.role == "consumable"),
    )
