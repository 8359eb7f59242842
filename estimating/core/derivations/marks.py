"""The price of marks and of lines: largest remainder by weight, so that the shares sum to the price."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cached_property, partial

from estimating.core.allocation import JOINTS, Mark, weigh
from estimating.core.derivations.nodes import Book, Input, Node, constant, parameter, zero
from estimating.core.derivations.printing import HOURS, MINUTES, NUMBER, TEXT, Unit
from estimating.core.derivations.scope import PartScope, Scope
from estimating.core.estimate import part_of_lines
from estimating.core.part import Part
from rates.core.money import round_half_up


class Split:
    """The marks of a job, their weights and who owns which line."""

    def __init__(self, scope: Scope, parts: Sequence[PartScope]) -> None:
        self.scope = scope
        self.parts = parts
        self.marks: Sequence[Mark] = scope.estimate.allocation.marks

    @cached_property
    def owner(self) -> Mapping[int, int]:
        """Part index by line index."""
        return part_of_lines(self.scope.estimate.parts)

    @cached_property
    def mark_of(self) -> Mapping[int, int]:
        """Mark index by line index, priced lines only."""
        return {i: m for m, mark in enumerate(self.marks) for i in mark.lines}

    @cached_property
    def weights(self) -> tuple[list[dict[int, Fraction]], list[Fraction]]:
        """Weights of kinds and joints by part, in money (major units) or touch minutes."""
        estimate = self.scope.estimate
        of_kinds, of_joints = weigh(estimate.parts, estimate.up, self.scope.request, estimate.till)
        size = Fraction(1) if self.by_minutes else self.scope.major(1)
        return [{k: w * size for k, w in found.items()} for found in of_kinds], [w * size for w in of_joints]

    @property
    def by_minutes(self) -> bool:
        """Whether the price goes by touch minutes alone."""
        return self.scope.request.allocate_by == "touch_minutes"

    @property
    def unit(self) -> Unit:
        """What weights are in."""
        return MINUTES if self.by_minutes else self.scope.exact_money

    def kind_of(self, i: int) -> tuple[PartScope, int] | None:
        """(part, kind) of a line that is worked, None of one that is not."""
        line, owner = self.scope.request.schedule.lines[i], self.owner.get(i)
        if owner is None or line.kind is None or not line.quantity or not line.priced:
            return None
        part = self.parts[owner]
        return (part, line.kind) if line.kind in part.part.works else None

    def quantity(self, i: int, term: int | None = None) -> Input:
        """The quantity of a line."""
        line = self.scope.request.schedule.lines[i]
        return self.scope.lined(i, f"line {i + 1}", "quantity", line.quantity, NUMBER, term)

    def weight_of(self, i: int) -> Fraction:
        """Quantity × weight of one, of a line that is worked."""
        found = self.kind_of(i)
        if found is None:
            return Fraction(0)
        return self.weights[0][found[0].index][found[1]] * self.scope.request.schedule.lines[i].quantity


def each_times(split: Split, i: int, figure: str) -> list[Input]:
    """Quantity of a line and a figure of one opening."""
    found = split.kind_of(i)
    if found is None:
        raise KeyError(f"line.{i}")
    part, kind = found
    return [split.quantity(i), part.ref("each", f"kind.{kind}.{figure}")]


def unworked_reason(split: Split, i: int) -> Input:
    """Why a line is not worked."""
    line = split.scope.request.schedule.lines[i]
    if line.reason is not None:
        return split.scope.lined(i, "left out", "excluded/reason", line.reason, TEXT)
    if line.alternate is not None:
        return split.scope.lined(i, "alternate", "alternate", line.alternate, TEXT)
    return split.scope.lined(i, "quantity", "quantity", "0", TEXT)


def line_price(split: Split, i: int) -> Node:
    """A line's share of its mark's price."""
    scope, m = split.scope, split.mark_of.get(i)
    title, minor = f"Price of line {i + 1}", scope.estimate.allocation.line_prices[i]
    if m is None or not split.marks[m].price_minor:
        reason = unworked_reason(split, i) if m is None else scope.job_ref("price of the mark", f"mark.{m}.price")
        return zero(title, "not priced" if m is None else "its mark has no price", scope.money, reason)
    lines = split.marks[m].lines

    def inputs() -> list[Input]:
        total = scope.job_ref("price of the mark", f"mark.{m}.price")
        weights = [scope.job_ref(f"line {j + 1}", f"line.{j}.weight") for j in lines]
        return [total, *scope.rounding()[:1], parameter("place", lines.index(i)), *weights]

    words = "the mark's price over its lines by weight, largest remainder"
    return Node(title, words, "largest_remainder", scope.major(minor), scope.money, inputs)


def line_book(split: Split, i: int) -> Book:
    """Every figure of one schedule line; KeyError where there is none."""
    scope, name = split.scope, f"line.{i}"
    line, found = scope.request.schedule.lines[i], split.kind_of(i)
    book: Book = {
        f"{name}.quantity": lambda: Node(
            f"Quantity of line {i + 1}",
            "as the schedule says",
            "given",
            line.quantity,
            NUMBER,
            lambda: [split.quantity(i)],
        ),
        f"{name}.price": partial(line_price, split, i),
    }
    if found is None:
        reason = partial(unworked_reason, split, i)
        book[f"{name}.touch_minutes"] = lambda: zero("Touch minutes", "not worked", MINUTES, reason())
        book[f"{name}.weight"] = lambda: zero("Weight", "not worked", split.unit, reason())
        return book
    part, kind = found
    touch = part.part.works[kind].touch_minutes_each * line.quantity
    book[f"{name}.touch_minutes"] = lambda: Node(
        f"Touch minutes of line {i + 1}",
        "quantity × touch minutes of one",
        "product",
        touch,
        MINUTES,
        partial(each_times, split, i, "touch_minutes"),
    )
    book[f"{name}.weight"] = lambda: Node(
        f"Weight of line {i + 1}",
        "quantity × weight of one",
        "product",
        split.weight_of(i),
        split.unit,
        partial(each_times, split, i, "weight"),
    )
    return book


def joint_parts(split: Split) -> list[PartScope]:
    """The parts that do sheathing joints."""
    return [part for part in split.parts if part.part.joints is not None]


def is_joints(mark: Mark) -> bool:
    """Whether a mark is the sheathing joints, which no line names."""
    return mark.mark == JOINTS and not mark.lines


def mark_sum(split: Split, m: int, figure: str) -> Sequence[Input]:
    """A figure of each line of the mark, or of the joints in each part."""
    if is_joints(split.marks[m]):
        return [part.ref("joints", f"joints.{figure}") for part in joint_parts(split)]
    return [split.scope.job_ref(f"line {i + 1}", f"line.{i}.{figure}") for i in split.marks[m].lines]


def mark_price(split: Split, m: int) -> Node:
    """A mark's share of the price."""
    scope, mark = split.scope, split.marks[m]
    title, value = f"Price of {mark.mark}", scope.major(mark.price_minor)
    if mark.mark is None:
        words = "nothing is worked, so the price stands on no mark"
        return Node("Price on no mark", words, "sum", value, scope.money, lambda: [scope.job_ref("price", "price")])
    if split.marks[-1].mark is None or not scope.estimate.up.price_minor:
        reason = scope.job_ref("price", "price")
        return zero(title, "nothing of it is worked, or there is no price", scope.money, reason)

    def inputs() -> list[Input]:
        weights = [scope.job_ref(str(other.mark), f"mark.{k}.weight") for k, other in enumerate(split.marks)]
        return [scope.job_ref("price", "price"), *scope.rounding()[:1], parameter("place", m), *weights]

    words = "the price over all marks by weight, largest remainder"
    return Node(title, words, "largest_remainder", value, scope.money, inputs)


def unit_price_book(split: Split, m: int) -> Book:
    """Price of one, and what its rounding leaves over; only where there is a quantity."""
    scope, mark, name = split.scope, split.marks[m], f"mark.{m}"
    if not mark.quantity:
        return {}
    exact = scope.major(mark.price_minor) / mark.quantity
    each = scope.major(round_half_up(Fraction(mark.price_minor, mark.quantity)))
    residual = scope.major(mark.price_minor) - each * mark.quantity
    price, quantity = ("price", f"{name}.price"), ("quantity", f"{name}.quantity")

    def rounded() -> list[Input]:
        return [
            scope.job_ref("exact", f"{name}.unit_price.exact"),
            scope.rounding()[0],
            parameter("rounding", "half_up"),
        ]

    return {
        f"{name}.unit_price.exact": lambda: Node(
            f"Price of one {mark.mark} before rounding",
            "price ÷ quantity",
            "quotient",
            exact,
            scope.exact_money,
            lambda: [scope.job_ref(*price), scope.job_ref(*quantity)],
        ),
        f"{name}.unit_price": lambda: Node(
            f"Price of one {mark.mark}", "rounded half up", "round", each, scope.money, rounded
        ),
        f"{name}.residual": lambda: Node(
            f"Left over of {mark.mark}",
            "price − unit price × quantity",
            "residual",
            residual,
            scope.money,
            lambda: [
                scope.job_ref(*price),
                scope.job_ref("unit price", f"{name}.unit_price"),
                scope.job_ref(*quantity),
            ],
        ),
    }


def quantity_node(split: Split, m: int) -> Node:
    """How many openings a mark has; the joints are one."""
    mark = split.marks[m]

    def inputs() -> list[Input]:
        return [parameter("joints", 1)] if is_joints(mark) else [split.quantity(i) for i in mark.lines]

    words = "Σ quantity of the mark's priced lines; sheathing joints count as one"
    return Node(f"Quantity of {mark.mark}", words, "sum", mark.quantity, NUMBER, inputs)


def mark_book(split: Split, m: int) -> Book:
    """Every figure of one mark."""
    scope, mark, name = split.scope, split.marks[m], f"mark.{m}"
    if mark.mark is None:
        return {f"{name}.price": partial(mark_price, split, m)}
    weight = (
        sum(split.weights[1], Fraction(0)) if is_joints(mark) else sum(map(split.weight_of, mark.lines), Fraction(0))
    )
    touch = sum((minutes_of(part.part) for part in joint_parts(split)), Fraction(0))
    touch = touch if is_joints(mark) else mark.touch_minutes

    def hours() -> list[Input]:
        return [scope.job_ref("touch minutes", f"{name}.touch_minutes"), constant("minutes in an hour", 60)]

    book: Book = {
        f"{name}.quantity": partial(quantity_node, split, m),
        f"{name}.touch_minutes": lambda: Node(
            f"Touch minutes of {mark.mark}",
            "Σ of its lines",
            "sum",
            touch,
            MINUTES,
            partial(mark_sum, split, m, "touch_minutes"),
        ),
        f"{name}.hours": lambda: Node(
            f"Hours of {mark.mark}", "touch minutes ÷ 60", "quotient", touch / 60, HOURS, hours
        ),
        f"{name}.weight": lambda: Node(
            f"Weight of {mark.mark}", "Σ of its lines", "sum", weight, split.unit, partial(mark_sum, split, m, "weight")
        ),
        f"{name}.price": partial(mark_price, split, m),
    }
    return book | unit_price_book(split, m)


def minutes_of(part: Part) -> Fraction:
    """Touch minutes of a part's joints."""
    return part.joints.touch_minutes if part.joints is not None else Fraction(0)
