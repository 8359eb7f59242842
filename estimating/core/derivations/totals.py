"""Sums over the whole job: openings, perimeter, area, hours of several parts, price of an opening, profit both ways."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from estimating.core.derivations.nodes import Book, Input, Node, constant, parameter, zero
from estimating.core.derivations.printing import AREA, DAYS, HOURS, MINUTES, NUMBER, PERCENT, RUN, Unit
from estimating.core.derivations.scope import PartScope, Scope
from rates.core.fraction import Fraction
from rates.core.rows import OverheadRow


def kind_terms(parts: Sequence[PartScope], figure: str) -> list[Input]:
    """Quantity × a figure of every kind in every part."""
    found, term = [], 0
    for part in parts:
        for kind in part.part.works:
            found.append(part.ref(f"kind {kind}, how many", f"kind.{kind}.quantity", term))
            found.append(part.ref("each", f"kind.{kind}.{figure}", term))
            term += 1
    return found


def quantity_inputs(parts: Sequence[PartScope]) -> list[Input]:
    """The quantity of every kind in every part."""
    return [part.ref(f"kind {kind}", f"kind.{kind}.quantity") for part in parts for kind in part.part.works]


def part_sum(parts: Sequence[PartScope], title: str, figure: str, value: Fraction | int, unit: Unit) -> Node:
    """Σ of one figure over the parts."""

    def inputs() -> list[Input]:
        return [part.ref(f"part {part.index}: {part.part.plan.title or ''}", figure) for part in parts]

    return Node(title, "Σ over the parts", "sum", value, unit, inputs)


def several_book(scope: Scope, parts: Sequence[PartScope]) -> Book:
    """What a job of several parts sums over them (a job of one part has the figures of that part)."""
    if not scope.several:
        return {}
    estimate = scope.estimate
    all_parts = estimate.parts
    paid = sum((p.crew.paid_hours(p.hours.standard) for p in all_parts), Fraction(0))
    sums: tuple[tuple[str, str, Fraction | int, Unit], ...] = (
        ("Standard hours", "hours.standard", estimate.standard_hours, HOURS),
        ("Set-up hours", "hours.setup", sum((p.hours.setup.hours for p in all_parts), Fraction(0)), HOURS),
        ("Touch hours", "hours.touch", sum((p.hours.touch_minutes for p in all_parts), Fraction(0)) / 60, HOURS),
        ("Idle hours", "hours.idle", sum((p.hours.idle_charged_minutes for p in all_parts), Fraction(0)) / 60, HOURS),
        ("Paid hours", "hours.paid", paid, HOURS),
        ("Crew-days", "crew_days", estimate.crew_days, DAYS),
        ("Touch minutes", "touch_minutes", sum((p.hours.touch_minutes for p in all_parts), Fraction(0)), MINUTES),
        (
            "Opening-equivalents",
            "opening_equivalents",
            sum((p.hours.opening_equivalents for p in all_parts), Fraction(0)),
            NUMBER,
        ),
    )
    return {figure: partial(part_sum, parts, title, figure, value, unit) for title, figure, value, unit in sums}


def refs(scope: Scope, *named: tuple[str, str]) -> list[Input]:
    """Figures of the job as inputs."""
    return [scope.job_ref(name, figure) for name, figure in named]


def stated_node(scope: Scope, row: OverheadRow, title: str) -> Node:
    """The percentage that the profit row states."""
    rate = row.rate or Fraction(0)
    given = scope.percent_of_table("percent", rate, ("overheads", row.code, "percent"))
    return Node(title, "as the profit row states it", "given", rate * 100, PERCENT, lambda: [given])


def two_places(scope: Scope, title: str, figure: str, exact: Fraction) -> Node:
    """The other form, at two places."""
    scaled = exact * 100
    value = Fraction((2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator), 100)

    def inputs() -> list[Input]:
        return [scope.job_ref("exact", figure), parameter("decimal places", 2), parameter("rounding", "half_up")]

    return Node(title, "the other form, at two places", "round", value, PERCENT, inputs)


def ratio_book(scope: Scope, name: str, title: str, whole: Fraction) -> Book:
    """Profit over cost, or over cost and profit, where the row states another base."""
    profit = scope.major(scope.estimate.up.profit_minor)
    if not whole:
        return {name: lambda: zero(title, "there is no cost", PERCENT, scope.job_ref("profit", "build_up.profit"))}
    exact = profit / whole * 100
    figure = "cost" if name == "markup_percent" else "margin_percent.whole"
    book: Book = {
        name: partial(two_places, scope, title, f"{name}.exact", exact),
        f"{name}.exact": lambda: Node(
            f"{title}, exact",
            "profit × 100 ÷ whole",
            "proportion",
            exact,
            PERCENT,
            lambda: [
                scope.job_ref("profit", "build_up.profit"),
                constant("per cent", 100),
                scope.job_ref("whole", figure),
            ],
        ),
    }
    if name == "margin_percent":
        book[figure] = lambda: Node(
            "Cost and profit",
            "cost + profit",
            "sum",
            whole,
            scope.money,
            lambda: refs(scope, ("cost", "cost"), ("profit", "build_up.profit")),
        )
    return book


def profit_book(scope: Scope) -> Book:
    """Profit as markup on cost and as margin of cost and profit: the stated one as stated, the other at two places."""
    up = scope.estimate.up
    row, cost, profit = up.profit_row, scope.major(up.cost_minor), scope.major(up.profit_minor)
    markup, margin = "Profit as markup on cost", "Profit as margin of cost and profit"
    if row is None or row.rate is None:
        reason = parameter("no profit row", "none")
        return {
            "markup_percent": lambda: zero(markup, "the edition has no profit row", PERCENT, reason),
            "margin_percent": lambda: zero(margin, "the edition has no profit row", PERCENT, reason),
        }
    rate = row.rate
    if row.kind == "margin" or row.on in ("cost", "running"):
        stated, other = (
            ("margin_percent", "markup_percent") if row.kind == "margin" else ("markup_percent", "margin_percent")
        )
        exact = (rate / (1 - rate) if row.kind == "margin" else rate / (1 + rate)) * 100
        words = "100 m ÷ (100 − m)" if row.kind == "margin" else "100 m ÷ (100 + m)"
        titles = {"markup_percent": markup, "margin_percent": margin}
        return {
            stated: partial(stated_node, scope, row, titles[stated]),
            other: partial(two_places, scope, titles[other], f"{other}.exact", exact),
            f"{other}.exact": lambda: Node(
                f"{titles[other]}, exact",
                words,
                f"{other}_of_other",
                exact,
                PERCENT,
                lambda: [scope.job_ref("stated", stated)],
            ),
        }
    return ratio_book(scope, "markup_percent", markup, cost) | ratio_book(
        scope, "margin_percent", margin, cost + profit
    )


def each_book(scope: Scope) -> Book:
    """Price of an opening, and subcontracts for each touch minute."""
    estimate, book = scope.estimate, Book()
    each = estimate.price_per_opening
    if each is not None:
        book["price_per_opening"] = lambda: Node(
            "Price of an opening",
            "price ÷ openings",
            "quotient",
            each,
            scope.exact_money,
            lambda: refs(scope, ("price", "price"), ("openings", "openings")),
        )
    minutes = sum((p.hours.touch_minutes for p in estimate.parts), Fraction(0))
    contracts = scope.major(estimate.up.of_step("subcontracts"))
    if minutes and contracts and scope.request.allocate_by != "touch_minutes":
        book["pool.subcontracts"] = lambda: Node(
            "Subcontracts for each touch minute",
            "subcontracts ÷ touch minutes of the job",
            "quotient",
            contracts / minutes,
            scope.money_for("minute"),
            lambda: refs(scope, ("subcontracts", "build_up.subcontracts"), ("touch minutes", "touch_minutes")),
        )
    return book


def totals_book(scope: Scope, parts: Sequence[PartScope]) -> Book:
    """Sums of the job."""
    estimate = scope.estimate
    book: Book = {
        "openings": lambda: Node(
            "Openings priced",
            "Σ quantity over kinds",
            "sum",
            estimate.openings,
            NUMBER,
            partial(quantity_inputs, parts),
        ),
        "perimeter": lambda: Node(
            "Perimeter",
            "Σ quantity × perimeter",
            "sum_of_products",
            estimate.perimeter_nm,
            RUN,
            partial(kind_terms, parts, "perimeter"),
        ),
        "treated_area": lambda: Node(
            "Treated area",
            "Σ quantity × treated area",
            "sum_of_products",
            estimate.treated_area_nm2,
            AREA,
            partial(kind_terms, parts, "treated_area"),
        ),
    }
    return book | several_book(scope, parts) | each_book(scope) | profit_book(scope)
