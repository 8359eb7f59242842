"""Direct cost: labour, materials, freight, sales tax, equipment, small tools, subcontracts, in that order.

Each line is rounded once; a percent row is worked on rounded sums; a step with several cost codes is several lines.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from estimating.core.part import Part
from estimating.core.request import Request
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.money import allocate, print_money, round_to_minor, to_major
from rates.core.rows import OverheadRow

STEP_ORDER = (
    "labour",
    "materials",
    "freight",
    "sales_tax",
    "equipment",
    "small_tools",
    "subcontracts",
    "overhead",
    "contingency",
    "profit",
    "allowances",
    "bond",
    "gross_receipts_tax",
    "minimum_charge",
    "round_up_to",
)
DIRECT_STEPS = STEP_ORDER[:7]


@dataclass(frozen=True)
class BuildLine:
    """One line of the build-up: `exact` in major units before its one rounding, `amount_minor` after.

    part: index of the part it belongs to, None for the job; row: code of the overheads row; index: of a request entry.
    """

    step: str
    title: str
    basis: str
    exact: Fraction
    amount_minor: int
    cost_code: str | None
    part: int | None = None
    row: str | None = None
    index: int | None = None
    base_minor: int | None = None


@dataclass(frozen=True)
class Till:
    """How this job's money is rounded."""

    currency: str
    rounding: str
    written: dict[int, str] = field(default_factory=dict, compare=False, repr=False)  # amounts recur in long lists

    @staticmethod
    def of(card: Card) -> Till:
        """The card's currency and rounding."""
        return Till(card.currency, card.rounding)

    def minor(self, exact: Fraction) -> int:
        """Major units rounded once to minor units."""
        return round_to_minor(exact, self.currency, self.rounding)

    def major(self, minor: int) -> Fraction:
        """Minor units as an exact amount."""
        return to_major(minor, self.currency)

    def text(self, minor: int) -> str:
        """As printed."""
        text = self.written.get(minor)
        if text is None:
            text = self.written[minor] = print_money(minor, self.currency)
        return text


def percent_text(rate: Fraction) -> str:
    """A rate as a percentage in words, every place that it has."""
    hundredfold = rate * 100
    scaled = hundredfold * 10**12
    digits = f"{int(scaled) // 10**12}.{int(scaled) % 10**12:012d}".rstrip("0").rstrip(".")
    return f"{digits} %"


BASE_WORDS = {
    "labour": "labour",
    "materials": "materials",
    "taxable_materials": "taxable materials",
    "equipment": "equipment",
    "direct_cost": "direct cost",
    "direct_cost_and_overhead": "direct cost and overhead",
    "running": "everything above",
    "cost": "cost",
    "price": "price",
}


def rate_line(row: OverheadRow, base_minor: int, till: Till, part: int | None) -> BuildLine:
    """A percent row on its base, rounded once."""
    rate = row.rate or Fraction(0)
    exact = rate * till.major(base_minor)
    basis = f"{percent_text(rate)} of {BASE_WORDS[row.on or 'running']} {till.text(base_minor)}"
    return BuildLine(
        row.step, row.title, basis, exact, till.minor(exact), row.cost_code, part, row.code, None, base_minor
    )


def amount_line(row: OverheadRow, exact: Fraction, basis: str, till: Till, part: int | None) -> BuildLine:
    """A row that states an amount."""
    return BuildLine(row.step, row.title, basis, exact, till.minor(exact), row.cost_code, part, row.code)


def labour_lines(part: Part, index: int, till: Till) -> list[BuildLine]:
    """Labour rounded once, then over the crew's cost codes by count × hour rate, largest remainder."""
    hours = part.hours.standard
    exact = hours * part.crew.standard_hour_cost
    total = till.minor(exact)
    weights: dict[str | None, Fraction] = {}
    for row, count in part.crew.members:
        weights[row.cost_code] = weights.get(row.cost_code, Fraction(0)) + count * part.crew.rate(row)
    amounts = allocate(total, list(weights.values()))
    return [
        BuildLine("labour", "Labour", "standard hours × cost of a standard hour", exact, amount, code, index)
        for code, amount in zip(weights, amounts, strict=True)
    ]


def by_code(
    step: str, title: str, basis: str, rows: Sequence[tuple[str | None, Fraction, int]], index: int
) -> list[BuildLine]:
    """Rounded rows summed for each cost code; a line of 0 where there is no row."""
    sums: dict[str | None, tuple[Fraction, int]] = {}
    for code, exact, amount in rows:
        so_far = sums.get(code, (Fraction(0), 0))
        sums[code] = (so_far[0] + exact, so_far[1] + amount)
    if not sums:
        sums[None] = (Fraction(0), 0)
    return [BuildLine(step, title, basis, exact, amount, code, index) for code, (exact, amount) in sums.items()]


def material_build(part: Part, index: int) -> list[BuildLine]:
    """Materials by cost code."""
    rows = [(m.row.cost_code, m.exact_amount, m.amount_minor) for m in part.materials]
    return by_code("materials", "Materials", "packs at their prices, each row rounded", rows, index)


def equipment_build(part: Part, index: int) -> list[BuildLine]:
    """Equipment by cost code."""
    rows = [(e.row.cost_code, e.exact_amount, e.amount_minor) for e in part.equipment]
    return by_code("equipment", "Equipment", "rental and delivery, each row rounded", rows, index)


def total(lines: Sequence[BuildLine]) -> int:
    """Σ amounts, minor units."""
    return sum(line.amount_minor for line in lines)


@dataclass(frozen=True)
class PartDesk:
    """What the percent rows of one part are worked with; `adjust` gives a row's line its last form."""

    card: Card
    till: Till
    part: int
    empty: bool
    bases: Callable[[str], int]

    def add(self, step: str, lines: list[BuildLine], adjust: Callable[[OverheadRow, BuildLine], BuildLine]) -> None:
        """Add every row of a direct step that is a rate or an amount; a later row on `running` sees the earlier."""
        for row in self.card.overheads:
            if row.step != step:
                continue
            if row.rate is not None:
                line = rate_line(row, self.bases(row.on or "running"), self.till, self.part)
                lines.append(adjust(row, line))
            else:
                exact = Fraction(0) if self.empty or row.amount is None else row.amount
                lines.append(amount_line(row, exact, "an amount", self.till, self.part))


def as_it_is(_: OverheadRow, line: BuildLine) -> BuildLine:
    """The line without adjustment."""
    return line


def taxable_minor(part: Part, request: Request, till: Till, first: bool) -> int:
    """Taxable material rows, and in the first part the taxable subcontracts."""
    materials = sum(m.amount_minor for m in part.materials if m.row.taxable)
    contracts = sum(till.minor(s.amount) for s in request.subcontracts if s.taxable) if first else 0
    return materials + contracts


@dataclass(frozen=True)
class TaxItem:
    """One thing that sales tax falls on where it is worked item by item: a materials or equipment row, a subcontract.

    family material, equipment or subcontract; key the row's code or the subcontract's place in the request.
    """

    title: str
    family: str
    key: str | int
    amount_minor: int


def tax_items(on: str, part: Part, request: Request, till: Till, first: bool) -> list[TaxItem]:
    """What a base consists of, item by item; the taxable subcontracts belong to the first part."""
    if on == "equipment":
        return [TaxItem(e.row.title, "equipment", e.row.code, e.amount_minor) for e in part.equipment]
    taxed = [m for m in part.materials if m.row.taxable or on == "materials"]
    items = [TaxItem(m.row.title, "material", m.row.code, m.amount_minor) for m in taxed]
    if on == "taxable_materials" and first:
        contracts = [(i, s) for i, s in enumerate(request.subcontracts) if s.taxable]
        items += [TaxItem(s.title, "subcontract", i, till.minor(s.amount)) for i, s in contracts]
    return items


def is_by_item(row: OverheadRow, card: Card) -> bool:
    """Whether a row is sales tax rounded for each item (Streamlined Sales and Use Tax Agreement, section 324)."""
    of_items = row.on in ("taxable_materials", "materials", "equipment")
    return card.sales_tax_by == "item" and row.step == "sales_tax" and row.rate is not None and of_items


def by_item_line(line: BuildLine, row: OverheadRow, items: Sequence[TaxItem], till: Till) -> BuildLine:
    """The line with the tax of each item rounded on its own, then summed."""
    taxes = [till.minor((row.rate or Fraction(0)) * till.major(item.amount_minor)) for item in items]
    amount = sum(taxes)
    return replace(line, basis=f"{line.basis}, item by item", exact=till.major(amount), amount_minor=amount)


def part_lines(part: Part, index: int, request: Request, till: Till, empty: bool) -> list[BuildLine]:
    """The direct lines of one part, from labour to small tools, by the part's own card."""
    card = part.plan.card
    labour, materials = labour_lines(part, index, till), material_build(part, index)
    equipment = equipment_build(part, index)
    taxable = taxable_minor(part, request, till, index == 0)
    lines = [*labour, *materials]

    def base(name: str) -> int:
        known = {"labour": labour, "materials": materials, "equipment": equipment, "running": lines}
        return taxable if name == "taxable_materials" else total(known[name])

    def taxed(row: OverheadRow, line: BuildLine) -> BuildLine:
        if not is_by_item(row, card):
            return line
        return by_item_line(line, row, tax_items(row.on or "", part, request, till, index == 0), till)

    desk = PartDesk(card, till, index, empty, base)
    desk.add("freight", lines, as_it_is)
    if request.exemption_certificate is None:
        desk.add("sales_tax", lines, taxed)
    else:
        replace(desk, empty=True, bases=lambda name: 0).add("sales_tax", lines, as_it_is)
    lines += equipment
    desk.add("small_tools", lines, as_it_is)
    return lines


def subcontract_lines(request: Request, till: Till) -> list[BuildLine]:
    """Each subcontract as the request states it."""
    return [
        BuildLine("subcontracts", s.title, "as quoted", s.amount, till.minor(s.amount), s.cost_code, None, None, i)
        for i, s in enumerate(request.subcontracts)
    ]


def direct_lines(parts: Sequence[Part], request: Request, till: Till, empty: bool) -> list[BuildLine]:
    """All direct lines in the order of steps, whatever the order of rows."""
    lines = [line for i, part in enumerate(parts) for line in part_lines(part, i, request, till, empty)]
    lines += subcontract_lines(request, till)
    return sorted(lines, key=lambda line: STEP_ORDER.index(line.step))
