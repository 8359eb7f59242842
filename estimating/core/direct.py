"""Direct cost: labour, materials, freight, sales tax, equipment, small tools, subcontracts, in the order of steps.

Each line is rounded once; a percent row is worked on rounded sums; a step with several cost codes is several lines.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from estimating.core.build_lines import AmountLine, BuildLine, ItemTaxLine, PercentLine, RowsLine, StatedLine
from estimating.core.conditions import Conditions, PartSubject
from estimating.core.crew import CrewCost
from estimating.core.figures.figure import Step, figure
from estimating.core.figures.printing import EXACT_MONEY, MONEY
from estimating.core.figures.rules import product, rounded, total
from estimating.core.hours import Hours
from estimating.core.part import Part
from estimating.core.remainders import Share, Shares
from estimating.core.request import Request
from estimating.core.till import Till
from rates.core.card import Card
from rates.core.rows import OverheadRow
from rates.core.steps import DIRECT, ORDER, steps_of

OF_ITEMS = ("taxable_materials", "materials", "equipment")


@dataclass(eq=False, repr=False)
class Labour(PartSubject):
    """A part's labour, rounded once as the job's money is; shares: over the cost codes of the crew."""

    conditions: Conditions
    crew: CrewCost
    hours: Hours
    job_till: Till

    @figure("Labour before rounding", EXACT_MONEY, step="labour_cost.exact")
    def exact(self) -> Step:
        words = "standard hours × cost of a standard hour"
        return product, words, self.hours.standard, self.crew.standard_hour_cost

    @figure("Labour", MONEY, step="labour_cost", label="labour")
    def amount(self) -> Step:
        return rounded, "rounded once", self.exact, *self.job_till.places_and_way


@dataclass(eq=False, repr=False)
class LabourLine(BuildLine, Share):
    """The share of one cost code in a part's labour, count × hour rate its weight."""

    shares: Shares | None = None
    share_place: int = 0
    words: ClassVar[str] = "standard hours × cost of a standard hour"
    has_exact: ClassVar[bool] = False

    @property
    def share_title(self) -> str:  # type: ignore[override]
        """The title of the line."""
        return self.title

    def amount_step(self) -> Step:
        return self.shared()


@dataclass(eq=False, repr=False)
class Taxable(PartSubject):
    """What of a part is taxable: its materials, and in the first part the subcontracts."""

    conditions: Conditions
    rows: Sequence[Any]

    @figure("Taxable", MONEY, step="taxable_materials", label="taxable_materials")
    def amount(self) -> Step:
        words = "Σ of the taxable rows and, in the first part, of the taxable subcontracts"
        return total, words, *(row.amount for row in self.rows)


@dataclass(frozen=True)
class Job:
    """What the lines of a job have in common; empty: nothing is to be done; smooth: no minimum and no rounding up."""

    request: Request
    card: Card
    till: Till
    several: bool
    empty: bool
    smooth: bool

    def common(self, part: Part | None) -> dict[str, Any]:
        """The fields of a line of a part, or of the job."""
        if part is None:
            return {"till": self.till, "request": self.request}
        place = part.conditions.place
        title = part.plan.title if self.several else None
        return {"till": self.till, "request": self.request, "part": place, "part_title": title}

    def of_row(self, row: OverheadRow, part: Part | None) -> dict[str, Any]:
        """The fields of a line of an overheads row."""
        prefix = "" if part is None else part.conditions.prefix
        own = {"step": row.step, "title": row.title, "cost_code": row.cost_code, "row": row, "row_prefix": prefix}
        return self.common(part) | own | {"empty": self.empty}


def labour_lines(job: Job, part: Part) -> list[BuildLine]:
    """Labour rounded once, then over the crew's cost codes by count × hour rate, largest remainder."""
    labour = Labour(part.conditions, part.crew, part.hours, job.till)
    prefix = part.conditions.prefix
    weights = list(part.crew.weights.values())
    shares = Shares(
        f"{prefix}labour_cost",
        job.till,
        job.till.whole(labour.amount),
        weights,
        [],
        ("labour", f"{prefix}labour_cost"),
        ("all weights", f"{prefix}crew.money"),
        lambda place: ("weight of the code", f"{prefix}crew.weight.{place}"),
    )
    common: dict[str, Any] = {"step": "labour", "title": "Labour", "shares": shares} | job.common(part)
    return [LabourLine(**common, cost_code=code, share_place=k) for k, code in enumerate(part.crew.by_code)]


def rows_lines(job: Job, part: Part, step: str, title: str, basis: str, rows: Sequence[Any]) -> list[BuildLine]:
    """Rounded rows summed for each cost code; a line of 0 where there is no row."""
    codes = dict.fromkeys(line.row.cost_code for line in rows) or {None: None}
    common = {"step": step, "title": title, "basis_words": basis} | job.common(part)
    return [RowsLine(**common, cost_code=c, rows=[x for x in rows if x.row.cost_code == c]) for c in codes]


def subcontract_lines(job: Job) -> list[StatedLine]:
    """Each subcontract as the request states it."""
    return [
        StatedLine(**job.common(None), step="subcontracts", title=s.title, cost_code=s.cost_code, index=i)
        for i, s in enumerate(job.request.subcontracts)
    ]


def is_by_item(row: OverheadRow, card: Card) -> bool:
    """Whether a row is sales tax rounded for each item."""
    return card.sales_tax_by == "item" and row.step == "sales_tax" and row.rate is not None and row.on in OF_ITEMS


def row_line(job: Job, row: OverheadRow, part: Part | None, of: Sequence[Any], hours: Any) -> BuildLine:
    """A row's line: a percentage of what it stands on, which every such row states, or an amount."""
    common = job.of_row(row, part)
    if row.rate is None:
        return AmountLine(**common, hours=hours if row.on else None, counted=row.on or "")
    on = str(row.on)
    if part is None or job.request.exemption_certificate is not None or not is_by_item(row, part.conditions.card):
        return PercentLine(**common, on=on, of=of)
    items = of[0].rows if on == "taxable_materials" else [x for line in of for x in line.rows]
    return ItemTaxLine(**common, on=on, of=of, items=items)


def taxable(job: Job, part: Part, contracts: Sequence[StatedLine]) -> Taxable:
    """What of a part is taxable; the subcontracts belong to the first part."""
    rows: list[Any] = [line for line in part.materials if line.row.taxable]
    if not part.conditions.place:
        rows += [line for line in contracts if job.request.subcontracts[line.index].taxable]
    return Taxable(part.conditions, rows)


def part_lines(job: Job, part: Part, taxed: Taxable) -> list[BuildLine]:
    """The direct lines of one part by the part's own card, step by step; a later row on `running` sees the earlier."""
    fixed: Mapping[str, Sequence[BuildLine]] = {
        "labour": labour_lines(job, part),
        "materials": rows_lines(
            job, part, "materials", "Materials", "packs at their prices, each row rounded", part.materials
        ),
        "equipment": rows_lines(
            job, part, "equipment", "Equipment", "rental and delivery, each row rounded", part.equipment
        ),
    }
    bases: dict[str, Sequence[Any]] = {**fixed, "taxable_materials": [taxed]}
    lines: list[BuildLine] = []
    for step in steps_of(DIRECT):
        lines += fixed.get(step, ())
        for row in part.conditions.card.overheads:
            if row.step == step:
                of = list(lines) if row.on == "running" else bases.get(str(row.on), ())
                lines.append(row_line(job, row, part, of, part.hours))
    return lines


def direct_lines(job: Job, parts: Sequence[Part]) -> tuple[list[BuildLine], tuple[Taxable, ...]]:
    """(all direct lines in the order of steps, whatever the order of rows; what of each part is taxable)."""
    contracts = subcontract_lines(job)
    taxed = tuple(taxable(job, part, contracts) for part in parts)
    lines = [line for part, of_part in zip(parts, taxed, strict=True) for line in part_lines(job, part, of_part)]
    return sorted([*lines, *contracts], key=lambda line: ORDER.index(line.step)), taxed
