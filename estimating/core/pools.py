"""Direct cost as rates by own use: money for each unit of a material, for each touch minute, and so for each opening.

How each direct step is shared stands with the step (rates/core/steps.py); money in major units.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import attrgetter
from typing import Any

from estimating.core.build_lines import PercentLine
from estimating.core.build_up import BuildUp
from estimating.core.conditions import Conditions, PartSubject
from estimating.core.figures.figure import Step, Subject, called, figure, figures, told, word
from estimating.core.figures.printing import EXACT_MONEY, MINUTES, MONEY, Unit, money_for
from estimating.core.figures.rules import difference, maximum, proportion, quotient, sum_of_products, total
from estimating.core.material_prices import for_own_unit
from estimating.core.materials import MaterialLine
from estimating.core.part import Part
from estimating.core.worked import Worked
from rates.core.fraction import Fraction
from rates.core.steps import BY_MINUTES_OF_JOB, STEPS, WITH_MATERIALS, WITH_TAXABLE

A_MINUTE = money_for("minute")
BY_USE = attrgetter("by_use")
SHARED = {way: [step.name for step in STEPS if step.shared == way] for way in {step.shared for step in STEPS}}


@dataclass(eq=False, repr=False)
class Contracts(Subject):
    """The direct steps that go by the touch minutes of the whole job."""

    up: BuildUp
    hours: Any

    @property
    def counts(self) -> bool:
        """Whether there is money of them, and work to put it on."""
        sums = self.up.step_sums
        return bool(self.hours.touch_minutes) and any(sums.get(step) for step in SHARED[BY_MINUTES_OF_JOB])

    @figure("Subcontracts for each touch minute", A_MINUTE, step="pool.subcontracts", label="subcontracts a minute")
    def rate(self) -> Step:
        contracts = self.up.step_sums["subcontracts"]
        return quotient, "subcontracts ÷ touch minutes of the job", contracts, self.hours.touch_minutes


def of_row(more: str = "") -> Any:
    """The step of a material's figure in the pools."""
    return lambda s, code: f"pool.material.{word(code)}{more}"


@dataclass(eq=False, repr=False)
class Pools(PartSubject):
    """The direct cost of one part, and what one opening of each kind, or the joints, weigh by it."""

    conditions: Conditions
    part: Part
    up: BuildUp
    contracts: Contracts

    @property
    def by_use(self) -> bool:
        """Whether the price goes by own use, not by touch minutes alone."""
        return self.request.allocate_by != "touch_minutes"

    @cached_property
    def works(self) -> Sequence[Worked]:
        """Every kind, then the joints."""
        return self.part.every_work

    @cached_property
    def lines(self) -> list[Any]:
        """The lines of the build-up that are the part's."""
        return [line for line in self.up.lines if line.part == self.conditions.place]

    @cached_property
    def rows(self) -> Mapping[str, MaterialLine]:
        """The rows whose money follows their use; those by the crew-day follow touch minutes."""
        by_use = self.by_use and self.part.materials
        return {m.row.code: m for m in by_use or () if m.row.per != "crew_day" and m.net}

    def told_rows(view: Any) -> Mapping[str, Any]:
        """The same, seen."""
        return {code: view.seen(line) for code, line in view.subject.rows.items()}

    def shared(self, way: str) -> list[Any]:
        """The amounts of the steps that are shared one way."""
        return [line.amount for line in self.lines if line.step in SHARED[way]]

    @figure("Freight of the part", MONEY, step="pool.freight", label="total", when=BY_USE)
    def freight(self) -> Step:
        return total, "Σ of the part's lines of this step", *self.shared(WITH_MATERIALS)

    @figure("Sales tax of the part", MONEY, step="pool.sales_tax", label="total", when=BY_USE)
    def sales_tax(self) -> Step:
        return total, "Σ of the part's lines of this step", *self.shared(WITH_TAXABLE)

    @figure("Direct cost of the part but subcontracts", MONEY, step="pool.direct", label="direct cost", when=BY_USE)
    def direct(self) -> Step:
        return total, "Σ of the part's lines", *(line.amount for line in self.lines)

    @figure("Material rows of the part", MONEY, step="pool.materials", label="all rows", when=BY_USE)
    def materials(self) -> Step:
        return total, "Σ rows", *(line.amount for line in self.part.materials)

    @figure("Taxable material rows of the part", MONEY, step="pool.taxable", label="taxable rows", when=BY_USE)
    def taxable(self) -> Step:
        return total, "Σ rows", *(line.amount for line in self.part.materials if line.row.taxable)

    @cached_property
    def taxes(self) -> list[Any]:
        """The part's lines of sales tax that have a base."""
        return [line for line in self.lines if line.step in SHARED[WITH_TAXABLE] and isinstance(line, PercentLine)]

    @figure("What the sales tax is shared over", MONEY, step="pool.tax_base", label="all rows", when=BY_USE)
    def tax_base(self) -> Step:
        # never less than the base of the tax: one stated on labour must not hand out more than itself
        words = "the largest of the taxable rows and the bases of the tax"
        return maximum, words, self.taxable, *(called("base of the tax", line.base) for line in self.taxes)

    @figures(
        lambda s, k: f"Freight of {s.rows[k].title}",
        EXACT_MONEY,
        lambda s: s.rows if s.materials else (),
        of_row(".freight"),
        keep=lambda k, money: money,
    )
    def row_freight(self, code: str) -> Step:
        return proportion, "freight × this row ÷ all rows", self.freight, self.rows[code].amount, self.materials

    @figures(
        lambda s, k: f"Sales tax of {s.rows[k].title}",
        EXACT_MONEY,
        lambda s: [code for code, line in s.rows.items() if line.row.taxable and s.tax_base],
        of_row(".sales_tax"),
        keep=lambda k, money: money,
    )
    def row_tax(self, code: str) -> Step:
        words = "sales tax × this row ÷ what it is shared over"
        return proportion, words, self.sales_tax, self.rows[code].amount, self.tax_base

    @figures(
        lambda s, k: f"{s.rows[k].title} with freight and tax",
        EXACT_MONEY,
        lambda s: s.rows,
        of_row(".cost"),
        label=lambda s, k: s.rows[k].title,
    )
    def row_cost(self, code: str) -> Step:
        carried = [money[code] for money in (self.row_freight, self.row_tax) if code in money]
        return total, "row + its freight + its sales tax", self.rows[code].amount, *carried

    @figures(
        lambda s, k: f"Money for each unit of {s.rows[k].title}",
        lambda s, k: for_own_unit(s.rows[k]),
        lambda s: s.rows,
        of_row(),
        label="rate",
    )
    def row_rate(self, code: str) -> Step:
        return quotient, "row with freight and tax ÷ net quantity", self.row_cost[code], self.rows[code].net

    @property
    def has_minutes(self) -> bool:
        """Whether there is work to put the rest on."""
        return self.by_use and bool(self.part.hours.touch_minutes)

    @figure("Direct cost by touch minutes", EXACT_MONEY, step="pool.rest", when=lambda s: s.has_minutes)
    def rest(self) -> Step:
        rented = [line.amount for line in self.part.equipment]
        return difference, "direct cost − rows by use − equipment", self.direct, *self.row_cost.values(), *rented

    @figure("Money for each touch minute", A_MINUTE, step="pool.minutes", label="rate", when=lambda s: s.has_minutes)
    def by_minutes(self) -> Step:
        return quotient, "rest ÷ touch minutes", self.rest, self.part.hours.touch_minutes

    @figures(
        lambda s, k: f"{s.part.equipment[k].title} for each touch minute worked from it",
        A_MINUTE,
        lambda s: range(len(s.part.equipment)) if s.has_minutes else (),
        lambda s, k: f"pool.equipment.{word(s.part.equipment[k].row.code)}",
        label="rate",
    )
    def by_access(self, place: int) -> Step:
        line = self.part.equipment[place]
        return quotient, "amount ÷ touch minutes", line.amount, line.touch_minutes

    @cached_property
    def of_kinds(self) -> Mapping[int, Fraction]:
        """The weight of one opening by kind index."""
        return dict(zip(self.part.works, self.weights.values(), strict=False))

    def weight_unit(self, _: int) -> Unit:
        """What weights are in."""
        return EXACT_MONEY if self.by_use else MINUTES

    @told
    def minute_rates(self) -> list[tuple[Any, frozenset[str] | None]]:
        """(money for each touch minute, the access that it is for, None for any)."""
        found: list[tuple[Any, frozenset[str] | None]] = [(self.contracts.rate, None)] if self.contracts.counts else []
        found += [(self.by_minutes, None)] if self.has_minutes else []
        served = [frozenset(map(str, line.row.for_access)) for line in self.part.equipment]
        return [*found, *zip(self.by_access.values(), served, strict=False)]

    @figures(
        "Weight in the split of the price",
        weight_unit,
        lambda s: range(len(s.works)),
        lambda s, k: f"{s.works[k].path}.weight".removeprefix(s.prefix),
        label="weight",
    )
    def weights(self, place: int) -> Step:
        work = self.works[place]
        touch = work.touch_minutes
        if not self.by_use:
            return sum_of_products, "touch minutes", (touch,)
        words = "Σ rate × what is drawn on it: direct cost by own use"
        rates = [(rate, touch) for rate, access in self.minute_rates if access is None or work.access in access]
        by_row = self.row_rate
        return sum_of_products, words, *rates, *((by_row[c], use) for c, use in work.use.items() if c in by_row)
