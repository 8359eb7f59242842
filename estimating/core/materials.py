"""From net quantities to packs and money: net -> waste once -> less stock on hand -> whole packs of the project total.

Base units: nm of length, nm³ of volume, pieces. Rounding: each row's amount once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from estimating.core.figures.figure import Input, Step, called, figure, figures, known, parameter
from estimating.core.figures.printing import EXACT_MONEY, MONEY, NUMBER, OF_DIMENSION
from estimating.core.figures.rules import difference, given, product, rounded, shortfall, sum_of_products, total
from estimating.core.hours import Hours
from estimating.core.material_prices import MaterialPrice, own_unit
from estimating.core.packs import Mix, least_cost_count, least_cost_packs, left_over
from estimating.core.request import Request
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
        return least_cost_count, LEAST, self.needed, parameter("place", place), *self.offers

    @figure("Left over of {s.row.title}", own_unit)
    def left_over(self) -> Step:
        return left_over, "what the packs hold − what is needed", self.needed, *self.offers

    @figure("{s.row.title} before rounding", EXACT_MONEY, label="exact")
    def cost(self) -> Step:
        if self.as_used:
            return product, "needed × lowest price: the share used", self.needed, self.unit_price
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
