"""From direct cost to price: overheads, contingency, profit, allowances, bond and receipts tax, minimum, rounding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimating.core.bond import Tier, solve_price
from estimating.core.direct import (
    DIRECT_STEPS,
    BuildLine,
    Till,
    amount_line,
    direct_lines,
    percent_text,
    rate_line,
    total,
)
from estimating.core.part import Part
from estimating.core.request import Request
from rates.core.card import Card
from rates.core.fraction import Fraction
from rates.core.rows import OverheadRow


@dataclass(frozen=True)
class BuildUp:
    """The ordered lines and the sums that they pass, all in minor units."""

    lines: tuple[BuildLine, ...]
    direct_minor: int
    cost_minor: int
    price_minor: int
    profit_minor: int
    profit_row: OverheadRow | None

    def of_step(self, step: str) -> int:
        """Σ of one step."""
        return total([line for line in self.lines if line.step == step])


@dataclass(frozen=True)
class Desk:
    """What the steps above direct cost are worked with."""

    card: Card
    request: Request
    till: Till
    paid_hours: Fraction
    empty: bool
    smooth: bool


def base_minor(name: str, lines: Sequence[BuildLine]) -> int:
    """A base as the sum of the rounded lines so far."""
    if name in ("running", "cost"):
        return total(lines)
    steps: tuple[str, ...] = (name,)
    if name in ("direct_cost", "direct_cost_and_overhead"):
        steps = DIRECT_STEPS if name == "direct_cost" else (*DIRECT_STEPS, "overhead")
    return total([line for line in lines if line.step in steps])


def overhead_lines(desk: Desk, lines: list[BuildLine]) -> None:
    """Overhead and contingency rows in their order."""
    for row in desk.card.overheads:
        if row.step not in ("overhead", "contingency"):
            continue
        if row.rate is not None:
            lines.append(rate_line(row, base_minor(row.on or "running", lines), desk.till, None))
        elif row.on == "paid_hours":
            exact = (row.amount or Fraction(0)) * desk.paid_hours
            lines.append(amount_line(row, exact, "an amount for each paid hour", desk.till, None))
        else:
            exact = Fraction(0) if desk.empty else row.amount or Fraction(0)
            lines.append(amount_line(row, exact, "an amount", desk.till, None))


def profit_line(row: OverheadRow, lines: Sequence[BuildLine], till: Till) -> BuildLine:
    """Markup C·m, or margin C·g/(1 − g), on rounded sums."""
    base, rate = base_minor(row.on or "cost", lines), row.rate or Fraction(0)
    exact = till.major(base) * (rate / (1 - rate) if row.kind == "margin" else rate)
    of = "the price before bond" if row.kind == "margin" else (row.on or "cost").replace("_", " ")
    basis = f"{row.kind} {percent_text(rate)} of {of}; cost {till.text(base)}"
    amount = till.minor(exact)
    return BuildLine("profit", row.title, basis, exact, amount, row.cost_code, None, row.code, None, base)


def allowance_lines(request: Request, till: Till) -> list[BuildLine]:
    """Count × unit price of each allowance; not marked up."""
    lines = []
    for i, a in enumerate(request.allowances):
        exact = a.count * a.unit_price
        basis = "count × unit price"
        lines.append(BuildLine("allowances", a.title, basis, exact, till.minor(exact), a.cost_code, None, None, i))
    return lines


def row_of(card: Card, step: str) -> OverheadRow | None:
    """The row of a step that stands at most once."""
    return next((row for row in card.overheads if row.step == step), None)


def price_based_lines(desk: Desk, base: int) -> list[BuildLine]:
    """Bond and gross receipts tax on the price that contains them, each rounded from the exact solution."""
    bond, tax = row_of(desk.card, "bond"), row_of(desk.card, "gross_receipts_tax")
    if bond is None and tax is None:
        return []
    tiers: tuple[Tier, ...] = (Tier(None, Fraction(0)),)
    if bond is not None:
        stated = tuple(Tier(t.up_to, t.rate) for t in bond.tiers or ())
        tiers = stated or (Tier(None, bond.rate or Fraction(0)),)
    tax_rate = tax.rate or Fraction(0) if tax is not None else Fraction(0)
    solved = solve_price(desk.till.major(base), tiers, tax_rate)
    lines = []
    for row, exact, words in ((bond, solved.bond, "bond"), (tax, solved.tax, "receipts tax")):
        if row is not None:
            basis = f"{words} on the price that contains it, before minimum and rounding"
            amount = desk.till.minor(exact)
            lines.append(
                BuildLine(row.step, row.title, basis, exact, amount, row.cost_code, None, row.code, None, base)
            )
    return lines


def closing_lines(desk: Desk, lines: list[BuildLine]) -> None:
    """Minimum charge and rounding up, lines of their own."""
    minimum, step = row_of(desk.card, "minimum_charge"), row_of(desk.card, "round_up_to")
    if desk.smooth:
        return
    if minimum is not None:
        so_far = desk.till.major(total(lines))
        wanted = Fraction(0) if desk.empty and desk.request.empty_price == "zero" else minimum.amount or Fraction(0)
        exact = max(Fraction(0), wanted - so_far)
        stated = desk.till.text(desk.till.minor(minimum.amount or Fraction(0)))
        basis = f"up to {stated}" if wanted or not minimum.amount else f"{stated} waived, as nothing is to be done"
        lines.append(amount_line(minimum, exact, basis, desk.till, None))
    if step is not None and step.amount:
        so_far = desk.till.major(total(lines))
        exact = -(-so_far // step.amount) * step.amount - so_far
        basis = f"up to a multiple of {desk.till.text(desk.till.minor(step.amount))}"
        lines.append(amount_line(step, exact, basis, desk.till, None))


def build_up(parts: Sequence[Part], request: Request, card: Card, *, empty: bool, smooth: bool) -> BuildUp:
    """The whole build-up; `empty`: nothing is to be done; `smooth`: no minimum and no rounding up."""
    till = Till.of(card)
    paid = sum((part.crew.paid_hours(part.hours.standard) for part in parts), Fraction(0))
    desk = Desk(card, request, till, paid, empty, smooth)
    lines = direct_lines(parts, request, till, empty)
    direct = total(lines)
    overhead_lines(desk, lines)
    cost = total(lines)
    profit = row_of(card, "profit")
    profit_minor = 0
    if profit is not None:
        line = profit_line(profit, lines, till)
        profit_minor = line.amount_minor
        lines.append(line)
    lines += allowance_lines(request, till)
    lines += price_based_lines(desk, total(lines))
    closing_lines(desk, lines)
    return BuildUp(tuple(lines), direct, cost, total(lines), profit_minor, profit)
