"""From direct cost to price: overheads, contingency, profit, allowances, bond and receipts tax, minimum, rounding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from estimating.core.bond import price_with_bond_and_tax, tiered
from estimating.core.build_lines import AllowanceLine, BuildLine, ReconciledLine, RowLine
from estimating.core.direct import Job, LabourLine, Taxable, direct_lines, row_line
from estimating.core.figures.figure import Input, Step, Subject, called, figure, figures, known, parameter, told, word
from estimating.core.figures.printing import EXACT_MONEY, MONEY, TEXT
from estimating.core.figures.rules import percent, round_up, shortfall, total, zero
from estimating.core.part import Part
from rates.core.fraction import Fraction
from rates.core.rows import OverheadRow
from rates.core.steps import CLOSING, CONTAINED, MARK_UP, PASSED, PROFIT, STEP, SUMMED, steps_of

NO_TAX = parameter("receipts tax", 0)
ABOVE = "Σ of every line above"


@dataclass(eq=False, repr=False)
class Contained(Subject):
    """The price that contains bond and receipts tax, over the lines before them."""

    lines: Sequence[BuildLine]
    bond: OverheadRow | None
    tax: OverheadRow | None

    @property
    def path(self) -> str:
        """bond"""
        return "bond"

    @told
    def tiers(self) -> list[tuple[Any, ...]]:
        """Each tier of the bond: up to which price, and its percentage; the last has no end."""
        if self.bond is None:
            return []
        if not self.bond.tiers:
            return [(self.bond.percent,)]
        return [(t.percent,) if t.up_to is None else (t.up_to, t.percent) for t in self.bond.tiers]

    @told
    def tax_percent(self) -> Any:
        """The percentage of the receipts tax."""
        return NO_TAX if self.tax is None else called("receipts tax", self.tax.percent)

    @figure("Before bond and receipts tax", MONEY)
    def base(self) -> Step:
        return total, ABOVE, *(line.amount for line in self.lines)

    @figure("Price that contains bond and receipts tax", EXACT_MONEY)
    def price(self) -> Step:
        words = "X with X = base + premium of X by tiers + receipts tax of X"
        return price_with_bond_and_tax, words, self.base, self.tax_percent, *self.tiers


@dataclass(eq=False, repr=False)
class ContainedLine(RowLine):
    """Bond or gross receipts tax, rounded from the exact solution."""

    contained: Contained | None = None

    @property
    def basis(self) -> str:
        words = "bond" if self.step == "bond" else "receipts tax"
        return f"{words} on the price that contains it, before minimum and rounding"

    def exact_step(self) -> Step:
        found = self.contained
        if self.step == "bond":
            words = "Σ over tiers of percent × the part of the price in the tier"
            return tiered, words, found.price, *found.tiers  # type: ignore[union-attr]
        return percent, "price × percent", found.price, found.tax_percent  # type: ignore[union-attr]


@dataclass(eq=False, repr=False)
class MinimumLine(RowLine):
    """What is missing to the minimum charge; waived where nothing is to be done and nothing is then priced."""

    lines: Sequence[BuildLine] = ()

    @property
    def waived(self) -> bool:
        """Whether it does not count."""
        return self.empty and self.request.empty_price == "zero"

    @property
    def stated(self) -> str:
        """The row's amount as printed."""
        return self.till.text(self.till.minor((self.row.amount if self.row else None) or Fraction(0)))

    @property
    def basis(self) -> str:
        if self.waived and self.row is not None and self.row.amount:
            return f"{self.stated} waived, as nothing is to be done"
        return f"up to {self.stated}"

    @figure("So far", MONEY, label="so far", when=lambda s: not s.waived)
    def base(self) -> Step:
        return total, ABOVE, *(line.amount for line in self.lines)

    def exact_step(self) -> Step:
        if self.waived:
            reason = known(Input("price of nothing", "zero", TEXT, source={"pointer": "/empty_price"}))
            return zero, "0: nothing is to be done", reason
        minimum = called("minimum", self.row.amount)  # type: ignore[union-attr]
        return shortfall, "minimum − everything above, at least 0", minimum, self.base


@dataclass(eq=False, repr=False)
class RoundingLine(MinimumLine):
    """What is missing to the next multiple."""

    waived: ClassVar[bool] = False

    @property
    def basis(self) -> str:
        return f"up to a multiple of {self.stated}"

    def exact_step(self) -> Step:
        multiple = called("multiple", self.row.amount)  # type: ignore[union-attr]
        return round_up, "what is missing to the next multiple", self.base, multiple


@dataclass(eq=False, repr=False)
class BuildUp(Subject):
    """The ordered lines and the sums that they pass."""

    lines: tuple[BuildLine, ...]
    contained: Contained | None
    profit_row: OverheadRow | None
    taxable: tuple[Taxable, ...]

    @told
    def by_step(self) -> dict[str, list[Any]]:
        """The lines of each step that stands there."""
        found: dict[str, list[Any]] = {}
        for line in self.lines:
            found.setdefault(str(line.step), []).append(line)
        return found

    def amounts_of(self, steps: Sequence[str]) -> list[Any]:
        """The amounts of the lines of some steps."""
        return [line.amount for line in self.lines if line.step in steps]

    @figures(lambda s, k: STEP[k].words, MONEY, lambda s: s.by_step, lambda s, k: f"build_up.{k}")
    def step_sums(self, step: str) -> Step:
        return total, "Σ of the lines of this step", *self.amounts_of([step])

    @figures(
        lambda s, k: f"Cost code {k}" if k else "No cost code",
        MONEY,
        lambda s: dict.fromkeys(line.cost_code for line in s.lines),
        lambda s, k: f"cost_code.{word(k)}",
    )
    def code_sums(self, code: str | None) -> Step:
        return total, "Σ of the lines with this code", *(x.amount for x in self.lines if x.cost_code == code)

    @figure("Direct cost", MONEY)
    def direct_cost(self) -> Step:
        return total, "Σ labour to subcontracts", *self.amounts_of(PASSED["direct_cost"])

    @figure("Cost", MONEY)
    def cost(self) -> Step:
        return total, "direct cost + overhead + contingency", *self.amounts_of(PASSED["cost"])

    @figure("Price", MONEY)
    def price(self) -> Step:
        return total, "Σ of every line of the build-up", *(line.amount for line in self.lines)

    def of_step(self, step: str) -> int:
        """Σ of one step, minor units."""
        return sum(line.amount_minor for line in self.lines if line.step == step)

    def passed(self, name: str) -> int:
        """One of the sums that the build-up passes, minor units."""
        return sum(line.amount_minor for line in self.lines if line.step in PASSED[name])

    @property
    def direct_minor(self) -> int:
        """Direct cost, minor units."""
        return self.passed("direct_cost")

    @property
    def cost_minor(self) -> int:
        """Cost, minor units."""
        return self.passed("cost")

    @property
    def price_minor(self) -> int:
        """The price, minor units."""
        return self.lines[0].till.whole(self.price) if self.lines else 0

    @property
    def profit_minor(self) -> int:
        """Profit, minor units."""
        return self.of_step("profit")


def stands_on(name: str, lines: Sequence[BuildLine]) -> Sequence[BuildLine]:
    """The lines so far that a base above direct cost sums."""
    return list(lines) if name in ("running", "cost") else [line for line in lines if line.step in SUMMED[name]]


def upper_lines(job: Job, lines: list[BuildLine], hours: Any, stage: str) -> None:
    """The rows of a stage above direct cost, in the order of the table."""
    for row in job.card.overheads:
        if STEP[row.step].stage == stage:
            of = stands_on(str(row.on), lines) if row.rate is not None else ()
            lines.append(row_line(job, row, None, of, hours))


def row_of(job: Job, step: str) -> OverheadRow | None:
    """The row of a step that stands at most once."""
    return next((row for row in job.card.overheads if row.step == step), None)


def contained_lines(job: Job, lines: list[BuildLine]) -> Contained | None:
    """Bond and gross receipts tax on the price that contains them."""
    rows = [row for step in steps_of(CONTAINED) if (row := row_of(job, step)) is not None]
    if not rows:
        return None
    contained = Contained(list(lines), row_of(job, "bond"), row_of(job, "gross_receipts_tax"))
    lines += [ContainedLine(**job.of_row(row, None), contained=contained) for row in rows]
    return contained


def closing_lines(job: Job, lines: list[BuildLine]) -> None:
    """Minimum charge and rounding up, lines of their own; none where all is smooth."""
    made = {"minimum_charge": MinimumLine, "round_up_to": RoundingLine}
    for step in () if job.smooth else steps_of(CLOSING):
        row = row_of(job, step)
        if row is not None and (row.amount or step == "minimum_charge"):
            lines.append(made[step](**job.of_row(row, None), lines=list(lines)))


def build_up(job: Job, parts: Sequence[Part], hours: Any) -> BuildUp:
    """The whole build-up; hours: of the job, for amounts that are for each paid hour."""
    lines, taxed = direct_lines(job, parts)
    upper_lines(job, lines, hours, MARK_UP)
    upper_lines(job, lines, hours, PROFIT)
    common = job.common(None) | {"step": "allowances"}
    asked = enumerate(job.request.allowances)
    for i, a in asked:
        allowed = AllowanceLine(**common, title=a.title, cost_code=a.cost_code, index=i)
        lines.append(allowed)
        if a.actual is not None:
            title = f"{a.title}, actual less allowed"
            lines.append(ReconciledLine(**common, title=title, cost_code=a.cost_code, allowed=allowed))
    contained = contained_lines(job, lines)
    closing_lines(job, lines)
    for place, line in enumerate(lines):
        line.place = place
    for line in lines:
        if isinstance(line, LabourLine) and line.shares is not None:
            line.shares.names = [x.path for x in lines if isinstance(x, LabourLine) and x.part == line.part]
    return BuildUp(tuple(lines), contained, row_of(job, "profit"), taxed)
