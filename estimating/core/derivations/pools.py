"""Direct cost as rates by own use: money for each unit of a material, for each touch minute, and so for each kind."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property, partial

from estimating.core.allocation import pools, share, step_minor
from estimating.core.derivations.nodes import Book, Input, Node
from estimating.core.derivations.printing import MINUTES
from estimating.core.derivations.scope import PartScope, word
from estimating.core.derivations.work import Work
from estimating.core.equipment import EquipmentLine
from estimating.core.materials import MaterialLine
from rates.core.fraction import Fraction


class Pooling:
    """What one part's direct cost is shared out by; amounts in minor units as the allocation has them."""

    def __init__(self, scope: PartScope) -> None:
        self.scope = scope
        self.part = scope.part
        self.lines = scope.estimate.up.lines

    @cached_property
    def materials(self) -> int:
        """Σ of material rows."""
        return sum(m.amount_minor for m in self.part.materials)

    def of_step(self, step: str) -> int:
        """Σ of one step in the part."""
        return step_minor(self.lines, step, self.scope.index)

    def places(self, step: str | None) -> list[int]:
        """Lines of the part, of one step or of all."""
        mine = enumerate(self.lines)
        return [i for i, line in mine if line.part == self.scope.index and step in (None, line.step)]

    @cached_property
    def taxable(self) -> int:
        """Σ of taxable material rows."""
        return sum(m.amount_minor for m in self.part.materials if m.row.taxable)

    @cached_property
    def tax_base(self) -> int:
        """What the sales tax is shared over."""
        return max([self.taxable, *(self.lines[i].base_minor or 0 for i in self.places("sales_tax"))])

    def own(self, line: MaterialLine) -> Fraction:
        """A row with its freight and tax, minor units."""
        amount = line.amount_minor
        own = amount + share(self.of_step("freight"), amount, self.materials)
        return own + (share(self.of_step("sales_tax"), amount, self.tax_base) if line.row.taxable else 0)

    def by_use(self) -> Sequence[MaterialLine]:
        """The rows whose money follows their use; those by the crew-day follow touch minutes."""
        return [m for m in self.part.materials if m.row.per != "crew_day" and m.net]

    def major(self, minor: Fraction) -> Fraction:
        """Minor units in major units."""
        return minor * self.scope.major(1)


def sum_of_lines(pooling: Pooling, title: str, step: str | None) -> Node:
    """Σ of the part's lines."""
    scope, places = pooling.scope, pooling.places(step)
    value = scope.major(sum(pooling.lines[i].amount_minor for i in places))
    words = "Σ of the part's lines" if step is None else "Σ of the part's lines of this step"
    inputs = [(pooling.lines[i].title, f"build_up.{i}") for i in places]
    return Node(title, words, "sum", value, scope.money, lambda: [scope.job_ref(*named) for named in inputs])


def sum_of_rows(pooling: Pooling, title: str, taxable: bool) -> Node:
    """Σ of the part's material rows, or of the taxable ones."""
    scope, minor = pooling.scope, pooling.taxable if taxable else pooling.materials

    def rows() -> list[Input]:
        chosen = [m for m in pooling.part.materials if m.row.taxable or not taxable]
        return [scope.ref(m.row.title, f"material.{word(m.row.code)}.amount") for m in chosen]

    return Node(title, "Σ rows", "sum", scope.major(minor), scope.money, rows)


def totals_book(pooling: Pooling) -> Book:
    """The sums that freight and tax are shared by."""
    scope = pooling.scope

    def bases() -> list[Input]:
        found = [scope.ref("taxable rows", "pool.taxable")]
        based = [i for i in pooling.places("sales_tax") if pooling.lines[i].base_minor is not None]
        return found + [scope.job_ref("base of the tax", f"build_up.{i}.base") for i in based]

    return {
        "pool.freight": partial(sum_of_lines, pooling, "Freight of the part", "freight"),
        "pool.sales_tax": partial(sum_of_lines, pooling, "Sales tax of the part", "sales_tax"),
        "pool.direct": partial(sum_of_lines, pooling, "Direct cost of the part but subcontracts", None),
        "pool.materials": partial(sum_of_rows, pooling, "Material rows of the part", False),
        "pool.taxable": partial(sum_of_rows, pooling, "Taxable material rows of the part", True),
        "pool.tax_base": lambda: Node(
            "What the sales tax is shared over",
            "the largest of the taxable rows and the bases of the tax",
            "maximum",
            scope.major(pooling.tax_base),
            scope.money,
            bases,
        ),
    }


def carried_book(pooling: Pooling, line: MaterialLine) -> Book:
    """The freight and the sales tax that a row carries, where they are not 0."""
    scope, row, code, money = pooling.scope, line.row, word(line.row.code), pooling.scope.exact_money
    name, amount, book = f"pool.material.{code}", f"material.{code}.amount", Book()
    freight = share(pooling.of_step("freight"), line.amount_minor, pooling.materials)
    tax = share(pooling.of_step("sales_tax"), line.amount_minor, pooling.tax_base) if row.taxable else Fraction(0)

    def part_of(total: str, whole: str) -> list[Input]:
        return [scope.ref("total", total), scope.ref("this row", amount), scope.ref("all rows", whole)]

    if freight:
        book[f"{name}.freight"] = lambda: Node(
            f"Freight of {row.title}",
            "freight × this row ÷ all rows",
            "proportion",
            pooling.major(freight),
            money,
            partial(part_of, "pool.freight", "pool.materials"),
        )
    if tax:
        book[f"{name}.sales_tax"] = lambda: Node(
            f"Sales tax of {row.title}",
            "sales tax × this row ÷ what it is shared over",
            "proportion",
            pooling.major(tax),
            money,
            partial(part_of, "pool.sales_tax", "pool.tax_base"),
        )
    return book


def row_book(pooling: Pooling, line: MaterialLine) -> Book:
    """A row with its freight and tax, and what that is for each unit of its net use."""
    scope, row, code = pooling.scope, line.row, word(line.row.code)
    name, amount, money = f"pool.material.{code}", f"material.{code}.amount", scope.exact_money
    own, book = pooling.own(line), carried_book(pooling, line)
    extra = list(book)
    book[f"{name}.cost"] = lambda: Node(
        f"{row.title} with freight and tax",
        "row + its freight + its sales tax",
        "sum",
        pooling.major(own),
        money,
        lambda: [scope.ref("row", amount), *(scope.ref(figure.rsplit(".", 1)[1], figure) for figure in extra)],
    )
    book[name] = lambda: Node(
        f"Money for each unit of {row.title}",
        "row with freight and tax ÷ net quantity",
        "quotient",
        pooling.major(own) / line.net,
        scope.money_for(scope.unit_of(row)),
        lambda: [scope.ref("cost", f"{name}.cost"), scope.ref("net", f"material.{code}.net")],
    )
    return book


def rest_book(pooling: Pooling) -> Book:
    """What is left of direct cost goes by touch minutes."""
    scope, part, estimate = pooling.scope, pooling.part, pooling.scope.estimate
    found = pools(part, scope.index, pooling.lines, estimate.till)
    minutes = part.hours.touch_minutes
    rest = pooling.major(found.by_minutes * minutes) if minutes else pooling.major(Fraction(0))

    def left() -> list[Input]:
        taken = [scope.ref(m.row.title, f"pool.material.{word(m.row.code)}.cost") for m in pooling.by_use()]
        rented = [scope.ref(e.row.title, f"equipment.{word(e.row.code)}.amount") for e in part.equipment]
        return [scope.ref("direct cost", "pool.direct"), *taken, *rented]

    if not minutes:
        return {}
    book: Book = {
        "pool.rest": lambda: Node(
            "Direct cost by touch minutes",
            "direct cost − rows by use − equipment",
            "difference",
            rest,
            scope.exact_money,
            left,
        ),
        "pool.minutes": lambda: Node(
            "Money for each touch minute",
            "rest ÷ touch minutes",
            "quotient",
            rest / minutes,
            scope.money_for("minute"),
            lambda: [scope.ref("rest", "pool.rest"), scope.ref("touch minutes", "touch_minutes")],
        ),
    }
    return book | {f"pool.equipment.{word(e.row.code)}": partial(rental_node, scope, e) for e in part.equipment}


def rental_node(scope: PartScope, line: EquipmentLine) -> Node:
    """A rental row for each touch minute worked from it."""
    name, unit = f"equipment.{word(line.row.code)}", scope.money_for("minute")
    value = scope.major(line.amount_minor) / line.touch_minutes

    def inputs() -> list[Input]:
        return [scope.ref("amount", f"{name}.amount"), scope.ref("touch minutes", f"{name}.touch_minutes")]

    title = f"{line.row.title} for each touch minute worked from it"
    return Node(title, "amount ÷ touch minutes", "quotient", value, unit, inputs)


def pool_book(scope: PartScope) -> Book:
    """Every figure of the part's pools; none where the price goes by touch minutes alone."""
    if scope.request.allocate_by == "touch_minutes":
        return {}
    pooling = Pooling(scope)
    book = totals_book(pooling) | rest_book(pooling)
    for line in pooling.by_use():
        book |= row_book(pooling, line)
    return book


def shared_rate(scope: PartScope) -> Fraction:
    """Subcontracts for each touch minute of the job, major units."""
    minutes = sum((p.hours.touch_minutes for p in scope.estimate.parts), Fraction(0))
    contracts = scope.major(scope.estimate.up.of_step("subcontracts"))
    return contracts / minutes if minutes else Fraction(0)


def weight_inputs(work: Work) -> list[Input]:
    """Every rate with what one opening, or the joints, draw on it."""
    scope, touch = work.scope, f"{work.name}.touch_minutes"
    if scope.request.allocate_by == "touch_minutes":
        return [scope.ref("touch minutes", touch, 0)]
    pairs = [("pool.minutes", touch)] if scope.part.hours.touch_minutes else []
    by_use = {m.row.code for m in Pooling(scope).by_use()}
    pairs += [(f"pool.material.{word(c)}", f"{work.name}.use.{word(c)}") for c, _ in work.use if c in by_use]
    served = [e.row for e in scope.part.equipment if work.access in e.row.for_access]
    pairs += [(f"pool.equipment.{word(row.code)}", touch) for row in served]
    found = []
    if shared_rate(scope):
        rate = scope.job_ref("subcontracts a minute", "pool.subcontracts", len(pairs))
        found = [rate, scope.ref("touch minutes", touch, len(pairs))]
    for term, (rate_figure, drawn) in enumerate(pairs):
        found += [scope.ref("rate", rate_figure, term), scope.ref("drawn", drawn, term)]
    return found


def weight_book(work: Work, weight: Fraction) -> Book:
    """The weight of one opening, or of the joints, when the price is shared out."""
    scope = work.scope
    by_minutes = scope.request.allocate_by == "touch_minutes"
    words = "touch minutes" if by_minutes else "Σ rate × what is drawn on it: direct cost by own use"
    unit = MINUTES if by_minutes else scope.exact_money
    inputs = partial(weight_inputs, work)
    return {
        f"{work.name}.weight": lambda: Node(
            "Weight in the split of the price", words, "sum_of_products", weight, unit, inputs
        )
    }
