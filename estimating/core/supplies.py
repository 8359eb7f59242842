"""The material rows that the work uses: one liquid and sealant, primers by substrate, mesh, tape, rod at least cost."""

from __future__ import annotations

from dataclasses import dataclass

from estimating.core.packs import lowest_unit_price
from estimating.core.request import Request
from estimating.core.strips import Stock, packs_of
from rates.core.card import Card
from rates.core.fields import Faults
from rates.core.fraction import Fraction
from rates.core.problems import Problem
from rates.core.rows import MaterialRow

GYPSUM = "gypsum_sheathing"
ROD_OVER_JOINT = Fraction(5, 4)


@dataclass(frozen=True)
class Supplies:
    """The rows by role; None or empty where nothing needs the role."""

    liquid: MaterialRow | None
    meshes: tuple[Stock, ...]
    tapes: tuple[Stock, ...]
    primers: tuple[MaterialRow, ...]
    sealant: MaterialRow | None
    rod: MaterialRow | None
    consumables: tuple[MaterialRow, ...]

    def primer_for(self, substrate: str | None) -> MaterialRow | None:
        """The primer row for tape on this substrate; unknown counts as gypsum sheathing."""
        at = substrate or GYPSUM
        return next((p for p in self.primers if p.substrates is None or at in p.substrates), None)


@dataclass(frozen=True)
class Need:
    """What the priced work asks for."""

    fluid: bool
    tape: bool
    tape_substrates: tuple[str, ...]
    seal: bool


def rows_of(card: Card, request: Request, role: str, faults: Faults) -> tuple[MaterialRow, ...]:
    """The card's rows of a role, or the one that the request names."""
    rows = tuple(row for row in card.materials if row.role == role)
    code = dict(request.materials).get(role)
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


def only_row(card: Card, request: Request, role: str, faults: Faults) -> MaterialRow | None:
    """The one row of a role; with several the request says which."""
    before = len(faults)
    rows = rows_of(card, request, role, faults)
    if not rows and len(faults) == before:
        missing(role, faults)
    if len(rows) > 1:
        codes = ", ".join(row.code for row in rows)
        faults.append(Problem(f"/materials/{role}", "choose_row", f"the edition has several {role} rows: {codes}"))
    return rows[0] if len(rows) == 1 else None


def stocks(card: Card, request: Request, role: str, faults: Faults) -> tuple[Stock, ...]:
    """The mesh or tape rows, priced after waste."""
    rows = rows_of(card, request, role, faults)
    if not rows:
        missing(role, faults)
    return tuple(Stock.of(row, request.temperature) for row in rows)


def rod_for(card: Card, request: Request, width_nm: Fraction, faults: Faults) -> MaterialRow | None:
    """The next rod size at or above 1.25 × the joint (common practice, no source), ties to the cheaper."""
    rows = rows_of(card, request, "backer_rod", faults)
    if not rows:
        missing("backer_rod", faults)
        return None
    fitting = [row for row in rows if (row.diameter_nm or 0) >= width_nm * ROD_OVER_JOINT]
    if not fitting:
        detail = "no backer rod of the edition is 1.25 times as wide as the joint"
        faults.append(Problem("/perimeter_seal/width", "no_rod_fits", detail))
        return None
    return min(fitting, key=lambda row: (row.diameter_nm or 0, lowest_unit_price(packs_of(row))))


def primers(card: Card, request: Request, need: Need, faults: Faults) -> tuple[MaterialRow, ...]:
    """The primer rows for the substrates under tape; gypsum without primer needs a named reason."""
    rows = rows_of(card, request, "primer", faults)
    for substrate in need.tape_substrates:
        applying = [row for row in rows if row.substrates is None or substrate in row.substrates]
        if len(applying) > 1:
            codes = ", ".join(row.code for row in applying)
            detail = f"several primer rows are for {substrate}: {codes}"
            faults.append(Problem("/materials/primer", "choose_row", detail))
        if not applying and substrate == GYPSUM and request.no_primer_reason is None:
            detail = "tape does not hold on cut gypsum: a primer row is needed, or no_primer_reason in the request"
            faults.append(Problem("/tables/materials", "missing_role", detail, "edition"))
    if request.no_primer_reason is not None:
        return tuple(row for row in rows if row.substrates is not None and GYPSUM not in row.substrates)
    return rows


def supplies(card: Card, request: Request, need: Need, faults: Faults) -> Supplies:
    """The rows that the work needs, faults noted for those that are not there."""
    seal = request.seal if need.seal else None
    return Supplies(
        liquid=only_row(card, request, "liquid", faults) if need.fluid else None,
        meshes=stocks(card, request, "mesh", faults) if need.fluid else (),
        tapes=stocks(card, request, "tape", faults) if need.tape else (),
        primers=primers(card, request, need, faults) if need.tape else (),
        sealant=only_row(card, request, "sealant", faults) if seal else None,
        rod=rod_for(card, request, seal.width_nm, faults) if seal else None,
        consumables=tuple(row for row in card.materials if row.role == "consumable"),
    )
