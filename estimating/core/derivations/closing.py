"""The last lines of the build-up: bond and receipts tax on the price that contains them, minimum, rounding up."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node, parameter, zero
from estimating.core.derivations.printing import TEXT
from estimating.core.derivations.steps import Steps
from rates.core.fraction import Fraction
from rates.core.rows import OverheadRow

SOLVED = ("bond", "gross_receipts_tax")


def first_solved(steps: Steps) -> int:
    """The place of the first of bond and receipts tax."""
    return next(i for i, line in enumerate(steps.lines) if line.step in SOLVED)


def row_of_step(steps: Steps, step: str) -> OverheadRow | None:
    """The row of a step that stands at most once."""
    return next((row for row in steps.scope.card.overheads if row.step == step), None)


def tier_inputs(steps: Steps) -> list[Input]:
    """Each tier of the bond as one term: up to which price, and its percentage; the last has no end."""
    row, scope = row_of_step(steps, "bond"), steps.scope
    if row is None:
        return []
    if not row.tiers:
        return [scope.percent_of_table("percent", row.rate or Fraction(0), ("overheads", row.code, "percent"), 0)]
    found = []
    for i, tier in enumerate(row.tiers):
        at = f"tiers/{i}"
        if tier.up_to is not None:
            found.append(scope.table("up to", tier.up_to, scope.exact_money, ("overheads", row.code, f"{at}/up_to"), i))
        found.append(scope.percent_of_table("percent", tier.rate, ("overheads", row.code, f"{at}/percent"), i))
    return found


def tax_input(steps: Steps) -> Input | None:
    """The percentage of the receipts tax."""
    row = row_of_step(steps, "gross_receipts_tax")
    if row is None:
        return None
    return steps.scope.percent_of_table("receipts tax", row.rate or Fraction(0), ("overheads", row.code, "percent"))


def solved_inputs(steps: Steps) -> list[Input]:
    """Base, receipts tax and tiers."""
    tax = tax_input(steps) or parameter("receipts tax", 0)
    return [steps.scope.job_ref("base", "bond.base"), tax, *tier_inputs(steps)]


def solved_price(steps: Steps) -> Fraction:
    """The price that contains bond and tax: the base and both exact amounts."""
    first = first_solved(steps)
    solved = sum((line.exact for line in steps.lines if line.step in SOLVED), Fraction(0))
    return steps.total(range(first)) + solved


def bond_book(steps: Steps) -> Book:
    """The price that contains bond and receipts tax, and its base."""
    if not any(line.step in SOLVED for line in steps.lines):
        return {}
    first = first_solved(steps)
    words = "X with X = base + premium of X by tiers + receipts tax of X"
    return {
        "bond.base": partial(
            steps.sum_node, "Before bond and receipts tax", "Σ of every line above", list(range(first))
        ),
        "bond.price": lambda: Node(
            "Price that contains bond and receipts tax",
            words,
            "price_with_bond_and_tax",
            solved_price(steps),
            steps.scope.exact_money,
            partial(solved_inputs, steps),
        ),
    }


def premium_inputs(steps: Steps) -> list[Input]:
    """Price and tiers."""
    return [steps.scope.job_ref("price", "bond.price"), *tier_inputs(steps)]


def tax_inputs(steps: Steps) -> Sequence[Input]:
    """Price and percentage."""
    tax = tax_input(steps)
    return [steps.scope.job_ref("price", "bond.price"), *([tax] if tax is not None else [])]


def stated(steps: Steps, i: int, name: str) -> Input:
    """The amount of the minimum or of the multiple."""
    row, scope = steps.row(steps.lines[i]), steps.scope
    return scope.table(name, row.amount or Fraction(0), scope.exact_money, ("overheads", row.code, "amount"))


def closing_exact(steps: Steps, i: int) -> Book:
    """The exact amount of one of the closing lines, and what it stands on."""
    line, name, scope = steps.lines[i], f"build_up.{i}", steps.scope
    title, money = f"{line.title} before rounding", scope.exact_money
    if line.step == "bond":
        words = "Σ over tiers of percent × the part of the price in the tier"
        inputs = partial(premium_inputs, steps)
        return {f"{name}.exact": lambda: Node(title, words, "tiered", line.exact, money, inputs)}
    if line.step == "gross_receipts_tax":
        inputs_of_tax = partial(tax_inputs, steps)
        return {f"{name}.exact": lambda: Node(title, "price × percent", "percent", line.exact, money, inputs_of_tax)}
    base = partial(steps.sum_node, "So far", "Σ of every line above", list(range(i)))
    if line.step == "minimum_charge":
        if steps.empty and scope.request.empty_price == "zero":
            reason = scope.asked("price of nothing", "/empty_price", "zero", TEXT)
            return {f"{name}.exact": lambda: zero(title, "nothing is to be done", money, reason)}

        def shortfall() -> list[Input]:
            return [stated(steps, i, "minimum"), scope.job_ref("so far", f"{name}.base")]

        words = "minimum − everything above, at least 0"
        node = partial(Node, title, words, "shortfall", line.exact, money, shortfall)
        return {f"{name}.base": base, f"{name}.exact": node}

    def multiple() -> list[Input]:
        return [scope.job_ref("so far", f"{name}.base"), stated(steps, i, "multiple")]

    words = "what is missing to the next multiple"
    return {f"{name}.base": base, f"{name}.exact": partial(Node, title, words, "round_up", line.exact, money, multiple)}
