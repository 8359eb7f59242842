"""From net quantities to packs and money: net -> waste once -> less stock on hand -> whole packs of the project total.

Base units: nm of length, nm³ of volume, pieces. Rounding: each row's amount once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.figures.figure import Input, Step, called, figure, figures, known, parameter, told
from estimating.core.figures.printing import EXACT_MONEY, MONEY, NUMBER, OF_DIMENSION
from estimating.core.figures.rules import difference, given, product, rounded, shortfall, sum_of_products, total
from estimating.core.hours import Hours
from estimating.core.material_prices import MaterialPrice, own_unit
from estimating.core.packs import Mix, least_cost_count, least_cost_packs, left_over
from estimating.core.request import Request
from estimating.core.roll_needs import CUT_PLAN, CUT_TO, ROLES, left_of_rolls, rolls_taken, rolls_to_buy
from estimating.core.worked import Worked
from rates.core.fraction import Fraction
from rates.core.problems import escape
from rates.core.rows import MaterialRow

LEAST = "whole packs of the least cost; ties: least left over, then fewest packs, then the earlier pack"


@dataclass(eq=False, repr=False)
class MaterialLine(MaterialPrice):
    """One material's quantities and money in a part.

    works: what may use it; earlier: the lines of the parts before that took of the same stock; smooth: the share used
    is priced, whatever the row says.
    """

    works: Sequence[Worked]
    hours: Hours
    stated_stock: Fraction
    earlier: Sequence[MaterialLine]
    smooth: bool

    @property
    def as_used(self) -> bool:
        """Whether the share used is priced, not whole packs."""
        return self.smooth or self.row.price_as == "used"

    @property
    def is_cut(self) -> bool:
        """Whether a cut plan stands in place of its waste."""
        return self.request.quantities_from == CUT_PLAN and self.row.role in ROLES

    @property
    def planned(self) -> bool:
        """Whether whole rolls of a cut plan are needed of it."""
        return self.is_cut and not self.smooth

    @property
    def cut_to(self) -> Any:
        """What lengths are rounded up to for cutting."""
        return CUT_TO[self.request.units]

    @told
    def of_rolls(self) -> list[Any]:
        """What a rule of the cut plan takes."""
        geometry = self.production.geometry
        lap = geometry.tape_lap_nm if self.row.role == "tape" else geometry.mesh_lap_nm
        cuts = []
        for work in self.works:
            if self.row.code in work.use:
                keys = [(work.chosen, j) for j in range(len(work.cuts))]
                cuts += [(*work.times(work.count[k]), work.length[k], work.width_of_strip[k]) for k in keys]
        return [self.cut_to, lap, self.row.width_nm, self.stock, *self.offers, *cuts]

    @property
    def by_crew_day(self) -> bool:
        """Whether it is used by the day, not by the opening."""
        return self.row.role == "consumable" and self.row.per == "crew_day"

    @figure("Net quantity of {s.row.title}", own_unit)
    def net(self) -> Step:
        if self.by_crew_day:
            days = self.hours.exact_days if self.smooth else self.hours.crew_days
            return total, "one for each crew-day", days
        code = str(self.row.code)
        terms = [work.times(work.use[code]) for work in self.works if code in work.use]
        return sum_of_products, "Σ quantity × net use of one, over kinds and joints", *terms

    @figure("Gross quantity of {s.row.title}", own_unit)
    def gross(self) -> Step:
        if self.planned:
            return rolls_taken, "rolls of the cut plan less the longest rest, in place of waste", *self.of_rolls
        if self.is_cut:
            return given, "net: the offcuts of whole rolls are no part of a smooth price", self.net
        return product, "net × gross for net: waste once, before stock", self.net, self.gross_factor

    @figure("Stock on hand of {s.row.title}", own_unit, label="stock on hand")
    def stock(self) -> Step:
        if not self.earlier:
            return given, "as the request says", self.stated_stock
        taken = [called(f"taken by {line.prefix}", line.taken) for line in self.earlier]
        return difference, "stock of the request − what earlier parts took of it", self.stated_stock, *taken

    @figure("Stock taken of {s.row.title}", own_unit, when=lambda s: s.conditions.several)
    def taken(self) -> Step:
        return difference, "gross − needed", self.gross, self.needed

    @figure("Needed of {s.row.title}", own_unit)
    def needed(self) -> Step:
        return shortfall, "gross − stock on hand, at least 0", self.gross, self.stock

    @figures(lambda s, k: f"Packs of {s.packs[k].label}", NUMBER, lambda s: range(len(s.row.packs)), "pack.{}")
    def pack_counts(self, place: int) -> Step:
        if self.planned:
            return rolls_to_buy, "new rolls of this size in the cut plan", parameter("place", place), *self.of_rolls
        return least_cost_count, LEAST, self.needed, parameter("place", place), *self.offers

    @figure("Left over of {s.row.title}", own_unit)
    def left_over(self) -> Step:
        if self.planned:
            words = "what the rolls hold − what is needed"
            sizes = [size for size, _ in self.offers]
            return left_of_rolls, words, self.needed, *zip(self.pack_counts.values(), sizes, strict=True)
        return left_over, "what the packs hold − what is needed", self.needed, *self.offers

    @figure("{s.row.title} before rounding", EXACT_MONEY, label="exact")
    def cost(self) -> Step:
        if self.as_used:
            return product, "needed × lowest price: the share used", self.needed, self.unit_price
        if self.planned:
            prices = [price for _, price in self.offers]
            return sum_of_products, "Σ rolls × price", *zip(self.pack_counts.values(), prices, strict=True)
        words = "whole packs of the least cost that cover what is needed"
        return least_cost_packs, words, self.needed, *self.offers

    @figure("{s.row.title}", MONEY, label=lambda line: line.row.title)
    def amount(self) -> Step:
        return rounded, "rounded once", self.cost, *self.till.places_and_way

    @property
    def title(self) -> str:
        """The row's title."""
        return self.row.title

    @property
    def amount_minor(self) -> int:
        """The amount in minor units."""
        return self.till.whole(self.amount)

    @property
    def mix(self) -> Mix:
        """The packs to buy."""
        counts = [(pack, int(n)) for pack, n in zip(self.packs, self.pack_counts.values(), strict=True) if n]
        return Mix(tuple(counts), sum((p.price * n for p, n in counts), Fraction(0)), self.left_over)


def stated_stock(row: MaterialRow, request: Request) -> Any:
    """Stock of a row as the request states it, before any part takes of it; base units."""
    found = dict(request.stock).get(row.code)
    stated = found[1] if found is not None else Fraction(0)
    pointer = "/stock" + escape(row.code)
    unit = OF_DIMENSION[row.packs[0].dimension]
    return known(Input("stock of the request", stated, unit, source={"pointer": pointer}))
