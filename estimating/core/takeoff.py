"""What one opening, or the joints, takes: pieces from the chosen stock, net use of each material.

outline > cuts > strips of the least-cost stock > use of each row
"""

from __future__ import annotations

from typing import Any

from estimating.core.figures.figure import Step, figures, once, parameter
from estimating.core.figures.rules import chosen, given, product, proportion, quotient, total
from estimating.core.material_prices import MaterialPrice, own_unit
from estimating.core.strips import Pieces
from estimating.core.supplies import Supplies

EACH_OPENING = parameter("each opening", 1)
BY_COVERAGE = {"edge": "perimeter × edge width ÷ coverage", "bonded_area": "treated area ÷ coverage"}


class Taken(Pieces):
    """Net use of each material. perimeter, treated_area: of the opening, or length and area of the joints."""

    substrate: str | None
    supplies: Supplies
    perimeter: Any
    treated_area: Any
    bead: Any

    @property
    def sealed(self) -> bool:
        """Whether the perimeter seal is done."""
        return False

    @property
    def primer(self) -> MaterialPrice | None:
        """The primer under tape, if there is one."""
        return self.supplies.primer_for(self.substrate) if self.method == "tape" else None

    @once
    def used(self) -> dict[str, MaterialPrice]:
        """The rows that it uses by their codes."""
        supplies = self.supplies
        found: list[MaterialPrice | None] = [self.stocks[self.chosen]]
        found.append(supplies.liquid if self.method == "fluid" else self.primer)
        if self.sealed and supplies.sealant is not None and supplies.rod is not None:
            found += [supplies.sealant, supplies.rod]
        if self.index is not None:
            found += [c for c in supplies.consumables if c.row.per == "opening"]
        return {price.row.code: price for price in found if price is not None}

    @property
    def stock_code(self) -> str:
        """The code of the stock that is chosen."""
        return self.stocks[self.chosen].row.code

    def told_stock_code(view: Any) -> Any:
        """By what it is chosen."""
        return view.stock

    @figures(
        lambda s, k: f"Net use of {s.used[k].row.title}",
        lambda s, k: own_unit(s.used[k]),
        lambda s: s.used,
        "use.{}",
        label="each",
    )
    def use(self, code: str) -> Step:
        price = self.used[code]
        role, row = price.row.role, price.row
        if role == "liquid":
            return product, "treated area × total wet film", self.treated_area, price.film
        if role == "primer":
            words = BY_COVERAGE[row.apply or "edge"]
            if row.apply == "edge":
                return proportion, words, self.perimeter, row.edge_width_nm, row.coverage_per_nm
            return quotient, words, self.treated_area, row.coverage_per_nm
        if role == "sealant":
            seal = self.request.seal
            words = "length of the bead × joint width × joint depth"
            return product, words, self.bead, seal.width_nm, seal.depth_nm  # type: ignore[union-attr]
        if role == "backer_rod":
            return total, "the length of the bead", self.bead
        if role == "consumable":
            return given, "one for each opening", EACH_OPENING
        words = "the length of the stock that is chosen"
        return chosen, words, self.stock_code, row.code, self.stock_length[self.chosen]
