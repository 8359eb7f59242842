"""The schedule lines as a sheet: minutes by their kind, and each mark's price over its lines."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from estimating.core.schedule_lines import Line
from estimating.outputs.workbook.kinds_sheet import LINES, KindsSheet
from estimating.outputs.workbook.marks_sheet import MARKS, MOST, PRICE, MarksSheet
from estimating.outputs.workbook.numbers import number
from estimating.outputs.workbook.placing import whole
from estimating.outputs.workbook.references import cell, stretch
from estimating.outputs.workbook.shares import SHARE_HEADS, Sharing, certain_shares
from rates.core.fraction import Fraction
from rates.core.grid import Cell, Cells, NumberText

QUANTITY, MARK_NUMBER, TOUCH, LINE_PRICE, WEIGHT, FLOORED, REMAINDER = 2, 6, 8, 9, 11, 13, 14
HEAD: Cells = [
    "Line", "Mark", "Quantity", "Elevation", "Storey", "Kind", "Mark number", "Touch minutes of one", "Touch minutes",
    "Price", "Not priced", *SHARE_HEADS,
]  # fmt: skip


class LinesSheet:
    """Where lines stand."""

    def __init__(self, kinds: KindsSheet, marks: MarksSheet) -> None:
        self.kinds, self.marks, self.figures = kinds, marks, kinds.figures
        self.split, self.lines = kinds.split, kinds.estimate.request.schedule.lines
        self.of_marks: dict[int, tuple[Sharing, list[Fraction] | None]] = {}

    @cached_property
    def shared_lines(self) -> int:
        """How many lines share the price of their mark with others."""
        return sum(len(mark.lines) for mark in self.marks.marks if len(mark.lines) > 1)

    def sheet(self) -> list[Cells]:
        """The rows under their heading."""
        return [HEAD, *self.rows()]

    def rows(self) -> Iterator[Cells]:
        """A row for each line; those that are not priced have no minutes, and say why."""
        for i, line in enumerate(self.lines):
            named: Cells = [whole(i + 1), line.mark, NumberText(line.quantity), line.elevation, line.storey]
            mark = self.split.mark_of.get(i)
            price, shared = self.price(i, mark)
            numbered = None if mark is None else whole(mark + 1)
            found = self.split.work_of(i)
            if found is None:
                yield [*named, None, numbered, None, None, price, why_not(line), *shared]
                continue
            pools, work = found
            kind = self.kinds.number_of[pools.part.conditions.place, work.index]
            one = number(work.touch_minutes, None, cell("Kinds", self.kinds.touch, kind + 1))
            product = f"{cell(LINES, QUANTITY, i + 2)}*{cell(LINES, TOUCH - 1, i + 2)}"
            touched = number(work.touch_minutes * line.quantity, None, product)
            yield [*named, whole(kind), numbered, one, touched, price, None, *shared]

    def price(self, i: int, mark: int | None) -> tuple[Cell, list[Cell]]:
        """(its price; weight, share, floored, remainder and rank of a line that shares its mark's price)."""
        estimate = self.kinds.estimate
        amount = estimate.till.major(estimate.allocation.line_prices[i])
        if mark is None or not self.marks.marks[mark].price_minor:
            return self.figures.money(amount, ""), []
        if len(self.marks.marks[mark].lines) == 1:
            return self.figures.money(amount, cell(MARKS, PRICE, mark + 2)), []
        sharing, shares = self.sharing(mark)
        if shares is None:
            return self.figures.money(amount, ""), []
        place, at = self.split.place_of[i], [cell(LINES, WEIGHT + n, i + 2) for n in range(5)]
        own, column = cell(LINES, MARK_NUMBER, i + 2), self.kinds.line_cells
        before = f'COUNTIFS({column(MARK_NUMBER)},{own},{column(REMAINDER)},">"&REMAINDER)'
        if i:
            above = [stretch(LINES, of, 2, i + 1) for of in (MARK_NUMBER, REMAINDER)]
            before += f"+COUNTIFS({above[0]},{own},{above[1]},REMAINDER)"
        cells = sharing.cells(place, self.weight(i, sharing), at, before, shares)
        return self.figures.money(amount, sharing.price(at)), cells

    def sharing(self, mark: int) -> tuple[Sharing, list[Fraction] | None]:
        """How a mark's price is shared over its lines, and the shares where a spreadsheet comes to the same."""
        if mark not in self.of_marks:
            prices, at = self.split.shares_in(mark), cell(MARKS, 0, mark + 2)
            weights, floors = (self.marks.of_lines(at, of) for of in (WEIGHT, FLOORED))
            total, scale = cell(MARKS, PRICE, mark + 2), self.kinds.estimate.till.units
            shares = certain_shares(prices) if self.shared_lines <= MOST else None
            self.of_marks[mark] = Sharing(prices, total, weights, floors, scale), shares
        return self.of_marks[mark]

    def weight(self, i: int, sharing: Sharing) -> Cell:
        """What a line weighs in its mark."""
        if sharing.prices.equal:
            return number(Fraction(sharing.prices.units[self.split.place_of[i]]))
        by_minutes = self.kinds.estimate.request.allocate_by == "touch_minutes" and self.lines[i].quantity
        return number(self.split.weight_of(i), None, cell(LINES, TOUCH, i + 2) if by_minutes else "")


def why_not(line: Line) -> str:
    """Why a line is not worked."""
    return line.reason or (f"alternate {line.alternate}" if line.alternate else "quantity 0")
