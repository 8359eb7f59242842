"""Materials and equipment as sheets: a row for each, from what is used to what it costs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from estimating.core.equipment import EquipmentLine
from estimating.core.materials import MaterialLine
from estimating.outputs.workbook.formulas import terms
from estimating.outputs.workbook.placing import Figures
from rates.core.grid import Cell, Cells

MATERIALS, EQUIPMENT = "Materials", "Equipment"
OFFERED = {MATERIALS: "Packs", EQUIPMENT: "Periods"}
FIRST = 6  # column of figures
OF_MATERIAL = {
    "net": "Net", "gross_factor": "Gross for net", "gross": "Gross", "stock": "On hand", "needed": "Needed",
    "left_over": "Left over", "unit_price": "Lowest price", "cost": "Before rounding", "amount": "Amount",
}  # fmt: skip
OF_EQUIPMENT = {
    "touch_minutes": "Touch minutes", "hours": "Hours of the crew", "days.exact": "Days before rounding up",
    "days": "Days", "units": "Units", "rental": "Rental of a unit", "deliveries": "Deliveries",
    "cost": "Before rounding", "amount": "Amount",
}  # fmt: skip
Line = MaterialLine | EquipmentLine


class RowsSheet:
    """Rows of a table, their figures in columns; counted: the figures of packs or periods, which were searched for."""

    def __init__(self, figures: Figures, name: str, lines: Sequence[Line], steps: dict[str, str], counted: str) -> None:
        self.figures, self.name, self.lines, self.steps = figures, name, lines, steps
        self.counted = [f"{counted}.{k}" for k in range(max((len(self.mix_of(line)) for line in lines), default=0))]
        self.columns = [*self.counted, *steps]
        for row, line in enumerate(lines, 2):
            for column, step in enumerate(self.columns, FIRST):
                if self.has(line, step):
                    figures.stands(f"{line.path}.{step}", name, column, row)

    def mix_of(self, line: Line) -> Sequence[object]:
        """The packs or periods on offer."""
        return line.row.packs if isinstance(line, MaterialLine) else line.row.rental

    def has(self, line: Line, step: str) -> bool:
        """Whether a line has a figure that its price stands on or its reader asks for."""
        if step == "gross_factor" and isinstance(line, MaterialLine) and line.is_cut:
            return False
        return f"{line.path}.{step}" in self.figures.register.book(self.key(line))

    def key(self, line: Line) -> tuple[int, str, str]:
        """Where the register has the figures of a line."""
        family, code = line.path.removeprefix(line.prefix).split(".")
        return line.conditions.place, family, code

    def sheet(self) -> list[Cells]:
        """The rows under their heading."""
        counts = [f"Of number {k}" for k in range(1, len(self.counted) + 1)]
        head: Cells = ["Part", "Code", "Title", "Unit", "Cost code", OFFERED[self.name], *counts, *self.steps.values()]
        return [head, *(self.row(line) for line in self.lines)]

    def row(self, line: Line) -> Cells:
        """One line."""
        register = self.figures.register
        part = str(line.conditions.place + 1) if register.several else ""
        if isinstance(line, MaterialLine) and not line.planned:
            self.figures.own[f"{line.path}.left_over"] = left_over(self.figures, line)
        found: list[Cell] = [
            self.figures.content(f"{line.path}.{step}") if self.has(line, step) else None for step in self.columns
        ]
        return [part, line.row.code, line.title, self.unit(line), line.row.cost_code, offered(line), *found]

    def unit(self, line: Line) -> str:
        """What the quantities are in."""
        if not isinstance(line, MaterialLine):
            return ""
        return self.figures.unit_word(self.figures.register.node(f"{line.path}.net"))


def offered(line: Line) -> str:
    """The packs or periods on offer, in their order."""
    if isinstance(line, MaterialLine):
        return ", ".join(pack.label for pack in line.packs)
    return ", ".join(rental.period for rental in line.row.rental)


def left_over(figures: Figures, line: MaterialLine) -> str:
    """What the packs hold less what is needed, by their counts."""
    node = figures.register.node(f"{line.path}.{'left_over' if line.as_used else 'cost'}")
    sizes = [term[0] for term in terms([figures.given(x) for x in node.inputs]) if len(term) == 2]
    held = "+".join(f"{figures.reference(f'{line.path}.pack.{k}')}*{size.text}" for k, size in enumerate(sizes))
    return f"{held}-{figures.reference(f'{line.path}.needed')}"


def sheets_of_rows(figures: Figures) -> Iterable[RowsSheet]:
    """Materials, then equipment, of all parts."""
    parts = figures.estimate.parts
    yield RowsSheet(figures, MATERIALS, [x for part in parts for x in part.materials], OF_MATERIAL, "pack")
    yield RowsSheet(figures, EQUIPMENT, [x for part in parts for x in part.equipment], OF_EQUIPMENT, "period")
