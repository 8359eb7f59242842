"""The price over the marks as a sheet: each mark's share floored, then a cent more for the largest remainders."""

from __future__ import annotations

from functools import cached_property

from estimating.core.allocation import JOINTS
from estimating.outputs.workbook import rounding
from estimating.outputs.workbook.kinds_sheet import KindsSheet
from estimating.outputs.workbook.numbers import number
from estimating.outputs.workbook.placing import Figures, whole
from estimating.outputs.workbook.references import cell, stretch, sum_of
from estimating.outputs.workbook.shares import SHARE_HEADS, Sharing, certain_shares
from rates.core.fraction import Fraction
from rates.core.grid import Cell, Cells, NumberText

MARKS = "Marks"
MOST = 2_000  # marks or lines whose ranks are formulas: each looks at all
NUMBER, MARK, QUANTITY, TOUCH, HOURS, WEIGHT, _, FLOORED, REMAINDER, _, PRICE, UNIT_PRICE, RESIDUAL = range(13)
HEAD: Cells = [
    "Number", "Mark", "Quantity", "Touch minutes", "Hours", *SHARE_HEADS, "Price", "Unit price", "Left over",
]  # fmt: skip


class MarksSheet:
    """Where marks stand."""

    def __init__(self, figures: Figures, kinds: KindsSheet) -> None:
        self.figures, self.kinds, self.estimate = figures, kinds, figures.estimate
        self.split = kinds.split
        self.marks = self.estimate.allocation.marks

    def column(self, column: int) -> str:
        """A column's cells."""
        return stretch(MARKS, column, 2, max(2, len(self.marks) + 1))

    @cached_property
    def shares(self) -> list[Fraction] | None:
        """Each mark's share of the price, where a spreadsheet comes to the same."""
        within = self.split.on_marks and len(self.marks) <= MOST
        return certain_shares(self.split.prices) if within else None

    @cached_property
    def sharing(self) -> Sharing:
        """How the price is shared."""
        weights, floors = (f"SUM({self.column(of)})" for of in (WEIGHT, FLOORED))
        return Sharing(self.split.prices, self.figures.reference("price"), weights, floors, self.estimate.till.units)

    def sheet(self) -> list[Cells]:
        """The rows under their heading."""
        return [HEAD, *(self.row(m) for m in range(len(self.marks)))]

    def row(self, m: int) -> Cells:
        """One mark."""
        mark, row = self.marks[m], m + 2
        at = [cell(MARKS, column, row) for column in range(len(HEAD))]
        price = self.estimate.till.major(mark.price_minor)
        named: Cells = [whole(m + 1), mark.mark or "on no mark"]
        if mark.mark is None:
            return [*named, *[None] * 8, self.figures.money(price, self.figures.reference("price"))]
        touch = number(mark.touch_minutes, None, self.touched(m, at[NUMBER]))
        hours = number(mark.touch_minutes / 60, None, f"{at[TOUCH]}/60")
        formula = self.sharing.price(at[WEIGHT:]) if self.shares else ""
        shared, of_one = self.shared(m, at), self.of_one(m, at) if mark.quantity else []
        return [
            *named,
            self.quantity(m, at[NUMBER]),
            touch,
            hours,
            *shared,
            self.figures.money(price, formula),
            *of_one,
        ]

    def of_one(self, m: int, at: list[str]) -> Cells:
        """The price of one, rounded half up, and what that leaves of the mark's."""
        mark, places = self.marks[m], self.figures.money_places
        price = self.estimate.till.major(mark.price_minor)
        each = price / mark.quantity
        unit = rounding.guarded(each, places)
        half = rounding.rounded(f"{at[PRICE]}/{at[QUANTITY]}", each, places, "half_up")
        left = f"ROUND({at[PRICE]}-{at[UNIT_PRICE]}*{at[QUANTITY]},{places})"
        return [self.figures.money(unit, half), self.figures.money(price - unit * mark.quantity, left)]

    def is_joints(self, m: int) -> bool:
        """Whether it is the sheathing joints."""
        return self.marks[m].mark == JOINTS and not self.marks[m].lines

    def of_lines(self, number: str, column: int) -> str:
        """Σ of a column of the mark's lines."""
        return f"SUMIF({self.kinds.line_cells(6)},{number},{self.kinds.line_cells(column)})"

    def quantity(self, m: int, number_cell: str) -> Cell:
        """How many openings."""
        if self.is_joints(m):
            return NumberText(self.marks[m].quantity)
        return number(Fraction(self.marks[m].quantity), 0, self.of_lines(number_cell, 2))

    def touched(self, m: int, number_cell: str) -> str:
        """Its touch minutes."""
        if not self.is_joints(m):
            return self.of_lines(number_cell, 8)
        parts = [part.joints for part in self.estimate.parts if part.joints is not None]
        return sum_of([self.figures.reference(f"{joints.path}.touch_minutes") for joints in parts])

    def shared(self, m: int, at: list[str]) -> list[Cell]:
        """Weight, share, floored, remainder, how many come before."""
        if not self.split.on_marks:
            return [None] * 5
        prices, by_minutes = self.split.prices, self.estimate.request.allocate_by == "touch_minutes"
        weight = Fraction(prices.units[m]) if prices.equal else self.split.weight(self.marks[m])
        weighed = number(weight, None, at[TOUCH] if by_minutes and not prices.equal else "")
        if self.shares is None:
            return [weighed, None, None, None, None]
        earlier = f"+COUNTIF({stretch(MARKS, REMAINDER, 2, m + 1)},REMAINDER)" if m else ""
        before = f'COUNTIF({self.column(REMAINDER)},">"&REMAINDER){earlier}'
        return self.sharing.cells(m, weighed, at[WEIGHT:], before, self.shares)
