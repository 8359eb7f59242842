"""The build-up as a sheet: what each line stands on, its amount before and after rounding; the sums."""

from __future__ import annotations

from estimating.core.direct import LabourLine
from estimating.outputs.workbook.placing import Figures, whole
from estimating.outputs.workbook.references import sum_of
from rates.core.grid import Cell, Cells
from rates.core.steps import STEP

BUILD_UP, CODES = "Build-up", "Cost codes"
BASE, EXACT, AMOUNT = 6, 7, 8
SUMS = ("direct_cost", "cost", "price")


class BuildUpSheet:
    """Where the lines of the build-up stand."""

    def __init__(self, figures: Figures) -> None:
        self.figures, self.lines = figures, figures.estimate.up.lines
        job = figures.register.book((None, "", ""))
        self.codes = list(dict.fromkeys(line.cost_code for line in self.lines))
        for row, line in enumerate(self.lines, 2):
            if isinstance(line, LabourLine) and line.shares is not None and len(line.shares.weights) == 1:
                figures.own[line.path] = figures.reference(line.shares.total_of[1])
            figures.stands(line.path, BUILD_UP, AMOUNT, row)
            for step, column in (("base", BASE), ("exact", EXACT)):
                if f"{line.path}.{step}" in job:
                    figures.stands(f"{line.path}.{step}", BUILD_UP, column, row)
        for row, name in enumerate(SUMS, len(self.lines) + 3):
            figures.stands(name, BUILD_UP, AMOUNT, row)

    def sheet(self) -> list[Cells]:
        """The lines, and below them the sums."""
        head: Cells = ["Line", "Step", "Title", "Part", "Cost code", "How", "Base", "Before rounding", "Amount"]
        content, node = self.figures.content, self.figures.register.node
        sums: list[Cells] = [[None, None, str(node(x).title), *[None] * 5, content(x)] for x in SUMS]
        return [head, *(self.row(i) for i in range(len(self.lines))), [], *sums]

    def row(self, place: int) -> Cells:
        """One line."""
        line, figures = self.lines[place], self.figures
        names = (f"{line.path}.base", f"{line.path}.exact")
        own: list[Cell] = [figures.content(name) if name in figures.at else None for name in names]
        step = STEP[line.step].words
        named: Cells = [whole(place + 1), step, line.title, line.part_title, line.cost_code, line.basis]
        return [*named, *own, figures.content(line.path)]

    def codes_sheet(self) -> list[Cells]:
        """The price by cost code, and its sum."""
        till = self.figures.estimate.till
        rows: list[Cells] = [["Cost code", "Title", "Amount"]]
        titles: dict[str | None, str] = dict(self.figures.estimate.card.cost_codes)
        for code in self.codes:
            lines = [line for line in self.lines if line.cost_code == code]
            amount = till.major(sum(line.amount_minor for line in lines))
            formula = sum_of([self.figures.at[line.path] for line in lines])
            rows.append([code or "no code", titles.get(code), self.figures.money(amount, formula)])
        return rows
