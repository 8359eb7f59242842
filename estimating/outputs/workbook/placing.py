"""Where each figure and each rate of one estimate stands in its workbook, and what its cell holds."""

from __future__ import annotations

from typing import Any

from estimating.core.derivations.nodes import Node
from estimating.core.derivations.register import Register
from estimating.core.estimate import Estimate
from estimating.core.figures.figure import Input
from estimating.core.figures.printing import in_shown_unit
from estimating.outputs.workbook.formulas import FORMULAS, Given, literal, remainder_places
from estimating.outputs.workbook.numbers import number
from estimating.outputs.workbook.references import MOST_CHARACTERS, cell
from estimating.outputs.workbook.rounding import guarded
from rates.core.fraction import Fraction
from rates.core.grid import Cell, Cells, Computed, NumberText
from rates.core.money import minor_digits

RATES, HOURS, WORKINGS = "Rates", "Hours and labour", "Workings"
HEADINGS: dict[str, Cells] = {
    RATES: ["Table or place", "Row", "Field", "What", "Value", "Unit", "Layer", "Edition", "Mark"],
    HOURS: ["Figure", "Value", "Unit", "How"],
    WORKINGS: ["Figure", "Value", "Unit", "How"],
}
OF_HOURS = frozenset(
    "hours setup touch_minutes base_minutes idle_minutes learning_factor learning opening_equivalents crew_days "
    "labour crew hour_cost labour_cost return_trips worker_days".split()
)


class Figures:
    """The figures of one estimate as cells; rows are added as figures are asked for, what they stand on first."""

    def __init__(self, estimate: Estimate) -> None:
        self.estimate = estimate
        self.register = Register(estimate)
        self.units, self.currency = estimate.request.units, estimate.till.currency
        self.money_places = minor_digits(self.currency)
        self.rows: dict[str, list[Cells]] = {name: [heading] for name, heading in HEADINGS.items()}
        self.at: dict[str, str] = {}
        self.own: dict[str, str] = {}  # formulas of other cells than a derivation's inputs
        self._rates: dict[Any, str] = {}

    def part_step(self, name: str) -> tuple[int, str]:
        """The part that a figure belongs to, and its name there."""
        first, _, rest = name.partition(".")
        if first == "part" and self.register.several:
            place, _, step = rest.partition(".")
            return int(place), step
        return 0, name

    def stands(self, name: str, sheet: str, column: int, row: int) -> None:
        """A figure has its place."""
        self.at[name] = cell(sheet, column, row)

    def reference(self, name: str) -> str:
        """The address of a figure; a row of workings where it has no place of its own."""
        if name not in self.at:
            node, content = self.register.node(name), self.content(name)
            _, step = self.part_step(name)
            sheet = HOURS if step.partition(".")[0] in OF_HOURS else WORKINGS
            title = str(node.title)
            if self.register.several and name.startswith("part."):
                title = f"{title}, part {self.part_step(name)[0]}"
            self.rows[sheet].append([title, content, self.unit_word(node), str(node.formula)])
            self.stands(name, sheet, 1, len(self.rows[sheet]))
        return self.at[name]

    def unit_word(self, node: Node) -> str:
        """What a figure is shown in."""
        return in_shown_unit(0, node.unit, self.units, self.currency)[1]

    def content(self, name: str) -> Cell:
        """What the cell of a figure holds: its value, and its formula where it has one."""
        node = self.register.node(name)
        if isinstance(node.value, str):
            return str(node.value)
        value = in_shown_unit(node.value, node.unit, self.units, self.currency)[0]
        if node.rule == "share_remainder":  # as its formula gives it, else a cell computed anew would differ
            value = guarded(value, remainder_places([self.given(x) for x in node.inputs]))
        formula = self.formula(name, node)
        places = self.money_places if node.unit.shown == "money" else None
        return number(value, places, formula if len(formula) <= MOST_CHARACTERS else "")

    def formula(self, name: str, node: Node) -> str:
        """The formula of a figure; blank where it stands as a number."""
        if name in self.own:
            return self.own[name]
        if node.rule == "least_cost_packs":
            return self.of_search(name, node)
        if node.rule not in FORMULAS:
            return ""
        return FORMULAS[node.rule](node, [self.given(x) for x in node.inputs])

    def of_search(self, name: str, node: Node) -> str:
        """What packs or periods cost: their numbers stand as they were found, each times its price."""
        stem, _, _ = name.rpartition(".")
        counted = "period" if name.endswith(".rental") else "pack"
        prices = [x for x in node.inputs if x.term is not None][1::2]
        return "+".join(f"{self.reference(f'{stem}.{counted}.{k}')}*{self.text(x)}" for k, x in enumerate(prices))

    def given(self, given: Input) -> Given:
        """An input as a formula takes it, its value in the unit that its cell has."""
        if isinstance(given.value, str):
            return Given(given, "")
        value = in_shown_unit(Fraction(given.value), given.unit, self.units, self.currency)[0]
        shown = Input(given.name, value, given.unit, given.figure, given.source, given.term)
        return Given(shown, self.text(given))

    def text(self, given: Input) -> str:
        """What a formula says for an input: an address, or the number of a constant."""
        if given.figure is not None:
            return self.reference(given.figure)
        value, word = in_shown_unit(Fraction(given.value), given.unit, self.units, self.currency)
        if given.source is None or "constant" in given.source:
            return literal(value)
        return self.rate(given, value, word)

    def rate(self, given: Input, value: Fraction, word: str) -> str:
        """The address of a value of a table or of the request, a row of its own."""
        source = dict(given.source or {})
        key = (*sorted((name, str(what)) for name, what in source.items()), value, word)
        if key not in self._rates:
            said = [str(source.get(name) or "") for name in ("row", "field", "layer", "number", "mark")]
            row, field, layer, edition, mark = said
            place = str(source.get("table") or source.get("pointer") or "")
            named: Cells = [place, row, field, str(given.name), number(value), word, layer, edition, mark]
            self.rows[RATES].append(named)
            self._rates[key] = cell(RATES, 4, len(self.rows[RATES]))
        return self._rates[key]

    def money(self, amount: Fraction, formula: str) -> Computed:
        """An amount in major units as a cell."""
        return number(amount, self.money_places, formula)


def whole(value: int) -> NumberText:
    """A count as a cell."""
    return NumberText(value)
