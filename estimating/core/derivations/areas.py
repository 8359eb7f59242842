"""The price for each unit of wall area beside a stated rate, and the count of openings at which the two meet."""

from __future__ import annotations

from collections.abc import Sequence

from estimating.core.derivations.nodes import Book, Input, Node, constant
from estimating.core.derivations.printing import AREA, NUMBER, UNITS, Unit, Value
from estimating.core.derivations.scope import PartScope, Scope, word
from estimating.core.per_area import PerArea, per_area
from rates.core.fraction import Fraction
from rates.core.units import AREA_NM2

FIXED_WORDS = "Σ set-up hours × cost of a standard hour + Σ deliveries × price of a delivery + Σ subcontracts"


def fixed_cost_inputs(scope: Scope, parts: Sequence[PartScope]) -> list[Input]:
    """What does not grow with the count of openings."""
    found: list[Input] = []
    for part in parts:
        found.append(part.ref("set-up hours", "hours.setup", len(found)))
        found.append(part.ref("cost of a standard hour", "hour_cost", len(found) - 1))
    for part in parts:
        for line in part.part.equipment:
            term, at = len(found), ("equipment", line.row.code, "delivery")
            found.append(part.ref("deliveries", f"equipment.{word(line.row.code)}.deliveries", term))
            found.append(part.table("delivery", line.row.delivery, scope.exact_money, at, term))
    for i, contract in enumerate(scope.request.subcontracts):
        pointer = f"/subcontracts/{i}/amount"
        found.append(scope.asked(contract.title, pointer, contract.amount, scope.exact_money, len(found)))
    return found


def fixed_cost(scope: Scope, parts: Sequence[PartScope]) -> Fraction:
    """Σ of fixed_cost_inputs, major units."""
    setup = sum((p.part.hours.setup.hours * p.part.crew.standard_hour_cost for p in parts), Fraction(0))
    delivery = sum((e.row.delivery * e.deliveries for p in parts for e in p.part.equipment), Fraction(0))
    return setup + delivery + sum((s.amount for s in scope.request.subcontracts), Fraction(0))


class AreaBook:
    """The figures of one comparison with a price per area."""

    def __init__(self, scope: Scope, parts: Sequence[PartScope], found: PerArea) -> None:
        self.scope, self.parts, self.found = scope, parts, found
        self.area_unit = UNITS[scope.request.units]["area"]
        self.area = found.wall_area_nm2 / AREA_NM2[self.area_unit]
        self.price = scope.major(scope.estimate.up.price_minor)
        self.fixed = fixed_cost(scope, parts)

    def node(self, title: str, words: str, rule: str, value: Value, unit: Unit, *names: tuple[str, str]) -> Node:
        """A node over figures of the job."""
        return Node(title, words, rule, value, unit, lambda: [self.scope.job_ref(*named) for named in names])

    def rate(self) -> Input:
        """The stated rate."""
        unit = self.scope.money_for(self.area_unit)
        return self.scope.asked("stated rate", "/stated_rate", self.found.stated_rate or Fraction(0), unit)

    def plain(self) -> Book:
        """Wall area and the price for it."""
        scope, found, name = self.scope, self.found, "per_area"
        wall = scope.asked("wall area", "/wall_area", found.wall_area_nm2, AREA)
        size = constant(f"nm2 in 1 {self.area_unit}", AREA_NM2[self.area_unit])
        return {
            f"{name}.area": lambda: Node(
                "Wall area",
                "in the units of the answer",
                "quotient",
                self.area,
                Unit(self.area_unit, "number"),
                lambda: [wall, size],
            ),
            f"{name}.price_per_area": lambda: self.node(
                "Price for the wall area",
                "price ÷ wall area",
                "quotient",
                found.price_per_area,
                scope.money_for(self.area_unit),
                ("price", "price"),
                ("wall area", f"{name}.area"),
            ),
        }

    def fixed_part(self) -> Book:
        """What of the price does not grow with the count of openings."""
        scope, found, name = self.scope, self.found, "per_area"
        price = ("price", "price")
        rule, names = "proportion", [("fixed cost", f"{name}.fixed_cost"), price, ("direct cost", "direct_cost")]
        if not scope.estimate.up.direct_minor:
            rule, names = "sum", [price]
        return {
            f"{name}.fixed_cost": lambda: Node(
                "Cost that does not grow with the count",
                FIXED_WORDS,
                "sum_of_products",
                self.fixed,
                scope.exact_money,
                lambda: fixed_cost_inputs(scope, self.parts),
            ),
            f"{name}.fixed_price": lambda: self.node(
                "Fixed part of the price",
                "fixed cost × price ÷ direct cost",
                rule,
                found.fixed_price,
                scope.exact_money,
                *names,
            ),
        }

    def stated(self) -> Book:
        """The stated price and how far the estimate is from it."""
        scope, found, name = self.scope, self.found, "per_area"
        if found.stated_rate is None or found.stated_minor is None:
            return {}
        exact, rounded = found.stated_rate * self.area, scope.major(found.stated_minor)
        return {
            f"{name}.stated_price.exact": lambda: Node(
                "Stated price before rounding",
                "stated rate × wall area",
                "product",
                exact,
                scope.exact_money,
                lambda: [self.rate(), scope.job_ref("wall area", f"{name}.area")],
            ),
            f"{name}.stated_price": lambda: Node(
                "Stated price",
                "rounded once",
                "round",
                rounded,
                scope.money,
                lambda: [scope.job_ref("exact", f"{name}.stated_price.exact"), *scope.rounding()],
            ),
            f"{name}.difference": lambda: self.node(
                "Price over the stated price",
                "price − stated price",
                "difference",
                self.price - rounded,
                scope.money,
                ("price", "price"),
                ("stated price", f"{name}.stated_price"),
            ),
        }

    def meeting(self) -> Book:
        """The price of one more opening."""
        scope, found, name = self.scope, self.found, "per_area"
        if found.price_each is None:
            return {}
        growing = self.price - found.fixed_price
        return {
            f"{name}.growing_price": lambda: self.node(
                "Part of the price that grows with the count",
                "price − fixed part",
                "difference",
                growing,
                scope.exact_money,
                ("price", "price"),
                ("fixed part", f"{name}.fixed_price"),
            ),
            f"{name}.price_each": lambda: self.node(
                "Price of one more opening",
                "growing part ÷ openings",
                "quotient",
                found.price_each or 0,
                scope.exact_money,
                ("growing part", f"{name}.growing_price"),
                ("openings", "openings"),
            ),
        }

    def break_even(self) -> Book:
        """The count at which both bids are equal."""
        scope, found, name = self.scope, self.found, "per_area"
        book: Book = {}
        if found.break_even_openings is not None and found.stated_rate is not None:
            room = max(Fraction(0), found.stated_rate * self.area - found.fixed_price)
            book[f"{name}.room"] = lambda: self.node(
                "Stated price over the fixed part",
                "stated price − fixed part, at least 0",
                "shortfall",
                room,
                scope.exact_money,
                ("stated price", f"{name}.stated_price.exact"),
                ("fixed part", f"{name}.fixed_price"),
            )
            book[f"{name}.break_even_openings"] = lambda: self.node(
                "Openings at which both bids are equal",
                "stated price over the fixed part ÷ price of one more",
                "quotient",
                found.break_even_openings or 0,
                NUMBER,
                ("room", f"{name}.room"),
                ("price of one more", f"{name}.price_each"),
            )
        return book


def area_book(scope: Scope, parts: Sequence[PartScope]) -> Book:
    """Every figure of the comparison; none where the request gives no wall area."""
    found = per_area(scope.estimate)
    if found is None:
        return {}
    books = AreaBook(scope, parts, found)
    return books.plain() | books.fixed_part() | books.stated() | books.meeting() | books.break_even()
