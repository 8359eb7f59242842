"""One line of the build-up: its exact amount, its base, and how it is rounded once.

A percent row is worked on rounded sums; what a line stands on are the lines themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from estimating.core.figures.figure import Input, Step, Subject, called, figure, figures, known, parameter
from estimating.core.figures.printing import EXACT_MONEY, MONEY, TEXT, money_for
from estimating.core.figures.rules import difference, margin, percent, product, rounded, total, zero
from estimating.core.request import Request
from estimating.core.till import Till
from estimating.core.wages import AN_HOUR
from rates.core.fraction import Fraction
from rates.core.rows import OverheadRow
from rates.core.steps import BASE_WORDS, COUNTED

NOTHING = parameter("nothing to be done", "yes")
OF_HOURS = {  # what an amount may be for each of -> the figure of the hours, the unit of the amount
    "paid_hours": ("paid", AN_HOUR),
    "mobilisations": ("mobilisations", money_for("mobilisation")),
    "worker_days": ("worker_days", money_for("worker-day")),
    "return_trips": ("return_trips", money_for("return trip")),
}


def percent_text(rate: Fraction) -> str:
    """A rate as a percentage in words, every place that it has."""
    hundredfold = rate * 100
    scaled = hundredfold * 10**12
    digits = f"{int(scaled) // 10**12}.{int(scaled) % 10**12:012d}".rstrip("0").rstrip(".")
    return f"{digits} %"


@dataclass(eq=False, repr=False)
class BuildLine(Subject):
    """One line. till: the job's; part: index of the part it belongs to, None for the job; part_title: told where there
    are several; place: among the lines.
    """

    step: str
    title: str
    cost_code: str | None
    till: Till
    request: Request
    part: int | None = None
    part_title: str | None = None
    place: int = -1
    words: ClassVar[str] = "as quoted"
    has_exact: ClassVar[bool] = True

    @property
    def path(self) -> str:
        """build_up.<i>"""
        return f"build_up.{self.place}"

    @property
    def basis(self) -> str:
        """What the amount is of, in words."""
        return self.words

    @property
    def label(self) -> str:
        """The title, told from its like by part and cost code."""
        by_code = self.cost_code if self.step in ("labour", "materials", "equipment") else None
        return ", ".join(word for word in (self.title, self.part_title, by_code) if word)

    def exact_step(self) -> Step:
        """How the exact amount comes about."""
        raise NotImplementedError

    @figure("{s.title} before rounding", EXACT_MONEY, when=lambda s: s.has_exact)
    def exact(self) -> Step:
        return self.exact_step()

    def amount_step(self) -> Step:
        """How the amount comes about: rounded once."""
        return rounded, f"{self.basis}; rounded once", self.exact, *self.till.places_and_way

    @figure("{s.title}", MONEY, step="", label=lambda line: line.label)
    def amount(self) -> Step:
        return self.amount_step()

    @property
    def amount_minor(self) -> int:
        """The amount in minor units."""
        return self.till.whole(self.amount)

    @property
    def certificate(self) -> Any:
        """The certificate that takes sales tax away."""
        number = self.request.exemption_certificate or ""
        return known(Input("certificate", number, TEXT, source={"pointer": "/exemption_certificate"}))


@dataclass(eq=False, repr=False)
class RowsLine(BuildLine):
    """Materials or equipment of one part and cost code: the rounded rows summed."""

    rows: Sequence[Any] = ()
    basis_words: str = ""
    has_exact: ClassVar[bool] = False

    @property
    def basis(self) -> str:
        return self.basis_words

    def amount_step(self) -> Step:
        return total, "Σ of the rounded rows with this cost code", *(row.amount for row in self.rows)


@dataclass(eq=False, repr=False)
class StatedLine(BuildLine):
    """A subcontract as the request states it."""

    index: int = 0
    has_exact: ClassVar[bool] = False

    def amount_step(self) -> Step:
        stated = self.request.subcontracts[self.index].amount
        return rounded, f"{self.basis}; rounded once", stated, *self.till.places_and_way


@dataclass(eq=False, repr=False)
class AllowanceLine(BuildLine):
    """A count at a unit price; not marked up."""

    index: int = 0
    words: ClassVar[str] = "count × unit price"

    def exact_step(self) -> Step:
        allowance = self.request.allowances[self.index]
        return product, "count × unit price", allowance.count, allowance.unit_price


@dataclass(eq=False, repr=False)
class ReconciledLine(BuildLine):
    """What an allowance came to, less the allowance; not marked up either."""

    allowed: Any = None
    words: ClassVar[str] = "what the allowance came to − the allowance"

    def exact_step(self) -> Step:
        allowance = self.request.allowances[self.allowed.index]
        actual = allowance.actual
        price = allowance.unit_price if actual.unit_price is None else actual.unit_price
        return product, "actual count × unit price", actual.count, price

    @figure("{s.title}: what it came to", MONEY, step="actual", label="what it came to")
    def actual(self) -> Step:
        return rounded, "actual count × unit price; rounded once", self.exact, *self.till.places_and_way

    def amount_step(self) -> Step:
        return difference, self.words, self.actual, self.allowed.amount


@dataclass(eq=False, repr=False)
class RowLine(BuildLine):
    """A line of an overheads row. row_prefix: of the part whose card has the row; empty: nothing is to be done."""

    row: OverheadRow | None = None
    row_prefix: str = ""
    empty: bool = False

    @property
    def exempt(self) -> bool:
        """Whether a certificate takes the sales tax away."""
        return self.step == "sales_tax" and self.request.exemption_certificate is not None


@dataclass(eq=False, repr=False)
class AmountLine(RowLine):
    """A row that states an amount; hours: of the part or the job, counted: what of them it is paid for each of."""

    hours: Any = None
    counted: str = ""

    @property
    def basis(self) -> str:
        return "an amount" if self.hours is None else f"an amount for each {COUNTED[self.counted]}"

    @property
    def has_exact(self) -> bool:  # type: ignore[override]
        """Whether the amount is worked out, not only stated."""
        return self.hours is not None or self.exempt or self.empty

    def exact_step(self) -> Step:
        if self.hours is not None:
            figure_name, unit = OF_HOURS[self.counted]
            each = called(f"amount for each {COUNTED[self.counted]}", self.row.amount, unit)  # type: ignore[union-attr]
            return product, self.basis, each, getattr(self.hours, figure_name)
        if self.exempt:
            return zero, "0: the exemption certificate takes it away", self.certificate
        return zero, "0: nothing is to be done", NOTHING

    def amount_step(self) -> Step:
        stated = self.exact if self.has_exact else self.row.amount  # type: ignore[union-attr]
        return rounded, f"{self.basis}; rounded once", stated, *self.till.places_and_way


@dataclass(eq=False, repr=False)
class PercentLine(RowLine):
    """A percentage of a base. of: what it stands on, lines or one figure; on: the base's name."""

    on: str = "running"
    of: Sequence[Any] = ()

    @property
    def base_minor(self) -> int:
        """The base in minor units."""
        return self.till.whole(self.base)

    @property
    def basis(self) -> str:
        rate, base = (self.row.rate if self.row else None) or Fraction(0), self.till.text(self.base_minor)
        if self.step != "profit":
            return f"{percent_text(rate)} of {BASE_WORDS[self.on]} {base}"
        kind = self.row.kind if self.row else ""
        of = "the price before bond" if kind == "margin" else self.on.replace("_", " ")
        return f"{kind} {percent_text(rate)} of {of}; cost {base}"

    @figure(lambda s: f"Base of {s.title}: {BASE_WORDS[s.on]}", MONEY)
    def base(self) -> Step:
        if self.exempt:
            return zero, "0: the exemption certificate takes it away", self.certificate
        words = "Σ taxable" if self.on == "taxable_materials" else "Σ of the rounded lines that it stands on"
        return total, words, *(line.amount for line in self.of)

    def exact_step(self) -> Step:
        if self.row is not None and self.row.kind == "margin":
            words = "base × g ÷ (1 − g), g the margin of the price before bond"
            return margin, words, self.base, self.row.percent
        return percent, "base × percent", self.base, self.row.percent  # type: ignore[union-attr]


@dataclass(eq=False, repr=False)
class ItemTaxLine(PercentLine):
    """Sales tax rounded for each item (Streamlined Sales and Use Tax Agreement, section 324), then summed."""

    items: Sequence[Any] = ()
    has_exact: ClassVar[bool] = False

    @property
    def basis(self) -> str:
        return f"{super().basis}, item by item"

    @figures(
        lambda s, k: f"{s.title} on {s.items[k].title} before rounding",
        EXACT_MONEY,
        lambda s: range(len(s.items)),
        "item.{}.exact",
    )
    def exact_taxes(self, k: int) -> Step:
        return percent, "item × percent", self.items[k].amount, self.row.percent  # type: ignore[union-attr]

    @figures(
        lambda s, k: f"{s.title} on {s.items[k].title}",
        MONEY,
        lambda s: range(len(s.items)),
        "item.{}",
        label=lambda s, k: s.items[k].title,
    )
    def taxes(self, k: int) -> Step:
        return rounded, "rounded for this item", self.exact_taxes[k], *self.till.places_and_way

    def amount_step(self) -> Step:
        return total, "Σ of the rounded tax of each item", *self.taxes.values()
