"""Rental of one row: minutes worked from it, days, units, the least-cost mix of periods, deliveries, money."""

from __future__ import annotations

from functools import partial

from estimating.core.derivations.materials import mix_counts
from estimating.core.derivations.nodes import Book, Input, Node, constant, parameter
from estimating.core.derivations.printing import DAYS, MINUTES, NUMBER
from estimating.core.derivations.scope import PartScope, word
from estimating.core.equipment import EquipmentLine, periods


def rental_of(scope: PartScope, code: str) -> EquipmentLine:
    """A rental row of the part by its word; KeyError where none is rented."""
    return {word(line.row.code): line for line in scope.part.equipment}[code]


def touch_terms(scope: PartScope, line: EquipmentLine) -> list[Input]:
    """Quantity × touch minutes of each kind that is worked from the row's access, and the joints."""
    found = []
    for place, (kind, work) in enumerate(scope.part.works.items()):
        if (work.kind.access or "ground") in line.row.for_access:
            found.append(scope.ref(f"kind {kind}, how many", f"kind.{kind}.quantity", place))
            found.append(scope.ref("touch minutes", f"kind.{kind}.touch_minutes", place))
    joints = scope.part.joints
    if joints is not None and joints.access in line.row.for_access:
        found.append(scope.ref("joints", "joints.touch_minutes", len(scope.part.works)))
    return found


def period_inputs(scope: PartScope, line: EquipmentLine) -> list[Input]:
    """Days and price of each rental period as one term."""
    production, found = scope.card.production, []
    for i, pack in enumerate(periods(line.row, production)):
        if pack.label == "day":
            found.append(constant("days in a day of rental", 1, DAYS, i))
        else:
            field = f"days_per_{pack.label}"
            found.append(scope.production(f"days in a {pack.label}", field, pack.size, DAYS, i))
        at = ("equipment", line.row.code, f"rental/{i}/price")
        found.append(scope.table(f"price of a {pack.label}", pack.price, scope.exact_money, at, i))
    return found


def units_node(scope: PartScope, line: EquipmentLine) -> Node:
    """How many units the crew needs."""
    row, title = line.row, f"Units of {line.row.title}"
    if not row.per_workers:
        return Node(title, "one", "given", line.units, NUMBER, lambda: [parameter("one unit", 1)])

    def inputs() -> list[Input]:
        at = ("equipment", row.code, "per_workers")
        return [scope.ref("workers", "crew.workers"), scope.table("workers a unit", row.per_workers or 1, NUMBER, at)]

    return Node(title, "workers ÷ workers a unit, rounded up", "ceiling_quotient", line.units, NUMBER, inputs)


def days_book(scope: PartScope, line: EquipmentLine, name: str) -> Book:
    """Minutes and days."""
    row = line.row

    def exact() -> list[Input]:
        found = [scope.ref("touch minutes", f"{name}.touch_minutes"), constant("minutes in an hour", 60)]
        return [*found, scope.ref("standard hours in a day", "crew.daily_hours")]

    return {
        f"{name}.touch_minutes": lambda: Node(
            f"Touch minutes worked from {row.title}",
            "Σ quantity × touch minutes of the lines with its access",
            "sum_of_products",
            line.touch_minutes,
            MINUTES,
            partial(touch_terms, scope, line),
        ),
        f"{name}.days.exact": lambda: Node(
            f"Days of {row.title} before rounding up",
            "touch minutes ÷ 60 ÷ standard hours in a day",
            "quotient",
            line.exact_days,
            DAYS,
            exact,
        ),
        f"{name}.days": lambda: Node(
            f"Days of {row.title}",
            "rounded up once",
            "ceiling",
            line.days,
            DAYS,
            lambda: [scope.ref("exact days", f"{name}.days.exact")],
        ),
    }


def count_node(scope: PartScope, line: EquipmentLine, place: int, label: str, name: str) -> Node:
    """How many of one rental period."""
    count = mix_counts(line.mix, periods(line.row, scope.card.production))[place]

    def inputs() -> list[Input]:
        return [scope.ref("days", f"{name}.days"), parameter("place", place), *period_inputs(scope, line)]

    words = "periods of the least cost; ties: least left over, then fewest, then the earlier"
    return Node(f"Rental by the {label}", words, "least_cost_count", count, NUMBER, inputs)


def rental_book(scope: PartScope, line: EquipmentLine, name: str) -> Book:
    """Rental of one unit, and deliveries."""
    row, money = line.row, scope.exact_money

    def deliveries() -> list[Input]:
        return [scope.ref("units", f"{name}.units"), scope.ref("mobilisations", "setup.mobilisations")]

    def rental() -> list[Input]:
        return [scope.ref("days", f"{name}.days"), *period_inputs(scope, line)]

    return {
        f"{name}.rental": lambda: Node(
            f"Rental of one unit of {row.title}",
            "periods of the least cost that cover the days",
            "least_cost_packs",
            line.mix.cost,
            money,
            rental,
        ),
        f"{name}.deliveries": lambda: Node(
            f"Deliveries of {row.title}", "units × mobilisations", "product", line.deliveries, NUMBER, deliveries
        ),
    }


def amount_book(scope: PartScope, line: EquipmentLine, name: str) -> Book:
    """The row's money."""
    row, money = line.row, scope.exact_money

    def cost() -> list[Input]:
        found = [scope.ref("rental of a unit", f"{name}.rental", 0), scope.ref("units", f"{name}.units", 0)]
        found.append(scope.ref("deliveries", f"{name}.deliveries", 1))
        return [*found, scope.table("delivery", row.delivery, money, ("equipment", row.code, "delivery"), 1)]

    def rounded() -> list[Input]:
        return [scope.ref("exact", f"{name}.cost"), *scope.rounding(scope.card)]

    return {
        f"{name}.cost": lambda: Node(
            f"{row.title} before rounding",
            "rental × units + deliveries × price of a delivery",
            "sum_of_products",
            line.exact_amount,
            money,
            cost,
        ),
        f"{name}.amount": lambda: Node(
            row.title, "rounded once", "round", scope.major(line.amount_minor), scope.money, rounded
        ),
    }


def equipment_book(scope: PartScope, code: str) -> Book:
    """Every figure of one rental row."""
    line, name = rental_of(scope, code), f"equipment.{code}"
    book: Book = {f"{name}.units": partial(units_node, scope, line)}
    labels = enumerate(period for period, _ in line.row.rental)
    book |= {f"{name}.period.{i}": partial(count_node, scope, line, i, label, name) for i, label in labels}
    book |= days_book(scope, line, name)
    return book | rental_book(scope, line, name) | amount_book(scope, line, name)
